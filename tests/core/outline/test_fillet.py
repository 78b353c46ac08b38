"""Corners of a Chain: a fillet's closed forms, and sharp and round as each other's undoing."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.outline.chain import Chain
from core.outline.fillet import rounded, sharpened, turns


def corner(angle: float, length: float = 50.0) -> Chain:
    """Two lines that meet at the origin, the second turned by angle from the first."""
    end = (length * np.cos(angle), length * np.sin(angle))
    return Chain(np.array([(-length, 0.0), (0.0, 0.0), end]), np.zeros(2), 1, 0)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.2, 2.6), st.sampled_from([-1.0, 1.0]), st.floats(0.5, 3.0))
def test_a_fillet_between_lines_begins_r_tan_of_half_the_turn_before_the_corner(turn, side, radius):
    """Elementary geometry: the tangents from a point to a circle are as long."""
    made = rounded(corner(side * turn), 1, radius)
    assert made.points[1] == pytest.approx((-radius * np.tan(turn / 2.0), 0.0), abs=1e-9)
    assert made.segments().radii()[1] == pytest.approx(radius, rel=1e-9)
    assert made.bulges[1] == pytest.approx(side * np.tan(turn / 4.0), rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.2, 2.6), st.floats(-0.4, 0.4), st.floats(-0.4, 0.4), st.floats(0.5, 3.0))
def test_round_and_sharp_undo_each_other_whatever_the_sides_are(turn, first, second, radius):
    straight = corner(turn)
    bent = Chain(straight.points, np.array([first, second]), 1, 0)
    if abs(turns(bent.segments())[1]) < 0.1:
        return
    round_one = rounded(bent, 1, radius)
    if round_one is None:
        return
    sharp = sharpened(round_one, 1)
    assert sharp is not None
    again, joint = sharp
    assert joint == 1
    assert np.abs(again.points - bent.points).max() < 1e-7
    assert np.abs(again.bulges - bent.bulges).max() < 1e-7


def test_a_fillet_that_is_larger_than_its_sides_is_none():
    assert rounded(corner(np.pi / 2.0, 10.0), 1, 10.5) is None
    assert rounded(corner(np.pi / 2.0, 10.0), 1, 9.5) is not None


def test_a_ring_is_rounded_at_its_own_start():
    points = np.array([(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0), (0.0, 0.0)])
    made = rounded(Chain(points, np.zeros(4), 1, 0), 0, 2.0)
    assert made.is_ring
    assert len(made.bulges) == 5
    assert np.hypot(*made.points.T).min() > 1.9
