"""Painter paths against the Loops that they are made of."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QPointF

from app.desk.paths import path_of, path_of_loops, path_of_run
from core.outline.loop import Loop
from core.outline.region import Region

BEND = st.floats(-1.5, 1.5)


@settings(max_examples=60)
@given(st.lists(st.tuples(st.floats(-200, 200), st.floats(-200, 200), BEND), min_size=3, max_size=8))
def test_a_run_passes_through_every_point_and_keeps_to_its_arcs(rows):
    table = np.array(rows)
    points, bulges = table[:, :2], table[:-1, 2]
    path = path_of_run(points, bulges)
    seen = [(path.elementAt(i).x, -path.elementAt(i).y) for i in range(path.elementCount())]
    for point in points.tolist():
        assert min(math.dist(point, one) for one in seen) < 1e-9


def test_an_arc_of_a_metre_in_radius_ends_where_it_should_and_strays_by_less_than_a_hair():
    radius, half = 1000.0, math.asin(2.5 / 1000.0)
    path = path_of_run(np.array([[0.0, 0.0], [5.0, 0.0]]), np.array([math.tan(half / 2.0)]))
    end, middle = path.currentPosition(), path.pointAtPercent(0.5)
    assert (end.x(), end.y()) == (5.0, 0.0)
    assert middle.y() == pytest.approx(radius * (1.0 - math.cos(half)), abs=1e-9)


def test_every_place_of_a_drawn_circle_is_its_radius_away_from_the_middle():
    path = path_of_loops((Loop.circle((10.0, 20.0), 50.0),))
    gaps = [
        math.hypot(at.x() - 10.0, at.y() + 20.0) for at in (path.pointAtPercent(i / 97.0) for i in range(98))
    ]
    assert gaps == pytest.approx([50.0] * 98, abs=50.0 * 5e-6)


def test_openings_stay_empty():
    region = Region(Loop.circle((0.0, 0.0), 10.0), (Loop.circle((0.0, 0.0), 4.0).reversed(),))
    path = path_of((region,))
    assert path.contains(QPointF(0.0, 7.0))
    assert not path.contains(QPointF(0.0, 1.0))


def test_a_counter_clockwise_bulge_goes_to_the_right_of_its_chord_and_so_down_on_a_screen():
    path = path_of_run(np.array([[0.0, 0.0], [10.0, 0.0]]), np.array([1.0]))
    assert path.pointAtPercent(0.5).y() == pytest.approx(5.0, abs=1e-3)
