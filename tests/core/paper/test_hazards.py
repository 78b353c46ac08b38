"""Every caution stands at its step: an audit of each hazard in each order of work."""

from dataclasses import replace

import pytest

from core.paper.hazards import SENTENCES, Hazard
from core.paper.job_sheet import job_sheet_pages
from core.paper.order import FrameWork, in_its_frame
from core.paper.order_on_sheet import SheetWork, on_sheet_first
from tests.core.paper.test_job_sheet import sheet_of, words_on

PLASTIC = FrameWork(
    "part.nc", "lap.nc", "corner", "stock top", 0.1, "paper", "2 mm", "program", 10000, 3.0,
    "upper left", "left", 6, is_punched=False, is_behind=False,
)  # fmt: skip
PUNCHED, WOOD = (
    replace(PLASTIC, is_punched=True),
    replace(PLASTIC, is_wood=True, cracks=False, is_punched=True),
)
OPENED = replace(PLASTIC, break_count=2, break_left_mm=1.0)
ON_SHEET = SheetWork(PLASTIC, ((0.0, 0.0), (9.0, 9.0)), ())

#: Where each stands: words of its step, and an order of work that has it.
STANDS = {
    Hazard.CLAMPS: ("Clamp or tape", PLASTIC),
    Hazard.BIT_CHANGE: ("Put in the bit", PLASTIC),
    Hazard.EYES: ("Put on what protects you", PLASTIC),
    Hazard.HEARING: ("Put on what protects you", PLASTIC),
    Hazard.CLOTHING: ("Put on what protects you", PLASTIC),
    Hazard.STOP_KNOWN: ("Put on what protects you", PLASTIC),
    Hazard.FUMES: ("start the extraction", PLASTIC),
    Hazard.WOOD_DUST: ("start the extraction", WOOD),
    Hazard.FIRE: ("start the extraction", PLASTIC),
    Hazard.ATTENDANCE: ("Run part.nc", PLASTIC),
    Hazard.DISTANCE: ("Run part.nc", PLASTIC),
    Hazard.LOOSE_PARTS: ("Run part.nc", PLASTIC),
    Hazard.RUBBING: ("Run part.nc", PLASTIC),
    Hazard.RUN_DOWN: ("Wait until the spindle stands", PLASTIC),
    Hazard.CHIPS: ("Wait until the spindle stands", PLASTIC),
    Hazard.SMOULDER: ("Wait until the spindle stands", PLASTIC),
    Hazard.CUTTER_HEAD: ("then the film, marks and all", PLASTIC),
    Hazard.VINYL: ("then the film, marks and all", PLASTIC),
    Hazard.BLADES: ("Weed the waste", PLASTIC),
    Hazard.SOLVENTS: ("Peel the masking", PLASTIC),
    Hazard.WET: ("mist it with water", PLASTIC),
    Hazard.PUNCH: ("Punch out the three rings", PUNCHED),
    Hazard.SPLINTERS: ("Snap the frame at the 2 break cuts", OPENED),
    Hazard.KNIFE_AWAY: ("Cut the 6 tabs", PLASTIC),
    Hazard.SHARP_STUBS: ("Cut the 6 tabs", PLASTIC),
    Hazard.FLAME: ("dress the stubs", PLASTIC),
}


def steps(stages):
    return [step for stage in stages for step in stage.steps]


@pytest.mark.parametrize("hazard", list(Hazard))
def test_a_caution_stands_at_its_step_and_on_the_page(hazard):
    words, work = STANDS[hazard]
    (step,) = (step for step in steps(in_its_frame(work)) if words in step.words)
    assert hazard in step.hazards
    assert SENTENCES[hazard] in step.care
    assert SENTENCES[hazard] in words_on(job_sheet_pages(sheet_of(stages=in_its_frame(work))))


@pytest.mark.parametrize("work", [PLASTIC, PUNCHED, WOOD, replace(PLASTIC, skin_mm=0.5, tab_count=0)])
def test_no_order_of_work_leaves_out_what_always_matters(work):
    """What depends on the stock or on the way to see marks apart, all stand in every order."""
    depends = {Hazard.FUMES, Hazard.WOOD_DUST, Hazard.SOLVENTS, Hazard.WET, Hazard.PUNCH, Hazard.FLAME,
               Hazard.SHARP_STUBS, Hazard.SPLINTERS}  # fmt: skip
    for stages in (in_its_frame(work), on_sheet_first(SheetWork(work, ON_SHEET.marks, ()))):
        told = {hazard for step in steps(stages) for hazard in step.hazards}
        assert set(Hazard) - depends <= told


def test_wood_is_not_spoken_of_as_plastic():
    told = {hazard for step in steps(in_its_frame(WOOD)) for hazard in step.hazards}
    assert Hazard.WOOD_DUST in told
    assert not told & {Hazard.FUMES, Hazard.SOLVENTS, Hazard.FLAME}


def test_before_the_bit_turns_everything_that_protects_is_said():
    """The eyes are not thought of after the cut: what protects stands before the first run of the bit."""
    found = steps(in_its_frame(PLASTIC))
    at = {hazard: place for place, step in enumerate(found) for hazard in step.hazards}
    cut = next(place for place, step in enumerate(found) if "Run part.nc" in step.words)
    assert all(at[one] < cut for one in (Hazard.EYES, Hazard.HEARING, Hazard.CLOTHING, Hazard.STOP_KNOWN))
    assert at[Hazard.VINYL] < next(place for place, step in enumerate(found) if "Weed" in step.words)


def test_the_sheet_defers_to_those_who_know_the_machine():
    said = words_on(job_sheet_pages(sheet_of()))
    assert "the manuals of your machine, bit and material" in said
    assert "rules where you work" in said
