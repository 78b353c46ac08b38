"""The ends of the good-for window, against what the program's own bytes leave of thinner and thicker sheets.

The bytes are read again, and the stock's bottom is put where it is in a sheet of another thickness.
"""

from dataclasses import replace

import pytest
import shapely

from core.outline.region import Region
from core.program.read.read import read_program
from core.program.write.dialect import Dialect
from core.program.write.moves import ProgramZero
from core.program.write.writer import Spindle, write_program
from core.proof.removal import swept_below
from core.proof.tabs_left import tabs_left
from core.router.board import Board
from core.router.good_for import good_for, uneven_findings
from core.router.setup import Setup
from tests.core.router.sheet_after import BIT, CUTTING, MACHINE, TABS, planned, rectangle, sheet

BOARD = Board(6.0, 0.1)
STOCK = shapely.box(0, 0, 80, 80)
END = 0.01  # mm: how exactly an end of the window is known
THICK = 3.0
PART = (Region(rectangle(20, 20, 60, 60)),)


def made(tabs, *, on_board):
    """The window, and the program as it is read back from its bytes."""
    layout = sheet(80.0, 80.0, THICK, ())
    plan = planned(PART, tabs=tabs, layout=layout)[1]
    zero = ProgramZero((0.0, 0.0), THICK if on_board else 0.0)
    data = write_program(plan.toolpath, ("a square",), Dialect(), zero, Spindle(10000.0, 5.0))
    window = good_for(Setup(layout, BIT, CUTTING, tabs, MACHINE), BOARD, is_zeroed_on_board=on_board)
    return window, read_program(data)


def lowest_tab(program, bottom):
    """mm of the lowest tab on this bottom; 0 where none stands."""
    found = tabs_left(program, STOCK, BIT.diameter_mm, bottom, TABS.height_mm + 1.0)
    return min((tab.height_mm for tab in found), default=0.0) if len(found) >= 4 else 0.0


def is_through(program, bottom, by):
    """Whether the part is cut round, by mm below the bottom."""
    gone = shapely.get_parts(swept_below(program, BIT.diameter_mm, bottom - by))
    return not all(piece.is_empty for piece in gone) and shapely.union_all(gone).area > 50.0


@pytest.mark.parametrize("height", [0.5, 0.8, 1.2])
def test_with_tabs_the_thinnest_sheet_is_the_one_that_leaves_just_enough_tab(height):
    window, program = made(replace(TABS, height_mm=height), on_board=False)
    assert lowest_tab(program, -(window.thinnest_mm + END)) > 0.3
    assert lowest_tab(program, -(window.thinnest_mm - END)) < 0.3


def test_the_thickest_sheet_is_the_one_that_is_just_cut_through():
    window, program = made(TABS, on_board=False)
    assert is_through(program, -(window.thickest_mm - END), 0.05)
    assert not is_through(program, -(window.thickest_mm + END), 0.05)


def test_with_z_on_the_board_tabs_do_not_change_and_the_thickest_sheet_is_met_where_feeds_begin():
    window, program = made(TABS, on_board=True)
    assert lowest_tab(program, 0.0) == pytest.approx(TABS.height_mm, abs=0.02)
    fed = ~program.is_rapid & (program.starts[:, 2] > program.ends[:, 2])
    ramps = fed & (abs(program.starts[:, :2] - program.ends[:, :2]).max(axis=1) > 0.01)
    highest = program.starts[ramps, 2].max()
    masking = 0.1
    assert highest == pytest.approx(window.thickest_mm + masking, abs=END)


@pytest.mark.parametrize("skin", [0.3, 0.5, 0.8])
def test_with_z_on_the_board_a_skin_needs_a_sheet_that_has_a_slot_above_it(skin):
    window, program = made(replace(TABS, skin_mm=skin), on_board=True)
    lowest = program.ends[:, 2].min()
    assert lowest == pytest.approx(skin, abs=1e-4)
    assert window.thinnest_mm - lowest == pytest.approx(0.5, abs=END)
    assert window.thickest_mm == pytest.approx(THICK + 0.2)


@pytest.mark.parametrize("skin", [0.3, 0.5, 0.8])
def test_with_z_on_top_a_thinner_sheet_has_less_skin_until_board_and_sheet_may_cut_it(skin):
    window, program = made(replace(TABS, skin_mm=skin), on_board=False)
    left = program.ends[:, 2].min() + window.thinnest_mm
    assert left == pytest.approx(BOARD.error_mm + 0.1, abs=END)


def test_a_thin_board_ends_the_window_before_the_tabs_do():
    layout = sheet(80.0, 80.0, THICK, ())
    setup = Setup(layout, BIT, CUTTING, TABS, MACHINE)
    thin = good_for(setup, Board(1.2, 0.1), is_zeroed_on_board=False)
    assert THICK + CUTTING.skim_mm - thin.thinnest_mm == pytest.approx(0.6)  # half of the board is cut into


def test_a_sheet_measured_outside_the_window_is_told():
    window, _ = made(TABS, on_board=False)
    assert uneven_findings(window, (window.thinnest_mm, window.thickest_mm)) == ()
    assert [one.code for one in uneven_findings(window, (2.4, 3.0))] == ["sheet-uneven"]
    assert [one.code for one in uneven_findings(window, (3.0, 3.3))] == ["sheet-uneven"]
