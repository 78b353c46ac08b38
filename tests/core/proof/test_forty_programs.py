"""Forty programs made by hand, and what comes loose in each, by which line, with which area.

A sheet of 60 x 40 mm and 3 mm thick, z from its top, a bit of 2 mm. A square of path leaves a piece smaller
by the bit; a piece smaller than a chip is none, and one at the sheet's border is held.
"""

from math import cos, pi, sin

import pytest
import shapely

from core.proof.standing import loose_pieces
from tests.core.program.programs import START, read

SHEET = shapely.box(0, 0, 60, 40)
BIT, BOTTOM, THROUGH = 2.0, -3.0, -3.3


def down(x, y, z=THROUGH):
    """Over a place and down: three lines."""
    return ["G0 Z5", f"G0 X{x} Y{y}", f"G1 Z{z} F100"]


def box(x0, y0, x1, y1, z=THROUGH):
    """Round a box from its left near corner: seven lines, the last one closes it."""
    return [*down(x0, y0, z), f"G1 X{x1} F400", f"Y{y1}", f"X{x0}", f"Y{y0}"]


def again(x0, y0, x1, y1, z):
    """Round it once more without lifting: five lines."""
    return [f"G1 Z{z} F100", f"X{x1} F400", f"Y{y1}", f"X{x0}", f"Y{y0}"]


def tab(x0, x1, crest=-2.2, z=THROUGH):
    """Along a side up to x0, lifted to x1, and down again: four lines."""
    return [f"X{x0}", f"Z{crest}", f"X{x1}", f"Z{z}"]


def disc(x, y, radius, z=THROUGH, turn="G3"):
    """Round a circle by one whole turn: four lines."""
    return [*down(x + radius, y, z), f"{turn} X{x + radius} Y{y} I{-radius} J0 F400"]


def inch(*lines):
    """The same in inches, after G20."""
    return ["G20", *[" ".join(_in_inches(word) for word in line.split()) for line in lines]]


def _in_inches(word):
    return f"{word[0]}{float(word[1:]) / 25.4:.5f}" if word[0] in "XYZIJRF" else word


def round_area(radius):
    return pi * (radius - 1.0) ** 2


A, INSIDE = (10, 10, 50, 30), 38.0 * 18.0
LEFT = ["G0 Z5", "G0 X10 Y10", f"G1 Z{THROUGH} F100"]
REST = ["X50 F400", "Y30", "X10", "Y10"]
TURNS = [(30 + 8 * cos(2 * pi * n / 24), 20 + 8 * sin(2 * pi * n / 24)) for n in range(25)]
CHORDS = [*down(*(f"{each:.4f}" for each in TURNS[0])), *[f"G1 X{x:.4f} Y{y:.4f} F400" for x, y in TURNS[1:]]]
POLYGON = shapely.Polygon(TURNS).buffer(-1.0, join_style="mitre").area
FOUR = [*LEFT, *tab(20, 25), *tab(35, 40), "X50", "Y30", *tab(40, 35), *tab(25, 20), "X10", "Y10"]

#: name: lines, and (area mm2, the line of these that frees it) of each loose piece.
PROGRAMS = {
    "a hole drilled": (down(30, 20), []),
    "a box cut round": (box(*A), [(INSIDE, 7)]),
    "a box not cut through": (box(*A, z=-2.9), []),
    "a box just cut through": (box(*A, z=-3.0), [(INSIDE, 7)]),
    "a box that hangs by a thousandth": (box(*A, z=-2.999), []),
    "a box in two passes": ([*box(*A, z=-1.5), *again(*A, THROUGH)], [(INSIDE, 12)]),
    "a box in four passes": (
        [*box(*A, z=-0.8), *again(*A, -1.6), *again(*A, -2.4), *again(*A, THROUGH)],
        [(INSIDE, 22)],
    ),
    "three sides of a box": (box(*A)[:-1], []),
    "a last side that ends before the first": ([*box(*A)[:-1], "Y12.1"], []),
    "a last side that just meets the first": ([*box(*A)[:-1], "Y11.9"], [(INSIDE, 7)]),
    "a box on one tab": ([*LEFT, *tab(27.5, 32.5), *REST], []),
    "a tab lifted for less than the bit": ([*LEFT, *tab(29.1, 30.9), *REST], [(INSIDE, 11)]),
    "a tab lifted to the bottom alone": ([*LEFT, *tab(27.5, 32.5, -3.0), *REST], [(INSIDE, 11)]),
    "a tab cut afterwards": (
        [*LEFT, *tab(27.5, 32.5), *REST, *down(26, 10), "G1 X34 F400"],
        [(INSIDE, 15)],
    ),
    "a tab cut half way": ([*LEFT, *tab(27.5, 32.5), *REST, *down(26, 10), "G1 X29 F400"], []),
    "a box on four tabs": (FOUR, []),
    "three of four tabs cut": (
        [*FOUR, *down(19, 10), "G1 X41 F400", *down(41, 30), "G1 X34 F400"],
        [],
    ),
    "all of four tabs cut": (
        [*FOUR, *down(19, 10), "G1 X41 F400", *down(41, 30), "G1 X34 F400", "X19"],
        [(INSIDE, len(FOUR) + 9)],
    ),
    "a disc by a whole turn": (disc(30, 20, 8), [(round_area(8), 4)]),
    "a disc by a whole turn the other way": (disc(30, 20, 8, turn="G2"), [(round_area(8), 4)]),
    "a disc by two half turns": (
        [*down(38, 20), "G3 X22 Y20 I-8 J0 F400", "X38 Y20 I8 J0"],
        [(round_area(8), 5)],
    ),
    "a disc by radius": ([*down(38, 20), "G3 X22 Y20 R8 F400", "X38 Y20 R8"], [(round_area(8), 5)]),
    "three quarters of a disc": ([*down(38, 20), "G3 X30 Y12 I-8 J0 F400"], []),
    "a disc by 24 chords": (CHORDS, [(POLYGON, 27)]),
    "a helix alone": ([*down(38, 20, 0), f"G3 X38 Y20 Z{THROUGH} I-8 J0 F400"], []),
    "a helix and a level turn": (
        [*down(38, 20, 0), f"G3 X38 Y20 Z{THROUGH} I-8 J0 F400", "X38 Y20 I-8 J0"],
        [(round_area(8), 5)],
    ),
    "a core smaller than a chip": (disc(30, 20, 1.1), []),
    "a core larger than a chip": (disc(30, 20, 1.3), [(round_area(1.3), 4)]),
    "a hole bored from the middle out": ([*disc(30, 20, 0.8), *disc(30, 20, 1.6), *disc(30, 20, 2.4)], []),
    "a ring, inside first": (
        [*disc(30, 20, 5), *disc(30, 20, 10)],
        [(pi * (81 - 36), 8), (round_area(5), 4)],
    ),
    "a ring, outside first": (
        [*disc(30, 20, 10), *disc(30, 20, 5)],
        [(pi * (81 - 36), 4), (round_area(5), 4)],
    ),
    "a slot across the sheet": ([*down(-5, 20), "G1 X65 F400"], []),
    "a corner of the sheet cut off": ([*down(20, -5), "G1 Y15 F400", "X-5"], []),
    "a strip along the border": (box(1.5, 10, 30, 30), [(26.5 * 18.0, 7)]),
    "a box over the border": ([*down(-1, 10), "G1 X20 F400", "Y30", "X-1"], []),
    "a box cut in two after it came free": (
        [*box(*A), *down(30, 8), "G1 Y32 F400"],
        [(18.0 * 18.0, 7), (18.0 * 18.0, 7)],
    ),
    "two boxes with a side in common": (
        [*box(10, 10, 30, 30), *down(30, 10), "G1 X50 F400", "Y30", "X30"],
        [(18.0 * 18.0, 7), (18.0 * 18.0, 13)],
    ),
    "three boxes in turn": (
        [*box(5, 5, 15, 15), *box(25, 5, 35, 15), *box(45, 5, 55, 15)],
        [(64.0, 7), (64.0, 14), (64.0, 21)],
    ),
    "a rapid that closes the cut": ([*box(*A)[:-1], "G0 Y10"], [(INSIDE, 7)]),
    "a side that rises out of the cut": ([*box(*A)[:-1], "G1 Y10 Z-2.7"], []),
    "a side that rises and stays deep enough": ([*box(*A)[:-1], "G1 Y10 Z-3.05"], [(INSIDE, 7)]),
    "a lap run twice": ([*box(*A), *again(*A, THROUGH)], [(INSIDE, 7)]),
    "in inches": (inch(*box(*A)), [(INSIDE, 8)]),
    "step by step": ([*down(10, 10), "G91", "G1 X40 F400", "Y20", "X-40", "Y-20", "G90"], [(INSIDE, 8)]),
}  # fmt: skip


def test_there_are_forty_of_them():
    assert len(PROGRAMS) >= 40


@pytest.mark.parametrize("name", PROGRAMS)
def test_what_comes_loose_and_when(name):
    lines, expected = PROGRAMS[name]
    found = loose_pieces(read(*lines), SHEET, BIT, BOTTOM)
    seen = sorted((piece.line - len(START), piece.piece.area) for piece in found)
    wanted = sorted((line, area) for area, line in expected)
    assert [line for line, _ in seen] == [line for line, _ in wanted]
    assert [area for _, area in seen] == pytest.approx([area for _, area in wanted], rel=2e-3, abs=0.02)
