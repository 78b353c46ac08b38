import numpy as np
import pytest
import shapely

from core.proof.removal import swept_below
from core.proof.standing import loose_pieces, pieces_left
from core.proof.tabs_left import lowest_over, tabs_left
from tests.core.program.programs import START, read

SHEET = shapely.box(0, 0, 60, 40)
BIT, BOTTOM = 2.0, -3.0
DOWN = ("G0 X9 Y9", "G1 Z-3.3 F100", "F400")


def square(*first):
    """A part of 40 x 20 at (10, 10), cut round from its left near corner; first runs along the near side."""
    return read(*DOWN, *first, "X51", "Y31", "X9", "Y9")


def test_a_part_cut_round_without_tabs_is_loose_from_the_line_that_closes_the_cut():
    program = read(*DOWN, "X51", "Y31", "X9", "Y9", "X20")
    (loose,) = loose_pieces(program, SHEET, BIT, BOTTOM)
    assert loose.piece.area == pytest.approx(800, abs=0.01)
    assert loose.line == len(START) + len(DOWN) + 4
    assert loose.piece.contains(shapely.Point(loose.at))


def test_a_part_on_a_tab_or_cut_half_way_is_not_loose():
    assert loose_pieces(square("X27.5", "Z-2.2", "X32.5", "Z-3.3"), SHEET, BIT, BOTTOM) == ()
    assert loose_pieces(read(*DOWN, "X51", "Y31", "X9"), SHEET, BIT, BOTTOM) == ()
    assert loose_pieces(square(), SHEET, BIT, -3.4) == ()


def test_a_ring_has_two_loose_pieces_each_freed_by_its_own_cut():
    ring = read(
        "G0 X25 Y20",
        "G1 Z-3.3 F100",
        "G3 X25 Y20 I5 J0",
        "G0 Z5",
        "G0 X20 Y20",
        "G1 Z-3.3",
        "G3 X20 Y20 I10 J0",
    )
    loose = loose_pieces(ring, SHEET, BIT, BOTTOM)
    assert [piece.line for piece in loose] == [len(START) + 7, len(START) + 3]
    assert [piece.piece.area for piece in loose] == pytest.approx([np.pi * (81 - 36), np.pi * 16], rel=1e-3)


@pytest.mark.parametrize(("radius", "count"), [(1.1, 0), (1.2, 1)])
def test_a_core_no_larger_than_a_chip_is_no_piece(radius, count):
    ring = read(f"G0 X{20 + radius} Y20", "G1 Z-3.3 F100", f"G3 X{20 + radius} Y20 I{-radius} J0")
    assert len(loose_pieces(ring, SHEET, BIT, BOTTOM)) == count


def test_what_touches_the_sheets_border_is_held():
    left = pieces_left(SHEET, swept_below(read("G0 X-5 Y20", "G1 Z-3.3 F100", "X65"), BIT, BOTTOM))
    assert (len(left.held), len(left.free)) == (2, 0)


@pytest.mark.parametrize("neck", [0.5, 3.0, 5.0])
@pytest.mark.parametrize("height", [0.3, 0.8])
def test_a_tab_is_measured_as_it_was_made(neck, height):
    half = (neck + BIT) / 2.0
    lifted = (f"X{30 - half}", f"Z{BOTTOM + height}", f"X{30 + half}", "Z-3.3")
    (tab,) = tabs_left(square(*lifted), SHEET, BIT, BOTTOM, height)
    assert tab.neck_mm == pytest.approx(neck, abs=0.02)
    assert tab.height_mm == pytest.approx(height, abs=0.02)
    assert sorted(wall.at for wall in tab.walls) == [
        pytest.approx((30, 8), abs=0.01),
        pytest.approx((30, 10), abs=0.01),
    ]
    assert [wall.length_mm for wall in tab.walls] == pytest.approx([neck + BIT] * 2, abs=0.02)


def test_a_tab_on_a_curve_has_the_wall_that_the_trade_expects():
    """A lifted path of w on a radius R + r leaves w R / (R + r) on the part's wall (common practice)."""
    path, lift = 11.0, 5.0
    angle = lift / path / 2.0
    at = [30 + path * np.cos(angle), 20 + path * np.sin(angle)]
    start, ahead = (at[0], 40 - at[1]), (at[0], at[1])
    back = f"I{30 - ahead[0]:.4f} J{20 - ahead[1]:.4f}"
    program = read(
        f"G0 X{start[0]:.4f} Y{start[1]:.4f}", "G1 Z-2.2 F100",
        f"G3 X{ahead[0]:.4f} Y{ahead[1]:.4f} I{30 - start[0]:.4f} J{20 - start[1]:.4f}",
        "G1 Z-3.3", f"G3 X{start[0]:.4f} Y{start[1]:.4f} {back}",
    )  # fmt: skip
    (tab,) = tabs_left(program, shapely.box(0, 0, 60, 60), BIT, BOTTOM, 0.8)
    part = min(tab.walls, key=lambda wall: wall.at[0])
    assert part.length_mm == pytest.approx(lift * 10 / 11, abs=0.02)
    assert part.at == pytest.approx((40, 20), abs=0.01)
    assert tab.neck_mm == pytest.approx(2 * path * np.sin(angle) - BIT, abs=0.02)


def test_several_tabs_come_from_left_to_right_and_a_part_without_has_none():
    lifts = ("X15", "Z-2.2", "X20", "Z-3.3", "X40", "Z-2.2", "X45", "Z-3.3")
    assert [tab.middle[0] for tab in tabs_left(square(*lifts), SHEET, BIT, BOTTOM, 0.8)] == pytest.approx(
        [17.5, 42.5], abs=0.01
    )
    assert tabs_left(square(), SHEET, BIT, BOTTOM, 0.8) == ()


def test_a_tab_that_stands_on_the_bottom_of_the_cut_and_not_of_the_stock_is_found_lower():
    low = ("X27.5", f"Z{-3.3 + 0.8}", "X32.5", "Z-3.3")
    (tab,) = tabs_left(square(*low), SHEET, BIT, BOTTOM, 0.8)
    assert tab.height_mm == pytest.approx(0.5)


def test_the_height_at_a_point_is_the_lowest_pass_of_the_bit_over_it():
    program = square("X27.5", "Z-2.2", "X32.5", "Z-3.3")
    assert lowest_over(program, BIT, (30.0, 9.0)) == pytest.approx(-2.2)
    assert lowest_over(program, BIT, (20.0, 9.9)) == pytest.approx(-3.3)
    assert lowest_over(program, BIT, (20.0, 10.1)) == np.inf
