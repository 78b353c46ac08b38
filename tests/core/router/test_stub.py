"""The stub on the wall against closed forms, and against the wall walked in small steps."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.outline.loop import Loop
from core.outline.offset import grown
from core.outline.region import Region
from core.router.stub import stub_beside
from core.router.unrolled import Unrolled

RADIUS = 1.0
#: A path about a corner of the part at (10, 0): along, a quarter turn of the bit's radius, up; and the rest.
ROUND_A_CORNER = Loop(
    np.array([[0.0, -1.0], [10.0, -1.0], [11.0, 0.0], [11.0, 20.0], [0.0, 20.0]]),
    np.array([0.0, np.tan(np.pi / 8), 0.0, 0.0, 0.0]),
)
#: A path into an inside corner of the part: its notch has a corner of the path to the right at (10, 10).
INTO_A_CORNER = Loop(
    np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [20.0, 10.0], [20.0, 30.0], [0.0, 30.0]]), np.zeros(6)
)


def test_beside_a_line_the_wall_is_as_long_as_the_path():
    stub = stub_beside(Unrolled.of(ROUND_A_CORNER), 2.0, 7.0, RADIUS)
    assert stub.length_mm == pytest.approx(5.0)
    assert stub.at == pytest.approx((4.5, 0.0))


def test_a_turn_about_a_corner_of_the_part_leaves_no_wall():
    first, arc = 7.0, np.pi / 2.0
    stub = stub_beside(Unrolled.of(ROUND_A_CORNER), first, 10.0 + arc + 5.0, RADIUS)
    assert stub.length_mm == pytest.approx(3.0 + 5.0)
    assert stub.at == pytest.approx((10.0, 1.0))  # 3 mm to the corner, 1 mm up from it


def test_where_the_path_turns_to_the_right_the_bits_round_is_wall():
    stub = stub_beside(Unrolled.of(INTO_A_CORNER), 16.0, 24.0, RADIUS)
    assert stub.length_mm == pytest.approx(8.0 + np.pi / 2.0)
    assert stub.at == pytest.approx((10.0 - np.sqrt(0.5), 10.0 + np.sqrt(0.5)))


def test_a_stub_over_the_paths_first_point_is_the_same():
    path = Unrolled.of(ROUND_A_CORNER)
    one = stub_beside(path, -3.0, 2.0, RADIUS)
    other = stub_beside(path, path.length - 3.0, path.length + 2.0, RADIUS)
    assert one.length_mm == pytest.approx(other.length_mm)
    assert one.at == pytest.approx(other.at)


@given(st.floats(-40.0, 40.0), st.floats(1.0, 12.0))
def test_the_wall_walked_in_small_steps_is_as_long_and_has_the_same_middle(first, length):
    path = Unrolled.of(ROUND_A_CORNER)
    stub = stub_beside(path, first, first + length, RADIUS)
    wall = path.at(np.linspace(first, first + length, 20001)).to_left(RADIUS)
    # At a corner to the left the foot jumps back along the wall that the bit never comes to: none here but
    # at the two square corners of the far side, which are left out.
    steps = np.hypot(*np.diff(wall, axis=0).T)
    assume(steps.max() <= 0.1)
    assert stub.length_mm == pytest.approx(steps.sum(), abs=1e-6)
    half = np.searchsorted(np.cumsum(steps), stub.length_mm / 2.0)
    assert stub.at == pytest.approx(tuple(wall[min(half, len(wall) - 1)]), abs=2e-3)


def test_round_a_wall_of_many_corners_whose_arcs_are_written_as_lines_the_stub_is_the_wall():
    turn = 2.0 * np.pi * np.arange(240) / 240
    wall = Loop(8.0 * np.column_stack((np.cos(turn), np.sin(turn))), np.zeros(240))
    path = Unrolled.of(grown((Region(wall),), RADIUS)[0].outer)
    assert not path.segments.bulges.any()
    start = RADIUS * np.pi / 240  # the corner at which the run begins and ends is none of its own
    assert stub_beside(path, 0.0, path.length, RADIUS).length_mm - start == pytest.approx(
        wall.length(), abs=1e-3
    )
