"""A skin instead of tabs: what it leaves, what goes through all the same, and what speaks against it."""

from dataclasses import replace

import pytest
import shapely

from core.findings import Level
from core.outline.loop import Loop
from core.outline.region import Region
from core.router.board import Board, board_findings
from core.router.setup import Setup
from core.router.skin import skin_findings
from tests.core.router.sheet_after import (
    BIT,
    CUTTING,
    MACHINE,
    TABS,
    left_at,
    planned,
    rectangle,
    removed,
    sheet,
)

SKIN = replace(TABS, skin_mm=0.5)
JUST = 1e-6  # mm
BED = -3.0
LEVEL_BOARD = Board(6.0, 0.1)
EDGE, SMALL, LARGE = rectangle(30, 30, 110, 130), Loop.circle((60, 60), 4.0), rectangle(50, 80, 90, 120)
ISLAND = rectangle(60, 90, 80, 110)


def cut(*openings, islands=(), layout=None):
    part = (Region(EDGE, tuple(each.reversed() for each in openings)), *map(Region, islands))
    bare = layout or sheet(marks=())
    return planned(part, tabs=SKIN, layout=bare)[1], bare


@pytest.mark.parametrize("has_last_lap", [True, False])
def test_the_slot_ends_on_the_skin_and_the_edge_is_whole_above_it(has_last_lap):
    bare = sheet(marks=())
    cutting = replace(CUTTING, has_last_lap=has_last_lap, allowance_mm=0.2 if has_last_lap else 0.0)
    made = planned((Region(EDGE),), cutting=cutting, tabs=SKIN, layout=bare)[1]
    assert made.tabs == ()
    assert made.bottom_z_mm == made.toolpath.ends[:, 2].min() == BED + 0.5
    assert removed(made.toolpath, BED + 0.5 - JUST, BIT.radius_mm).is_empty
    parts = shapely.get_parts(left_at(made.toolpath, BED + 0.5 + JUST, bare, BIT.radius_mm))
    (part,) = [piece for piece in parts if piece.contains(shapely.Point(70, 80))]
    assert part.area == pytest.approx(80 * 100, abs=0.5)


def test_marks_go_through_the_board_all_the_same():
    made, layout = cut(layout=sheet())
    gone = shapely.get_parts(removed(made.toolpath, BED, BIT.radius_mm))
    assert len(gone) == len(layout.marks)
    assert made.bottom_z_mm == BED - CUTTING.skim_mm
    assert made.openings_through == 0


def test_an_opening_that_turns_to_chips_goes_through_and_one_with_a_piece_in_it_keeps_its_skin():
    made, layout = cut(SMALL, LARGE)
    (hole,) = shapely.get_parts(removed(made.toolpath, BED, BIT.radius_mm))
    assert hole.area == pytest.approx(16 * 3.14159, abs=0.02)
    assert made.openings_through == 1
    assert len(shapely.get_parts(left_at(made.toolpath, BED + 0.5 - JUST, layout, BIT.radius_mm))) == 1


def test_an_opening_with_an_island_of_the_shape_keeps_its_skin():
    tight = rectangle(57, 87, 83, 113)  # the bit fills all that lies between it and the island
    made, layout = cut(tight, islands=(ISLAND,))
    assert made.openings_through == 0
    assert len(shapely.get_parts(left_at(made.toolpath, BED, layout, BIT.radius_mm))) == 1


def test_a_hole_far_wider_than_the_bit_keeps_its_core_on_the_skin():
    made, layout = cut(Loop.circle((60, 60), 15.0))
    assert made.openings_through == 0
    assert len(shapely.get_parts(left_at(made.toolpath, BED, layout, BIT.radius_mm))) == 1
    assert len(shapely.get_parts(left_at(made.toolpath, BED + 0.5 + JUST, layout, BIT.radius_mm))) == 3


def told(skin_mm, board=LEVEL_BOARD, spread=0.0, *, is_zeroed_on_board=True):
    layout = sheet(marks=())
    layout = replace(layout, stock=replace(layout.stock, thickness_spread_mm=spread))
    setup = Setup(layout, BIT, CUTTING, replace(TABS, skin_mm=skin_mm), MACHINE)
    found = skin_findings(setup, board, is_zeroed_on_board=is_zeroed_on_board)
    return {(one.level, one.code) for one in found}


def test_a_skin_asks_for_z_on_the_board_and_more_than_sheet_and_board_are_off():
    stop, caution = Level.STOP, Level.CAUTION
    assert told(0.5) == set()
    assert told(0.5, is_zeroed_on_board=False) == {(stop, "skin-needs-board-zero")}
    assert told(0.2) == {(stop, "skin-too-thin")}  # 0.1 of board and 0.1 in hand
    assert told(0.21) == set()
    assert told(0.4, spread=0.2) == {(stop, "skin-too-thin")}
    assert told(0.5, Board(6.0, 0.4)) == {(stop, "skin-too-thin")}
    assert told(0.9) == {(caution, "skin-thick")}
    assert told(2.6) == {(stop, "skin-too-thick")}
    assert told(0.0, is_zeroed_on_board=False) == set()  # tabs


def test_a_skin_as_thick_as_the_sheet_is_a_stop_and_no_crash():
    assert (Level.STOP, "skin-too-thick") in told(5.0)
    bare = sheet(marks=())
    made = planned((Region(EDGE),), tabs=replace(TABS, skin_mm=5.0), layout=bare)[1]
    assert made.toolpath.ends[:, 2].min() == 0.0


@pytest.mark.parametrize(
    ("skim", "board", "codes"),
    [
        (0.3, Board(6.0, 0.1), set()),
        (0.14, Board(6.0, 0.1), {"skim-shallow"}),
        (0.3, Board(6.0, 0.3), {"skim-shallow"}),
        (3.1, Board(6.0, 0.1), {"skim-too-deep"}),
    ],
)
def test_the_skim_is_judged_against_the_board(skim, board, codes):
    setup = Setup(sheet(), BIT, replace(CUTTING, skim_mm=skim), TABS, MACHINE)
    assert {one.code for one in board_findings(setup, board)} == codes
