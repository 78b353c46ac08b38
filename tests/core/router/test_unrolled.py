"""A path unrolled: distances, places, runs over several laps."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.outline.loop import Loop
from core.outline.segments import Segments
from core.router.unrolled import SHORTEST_MM, Unrolled, tidied, without_specks
from tests.core.router.sheet_after import rectangle

STADIUM = Loop(np.array([[0.0, 0], [10, 0], [10, 4], [0, 4]]), np.array([0.0, 1.0, 0.0, 1.0]))


def test_a_place_half_way_round_lies_opposite():
    path = Unrolled.of(STADIUM)
    assert path.length == pytest.approx(20 + 4 * np.pi)
    assert path.at(np.array([path.length / 2])).points[0] == pytest.approx((10, 4))


def test_the_left_of_a_counter_clockwise_path_is_inside():
    path = Unrolled.of(Loop.circle((5, 5), 3))
    inner = path.at(np.linspace(0, 40, 17)).to_left(1.0)
    assert np.hypot(*(inner - 5).T) == pytest.approx(np.full(17, 2.0))
    assert path.at(np.array([1.0])).curvatures == pytest.approx([1 / 3])


@settings(deadline=None, max_examples=50)
@given(st.lists(st.floats(0, 100), min_size=2, max_size=8, unique=True))
def test_a_run_is_as_long_as_its_distances_and_stays_on_the_path(distances):
    path = Unrolled.of(STADIUM)
    at = np.sort(distances)
    if at[-1] - at[0] < 1.0:
        return
    trail = path.trail(at)
    pieces = Segments.along(trail.points, trail.bulges)
    assert pieces.lengths().sum() == pytest.approx(at[-1] - at[0], abs=0.01)
    middles = pieces.midpoints()
    spots = path.at(np.array([path.nearest(tuple(point)) for point in middles])).points
    assert np.abs(spots - middles).max() < SHORTEST_MM


def test_no_move_of_a_run_is_shorter_than_a_controller_bears():
    path = Unrolled.of(STADIUM)
    trail = path.trail(np.array([0.0, 9.9999, 10.0004, 30.0, 30.0001, 40.0]))
    assert Segments.along(trail.points, trail.bulges).chord_lengths().min() >= SHORTEST_MM / 2


@settings(deadline=None, max_examples=50)
@given(st.floats(-20, 30), st.floats(-20, 25))
def test_the_nearest_place_is_nearer_than_any_sampled_one(x, y):
    path = Unrolled.of(STADIUM)
    samples = path.at(np.linspace(0, path.length, 2000)).points
    found = path.at(np.array([path.nearest((x, y))])).points[0]
    assert np.hypot(*(found - (x, y))) <= np.hypot(*(samples - (x, y)).T).min() + 1e-9


def test_arcs_beyond_a_half_turn_are_split_and_all_but_straight_ones_are_lines():
    loop = Loop(np.array([[0.0, 0], [10, 0], [10, 5]]), np.array([1e-7, 0.0, 3.0]))
    tidy = tidied(loop)
    assert np.abs(tidy.bulges).max() <= 1.0
    assert tidy.bulges[0] == 0.0
    assert tidy.signed_area() == pytest.approx(loop.signed_area(), rel=1e-4)


def test_crumbs_are_swept_up():
    points = np.array([[0.0, 0], [5, 0], [5.0005, 0.0005], [10, 0], [10, 8], [0, 8], [0, 0.0004]])
    tidy = tidied(Loop(points, np.zeros(7)))
    assert Segments.between(tidy.points, tidy.bulges).chord_lengths().min() >= SHORTEST_MM
    assert tidy.signed_area() == pytest.approx(80, abs=0.02)


def test_run_the_other_way_a_path_keeps_its_first_point_and_length():
    path = Unrolled.of(rectangle(0, 0, 8, 5))
    back = path.reversed()
    assert back.length == pytest.approx(path.length)
    assert back.at(np.array([3.0])).points == pytest.approx(path.at(np.array([path.length - 3.0])).points)


def test_specks_are_left_out_and_a_loop_without_any_is_itself():
    square = Loop(np.array([[0.0, 0.0], [30.0, 0.0], [30.0, 20.0], [0.0, 20.0]]), np.zeros(4))
    assert without_specks(square) is square
    corners = np.array([[0.0, 0.0], [30.0, 0.0], [30.0, 20.0], [30.0002, 20.0003], [0.0, 20.0]])
    left = without_specks(Loop(corners, np.array([0.0, 0.1, -0.6, 0.0, 0.0])))
    assert left.points.tolist() == square.points.tolist()
    assert left.bulges.tolist() == [0.0, 0.1, 0.0, 0.0]
