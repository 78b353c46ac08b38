"""A kit whose part lies on a skin: proven from its bytes, told in words, refused where it would not hold."""

import pytest

from core.cancel import NEVER
from core.kit.make import check_kit, make_kit
from tests.support.pictures import badge, job


def kit(**choices):
    made = {"part__hold": "skin", "stock__z_zero": "board"} | choices
    return make_kit(job(**made), badge(), NEVER, lambda _stage: None)


def stops(findings):
    return [found.code for found in findings if found.level == "stop"]


@pytest.mark.parametrize(
    "choices",
    [
        {},
        {"part__skin": "0.8 mm", "cutting__last_lap": "no"},
        {"part__hanger": "auto", "part__hanger_hole": "8 mm"},
        {"stock__copies": "3"},
        {"fit__way": "sheet", "machine__arcs": "no", "machine__units": "inch"},
    ],
    ids=["as usual", "passes alone", "hanger", "copies", "on the sheet, inch chords"],
)
def test_a_kit_on_a_skin_is_proven(choices):
    made = kit(**choices)
    assert stops(made.findings) == []
    if "fit__way" in choices:
        return  # its program is written when the sheet was found
    program = made.report["program"]
    assert program["tabs"] == []
    assert program["skin"]["thickness_mm"] == (0.8 if "part__skin" in choices else 0.5)
    assert program["skin"]["openings_through"] == ("part__hanger" in choices)
    assert stops(check_kit(made.files).findings) == []


def test_a_kit_on_tabs_claims_no_skin():
    made = kit(part__hold="tabs")
    assert made.report["program"]["skin"] is None
    assert made.report["program"]["tabs"]


@pytest.mark.parametrize(
    ("choices", "code"),
    [
        ({"stock__z_zero": "top"}, "skin-needs-board-zero"),
        ({"part__skin": "0.2 mm"}, "skin-too-thin"),
        ({"stock__thickness": "2.9 mm; 3.2 mm", "part__skin": "0.4 mm"}, "skin-too-thin"),
        ({"part__skin": "2.8 mm"}, "skin-too-thick"),
        ({"stock__board": "1 mm", "cutting__skim": "0.6 mm"}, "skim-too-deep"),
    ],
)
def test_a_skin_that_would_not_hold_stops_the_program(choices, code):
    made = kit(**choices)
    assert stops(made.findings) == [code]
    assert made.report["program"] is None


def test_the_head_of_the_program_says_what_holds_the_part():
    made = kit()
    path = next(file["path"] for file in made.report["files"] if file["role"] == "part-program")
    assert b"held by a skin of 0.5 mm" in made.files[path]
