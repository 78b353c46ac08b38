"""A skin is read back from the bytes: whole everywhere, of the claimed thickness, reached everywhere."""

import pytest
import shapely

from core.proof.programs import prove_program
from tests.core.program.programs import read
from tests.core.proof.claimed import claims
from tests.core.proof.test_programs import BORE, OUTLINE

SKINNED = {"program__tabs": [], "program__skin": {"thickness_mm": 0.5, "openings_through": 0}}
ROUND = (
    "G0 Z5", "G0 X9 Y10", "G1 Z0.5 F120", "G1 Z-2.5 F100", "G3 X10 Y9 I1 J0 F400", "G1 X50",
    "G3 X51 Y10 I0 J1", "G1 Y30", "G3 X50 Y31 I-1 J0", "G1 X10", "G3 X9 Y30 I0 J-1", "G1 Y10",
)  # fmt: skip
GOOD = (*BORE, *ROUND)
#: A round opening of 6 mm, bored to the board or to the skin.
HOLE = ("G0 Z5", "G0 X32 Y20", "G1 Z0.5 F120", "G1 Z-3.3 F100", "G3 X32 Y20 I-2 J0 F400", "G0 X30", "G0 Z5")
HOLE = (*HOLE[:5], "G1 X31", "G3 X31 Y20 I-1 J0", *HOLE[6:])
PIERCED = OUTLINE.difference(shapely.Point(30, 20).buffer(3.0, 512))


def codes(lines, outline=OUTLINE, **changes):
    proof = prove_program(read(*lines), "part.nc", claims(**(SKINNED | changes)), outline)
    return {finding.code for finding in proof.findings}


def edited(old, new):
    assert old in GOOD
    return [new if text == old else text for text in GOOD]


def test_a_skin_under_the_whole_slot_is_as_claimed():
    assert codes(GOOD) == set()


@pytest.mark.parametrize(("by", "told"), [(-0.03, "skin-not-reached"), (0.03, "skin-differs")])
def test_a_skin_thicker_or_thinner_than_claimed_is_a_stop_of_its_own(by, told):
    claimed = {"program__skin": {"thickness_mm": 0.5 + by, "openings_through": 0}}
    assert codes(GOOD, **claimed) & {"skin-differs", "skin-not-reached"} == {told}


def test_one_deep_run_cuts_the_skin_through():
    told = codes(edited("G1 Y30", "G1 Z-3.3 Y30"))
    assert "skin-cut-through" in told
    assert "skin-differs" not in told


def test_a_run_that_stops_above_the_bottom_leaves_a_thinner_skin():
    assert codes([*GOOD[:-1], "G1 Y20", "G1 Z-2.6 F100", "G1 Y10 F400"]) == {"skin-differs"}


def test_a_run_that_stays_high_does_not_reach_the_skin():
    lifted = ["G1 X25", "Z-2.2 F100", "X35 F400", "Z-2.5 F100", "G1 X50 F400"]
    at = GOOD.index("G1 X50")
    assert "skin-not-reached" in codes([*GOOD[:at], *lifted, *GOOD[at + 1 :]])


def test_an_opening_goes_through_only_where_that_is_claimed():
    one = {"program__skin": {"thickness_mm": 0.5, "openings_through": 1}}
    assert codes([*HOLE, *GOOD], PIERCED, **one) == set()
    assert codes([*HOLE, *GOOD], PIERCED) == {"skin-openings"}
    on_skin = [text.replace("Z-3.3", "Z-2.5") for text in HOLE]
    assert codes([*on_skin, *GOOD], PIERCED) == set()
    assert codes([*on_skin, *GOOD], PIERCED, **one) == {"skin-openings"}


def test_an_opening_that_is_cut_through_in_one_place_is_a_stop():
    on_skin = [text.replace("Z-3.3", "Z-2.5") for text in HOLE]
    bitten = [*on_skin, *GOOD, "G0 Z5", "G0 X31 Y20", "G1 Z0.5 F120", "G1 Z-3.3 F100"]
    assert codes([*bitten, "G0 Z5"], PIERCED) == {"skin-cut-through"}
