"""The window of sheets that a program is good for, against what its bytes take away at other thicknesses."""

from dataclasses import replace

import pytest
import shapely

from core.outline.loop import Loop
from core.outline.region import Region
from core.program.read.read import read_program
from core.program.write.dialect import Dialect
from core.program.write.moves import ProgramZero
from core.program.write.writer import Spindle, write_program
from core.proof.programs import prove_program
from core.proof.read_claims import claims_of
from core.proof.removal import swept_below
from core.proof.standing import pieces_left
from core.proof.tabs_left import tabs_left
from core.router.board import Board
from core.router.good_for import good_for
from core.router.setup import Setup
from tests.core.proof.claimed import report
from tests.core.router.sheet_after import BIT, CUTTING, MACHINE, TABS, planned, sheet, solid

PART = (Region(Loop.circle((70.0, 75.0), 40.0), (Loop.circle((75.0, 70.0), 12.0).reversed(),)),)
BOARD = 12.0


def written(zero="stock top", cutting=CUTTING, tabs=TABS, board=BOARD, said=None):
    """A program of the part, what is claimed of it, and the window that the plan gives."""
    layout = sheet(marks=())
    cut, made = planned(PART, layout=layout, cutting=cutting, tabs=tabs)
    shift = 0.0 if zero == "stock top" else 3.1
    setup = Setup(layout, BIT, cutting, tabs, MACHINE)
    window = good_for(setup, Board(board, 0.1), is_zeroed_on_board=zero != "stock top")
    ends = (window.thinnest_mm, window.thickest_mm)
    head = f"good for {ends[0]:.2f} to {ends[1]:.2f} mm"
    data = write_program(
        made.toolpath, (said or head,), Dialect(), ProgramZero((0.0, 0.0), shift), Spindle(10000.0, 5.0)
    )
    claimed = report(
        frame__z_zero=zero,
        marks=[],
        stock={"width_mm": 140.0, "depth_mm": 150.0, "thickness_mm": 3.0, "masking_top_mm": 0.1,
               "masking_bottom_mm": 0.1, "board_mm": board, "good_for_mm": list(ends)},
        program={"bit_mm": 2.0, "safe_z_mm": made.safe_z_mm + shift, "bottom_z_mm": made.bottom_z_mm + shift,
                 "tabs": [{"at": list(tab.at), "neck_mm": tab.neck_mm, "wall_mm": tab.wall_mm,
                           "height_mm": tab.height_mm} for tab in made.tabs],
                 "feed_mm_min": 400.0, "plunge_mm_min": 80.0, "spindle_rpm": 10000.0},
    )  # fmt: skip
    return data, claimed, ends, solid(cut.regions)


def stops(data, claimed, outline):
    found = prove_program(read_program(data), "part.nc", claims_of(claimed), outline).findings
    return [one.code for one in found]


KINDS = {
    "as it is": {},
    "zero on the board": {"zero": "spoil board"},
    "a thin board": {"board": 1.4},
    "another skim": {"cutting": replace(CUTTING, skim_mm=0.15)},
    "low tabs": {"tabs": replace(TABS, height_mm=0.5)},
    "passes alone": {"cutting": replace(CUTTING, has_last_lap=False)},
}


@pytest.mark.parametrize("kind", KINDS)
def test_the_window_that_is_reckoned_is_the_one_in_the_bytes(kind):
    data, claimed, _, outline = written(**KINDS[kind])
    assert stops(data, claimed, outline) == []


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("end", [0, 1])
@pytest.mark.parametrize("off", [-0.021, 0.021])
def test_an_end_that_is_off_is_a_stop(kind, end, off):
    data, claimed, ends, outline = written(**KINDS[kind])
    claimed["stock"]["good_for_mm"] = [ends[0] + off * (end == 0), ends[1] + off * (end == 1)]
    assert "good-for-differs" in stops(data, claimed, outline)


@pytest.mark.parametrize("said", ["good for 2.52 to 3.25 mm", "good for 2.50 to 3.27 mm"])
def test_a_head_that_tells_another_window_is_a_stop(said):
    data, claimed, ends, outline = written(said=said)
    assert ends == pytest.approx((2.5, 3.25))
    assert stops(data, claimed, outline) == ["good-for-differs"]


def test_in_a_sheet_at_either_end_tabs_and_cut_are_at_their_limits():
    data, _, (thinnest, thickest), _ = written()
    program, stock = read_program(data), shapely.box(0.0, 0.0, 140.0, 150.0)
    lowest = [tab.height_mm for tab in tabs_left(program, stock, 2.0, -thinnest, 0.8 + thinnest - 3.0)]
    assert lowest == pytest.approx([0.3] * len(lowest), abs=0.01)
    assert len(lowest) >= 8
    crest = 0.8 - 3.0
    for off, count in ((-0.01, 3), (0.01, 1)):
        depth = -(thickest + off) - 0.05
        ring = shapely.union(swept_below(program, 2.0, depth), _feet(data, crest))
        pieces = pieces_left(stock, ring)
        assert len(pieces.free) + len(pieces.held) == count


def _feet(data, crest):
    """Where tabs stand: what is gone flush with their crests, and not at the stock's bottom."""
    program = read_program(data)
    flush, through = swept_below(program, 2.0, crest + 1e-3), swept_below(program, 2.0, -3.0)
    return shapely.buffer(shapely.difference(flush, through), 0.4)


def test_a_report_that_tells_no_window_is_not_held_to_one():
    data, claimed, _, outline = written()
    del claimed["stock"]["good_for_mm"]
    assert stops(data, claimed, outline) == []
