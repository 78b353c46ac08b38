"""The export step: what is minded before anything is cut, and whose word comes first."""

from dataclasses import replace

import pytest
from PySide6.QtWidgets import QLabel

from app.desk.kit_card import FIRST
from core.findings import Finding, Level
from core.paper.hazards import SENTENCES, Hazard
from core.sheet.material import material_named
from tests.support.hands import answers


def said(window):
    window.ask_for_kit()
    return " ".join(label.text() for label in window.popover.findChildren(QLabel))


def with_findings(window, stand_ins, qtbot, *levels):
    shown = window.desk.shown
    found = tuple(Finding(level, "made-up", "Something.", "Do.") for level in levels)
    window.desk.propose("bit.flutes", "2")
    answers(window, stand_ins[-1], replace(shown, findings=found), qtbot)


def test_the_cautions_of_router_and_cutter_stand_there_and_defer_to_the_makers(at_work):
    words = said(at_work)
    needed = (Hazard.EYES, Hazard.LOOSE_PARTS, Hazard.ATTENDANCE, Hazard.FUMES, Hazard.VINYL, Hazard.BLADES)
    assert all(SENTENCES[hazard] in words for hazard in needed)
    assert FIRST in words


def test_cautions_that_were_found_are_counted(at_work, stand_ins, qtbot):
    with_findings(at_work, stand_ins, qtbot, Level.CAUTION, Level.CAUTION, Level.NOTE)
    assert "2 cautions stand in the column" in said(at_work)


def test_where_there_is_no_program_nothing_is_said_of_the_router(at_work, stand_ins, qtbot):
    with_findings(at_work, stand_ins, qtbot, Level.STOP)
    words = said(at_work)
    assert "no router program: one finding stops it" in words
    assert SENTENCES[Hazard.EYES] not in words
    assert SENTENCES[Hazard.BLADES] in words


def test_wood_is_told_of_its_dust_and_not_of_fumes(at_work, stand_ins, qtbot):
    shown = at_work.desk.shown
    cutting = replace(shown.setup.cutting, material=material_named("MDF"))
    at_work.desk.propose("bit.flutes", "2")
    wood = replace(shown, setup=replace(shown.setup, cutting=cutting))
    answers(at_work, stand_ins[-1], wood, qtbot)
    words = said(at_work)
    assert SENTENCES[Hazard.WOOD_DUST] in words
    assert SENTENCES[Hazard.FUMES] not in words


@pytest.mark.parametrize(
    ("height", "told"), [("118 mm", "x 25.40   y 50.80 mm"), ("4,5 in", "x 1.000   y 2.000 in")]
)
def test_places_are_told_in_the_unit_that_the_height_was_typed_in(at_work, height, told):
    at_work.desk.propose("shape.height", height)
    at_work.status.point((25.4, 50.8))
    assert at_work.status._pointer.text() == told


def test_a_decimal_comma_is_taken_and_stays_as_it_was_typed(at_work):
    at_work.desk.propose("bit.diameter", "1,97 mm")
    assert at_work.desk.job.bit.diameter.value == 1.97
    assert at_work.strip.brackets["bit"].text().startswith("a 1,97 mm bit")
    at_work.open_choice("bit.diameter")
    assert at_work.popover.controls["bit.diameter"].field.text() == "1,97 mm"
    assert at_work.popover.controls["bit.diameter"]._other.text() == "0.078 in"
