"""Distances between edges, against closed forms."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from core.proof.edges import SPACING, distances_to, edge_distance, samples_along

SQUARE = shapely.box(0, 0, 40, 30)


@given(st.floats(0.001, 0.5), st.floats(0, 6.28))
def test_a_moved_disc_is_off_by_just_the_way_it_was_moved(shift, heading):
    disc = shapely.Point(0, 0).buffer(20, quad_segs=400)
    moved = shapely.affinity.translate(disc, shift * np.cos(heading), shift * np.sin(heading))
    found = edge_distance(disc, moved)
    assert found.max_mm == pytest.approx(shift, rel=0.01)
    assert found.rms_mm == pytest.approx(shift / np.sqrt(2), rel=0.02)


def test_a_notch_that_only_one_edge_has_is_seen_whichever_way_they_are_named():
    notched = SQUARE.difference(shapely.box(19.0, 29.5, 21.0, 31))
    for one, other in ((SQUARE, notched), (notched, SQUARE)):
        assert edge_distance(one, other).max_mm == pytest.approx(0.5)


def test_a_missing_opening_is_seen():
    opened = SQUARE.difference(shapely.Point(10, 10).buffer(2))
    assert edge_distance(SQUARE, opened).max_mm > 6.0


def test_edges_that_are_nothing_agree_and_nothing_against_something_does_not():
    nothing = shapely.Polygon()
    assert edge_distance(nothing, nothing).max_mm == 0.0
    assert edge_distance(SQUARE, nothing).max_mm == np.inf


def test_no_stretch_of_edge_is_left_without_a_point():
    samples = samples_along(SQUARE)
    assert samples.weights.max() <= SPACING
    assert samples.weights.sum() == pytest.approx(SQUARE.length)


def test_lines_and_points_that_an_overlay_leaves_beside_areas_change_nothing():
    square = shapely.box(0.0, 0.0, 10.0, 10.0)
    mixed = shapely.GeometryCollection([square, shapely.LineString([(20, 0), (30, 0)]), shapely.Point(40, 0)])
    moved = shapely.box(0.5, 0.0, 10.5, 10.0)
    assert edge_distance(moved, mixed) == edge_distance(moved, square)
    assert edge_distance(mixed, moved) == edge_distance(square, moved)
    assert distances_to(mixed, np.array([[12.0, 5.0], [25.0, 5.0]])).tolist() == [2.0, 15.0]
