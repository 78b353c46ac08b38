"""The simulated blade against the closed form of the tractrix."""

from math import atan, exp, pi, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.proof.blade import Blade, closed_tip, tips_along

E = 0.25


def beside(turn, way):
    """How far the tip lies beside the shaft's way after running straight for a while, mm."""
    (tip,) = tips_along([np.array([[0.0, 0.0], [way, 0.0]])], Blade(E, turn))
    return tip[-1, 1]


@given(st.floats(-3.1, 3.1), st.floats(0.01, 2.0))
def test_the_tip_dies_onto_the_line_as_a_tractrix_does(turn, way):
    psi = 2.0 * atan(tan(turn / 2.0) * exp(-way / E))
    assert beside(turn, way) == pytest.approx(-E * sin(psi), abs=1e-9)


@given(st.floats(-3.1, 3.1), st.lists(st.floats(0.01, 0.5), min_size=1, max_size=6))
def test_a_way_in_pieces_is_the_way_in_one(turn, ways):
    shaft = np.column_stack((np.concatenate(([0.0], np.cumsum(ways))), np.zeros(len(ways) + 1)))
    (tip,) = tips_along([shaft], Blade(E, turn))
    assert tip[-1, 1] == pytest.approx(beside(turn, sum(ways)), abs=1e-9)


def test_the_tip_stays_where_it_is_while_the_shaft_swings_about_it():
    angles = np.linspace(0.0, pi / 2.0, 400)
    (tip,) = tips_along([E * np.column_stack((np.cos(angles), np.sin(angles)))], Blade(E, 0.0))
    assert np.abs(tip).max() < 1e-3


def test_a_lifted_knife_keeps_its_direction():
    first, second = np.array([[0.0, 0.0], [0.0, 9.0]]), np.array([[50.0, 0.0], [50.0, 1.0]])
    _, tip = tips_along([first, second], Blade(E, 0.3))
    assert tip[0] == pytest.approx((50.0, -E), abs=1e-9)
    assert tip[-1] == pytest.approx((50.0, 1.0 - E), abs=1e-9)


def test_a_contour_ends_where_it_comes_back_to_its_start():
    square = np.array([[0.5, 0], [1, 0], [1, 1], [0, 1], [0, 0], [0.9, 0.0]])
    ring = closed_tip(square, 0.4, 0.1)
    assert ring[-1] == pytest.approx((0.5, 0.0))
    assert len(ring) == 6
    whole = closed_tip(square[:5], 0.0, 0.1)  # never comes back: the nearest place is told
    assert whole[-1] == pytest.approx((0.0, 0.0))


#: Error over offset 1, 2, 3 and 5 offsets after a corner (tan(psi / 2) = tan(psi0 / 2) exp(-s), by hand).
TABLE = {
    90: (0.648054, 0.265802, 0.099328, 0.013475),
    60: (0.406455, 0.155323, 0.057442, 0.007780),
    45: (0.297845, 0.111764, 0.041227, 0.005582),
    30: (0.195249, 0.072431, 0.026676, 0.003611),
}


@pytest.mark.parametrize("turn", TABLE)
def test_a_corner_left_uncompensated_is_missed_by_the_known_error(turn):
    for offsets, error in zip((1, 2, 3, 5), TABLE[turn], strict=True):
        assert -beside(radians(turn), offsets * E) == pytest.approx(error * E, abs=1e-6)
