"""The oracle of the campaign against a square cut by hand: it must see what is wrong, and nothing else."""

from dataclasses import replace

import pytest
import shapely

from tests.campaigns.program_oracle import Work, faults, walked

SQUARE = shapely.box(0.0, 0.0, 20.0, 20.0)
WORK = Work(SQUARE, SQUARE.boundary, (-10.0, -10.0, 30.0, 30.0), 2.0, -2.0, -3.0, -3.2, 0.0, 0.1, True)
#: Round the square at the floor, a tab of 1 mm left on the lower side.
GOOD = """(by hand; X99)
G21 G90 G17
G0 Z5
N10 G0 X-1 Y0
G1 Z-3.2 F80
X-1 Y20 F400
G2 X0 Y21 I1 J0
G1 X20
G2 X21 Y20 I0 J-1
G1 Y0
G2 X20 Y-1 I-1 J0
G1 X12
Z-2
X8
Z-3.2
X0
G2 X-1 Y0 I0 J1
G0 Z5
M2
"""


def test_what_is_right_has_no_fault():
    assert faults(GOOD.encode(), WORK) == []


def test_inches_and_arcs_the_other_way_are_the_same_path():
    text = "G20\nG0 Z1\nX1 Y0\nG3 X0 Y1 I-1 J0\n"
    places = walked(text.encode()).places
    assert places[-1] == pytest.approx([0.0, 25.4, 25.4])
    assert shapely.length(shapely.LineString(places[:, :2])) == pytest.approx(25.4 * 1.570796, abs=1e-3)


@pytest.mark.parametrize(
    ("was", "becomes", "word"),
    [
        ("X12\n", "X12\nY-0.98\nY-1\n", "gouged"),
        ("G1 X20\n", "G1 X10\nY21.1\nX12\nY21\nX20\n", "left"),
        ("Z-2\n", "Z-3.1\n", "loose"),
        ("X8\nZ-3.2", "X8\nZ-3.25", "down to"),
        ("G0 Z5\nM2", "G0 X-1.5\nZ5\nM2", "rapid"),
    ],
)
def test_what_is_wrong_is_told(was, becomes, word):
    found = faults(GOOD.replace(was, becomes).encode(), WORK)
    assert [word in one for one in found] == [True] * bool(word)


def test_over_a_skin_nothing_is_loose():
    assert faults(GOOD.replace("Z-2\n", "Z-3.1\n").encode(), replace(WORK, is_through=False)) == []
