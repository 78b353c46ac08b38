"""The lift that gives a tab its neck, against closed forms and against distances between many places."""

import numpy as np
import pytest
import shapely

from core.outline.loop import Loop
from core.router.neck import comes_back, half_lift_mm
from core.router.unrolled import Unrolled
from tests.support.shapes import polygon, rectangle

SPAN = 5.0  # mm: a neck of 3 and a bit of 2


def test_on_a_straight_run_the_lift_is_neck_and_bit():
    path = Unrolled.of(rectangle(40, 30))
    assert half_lift_mm(path, np.array([20.0]), SPAN)[0] == pytest.approx(2.5, abs=1e-5)


def test_round_a_circle_the_chord_is_neck_and_bit():
    path = Unrolled.of(Loop.circle((0.0, 0.0), 8.0))
    half = half_lift_mm(path, np.array([3.0]), SPAN)[0]
    assert 16.0 * np.sin(half / 8.0) == pytest.approx(SPAN, abs=1e-5)
    assert not comes_back(path, np.array([3.0]), SPAN)[0]


def test_where_the_path_comes_back_the_lift_grows_until_all_beyond_it_is_far_enough():
    """The neck of an hourglass: the run before the tab and the run after it come near each other."""
    path = Unrolled.of(polygon((0, 0), (20, 0), (12, 8), (20, 16), (0, 16), (8, 8)))
    middle = np.array([path.nearest((10.0, 0.0))])
    assert not comes_back(path, middle, SPAN)[0]
    at_tip = np.array([path.nearest((20.0, 0.0))])
    assert comes_back(path, at_tip, SPAN)[0]
    half = float(half_lift_mm(path, at_tip, SPAN)[0])
    ring = shapely.LinearRing(path.loop.points)
    place = float(at_tip[0])
    before = shapely.LineString([ring.interpolate(place - half - s) for s in np.linspace(0, SPAN, 500)])
    after = shapely.LineString([ring.interpolate(place + half + s) for s in np.linspace(0, SPAN, 500)])
    assert shapely.distance(before, after) == pytest.approx(SPAN, abs=0.01)


def test_a_path_that_is_too_short_for_the_neck_is_lifted_all_the_way_round():
    path = Unrolled.of(Loop.circle((0.0, 0.0), 1.0))
    assert half_lift_mm(path, np.array([0.0]), SPAN)[0] == pytest.approx(path.length / 2.0, rel=1e-4)
