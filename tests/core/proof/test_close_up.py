"""The close look at an edge: closed forms, and a hollow that the overlay library leaves out."""

from itertools import pairwise

import numpy as np
import pytest
import shapely

from core.proof.close_up import looks_at, worst_at
from core.proof.part import judge_closely, judge_edge

CORNER = shapely.Polygon([(0, 0), (20, 0), (20, 8), (8, 8), (8, 20), (0, 20)])
RADIUS = 1.5


def left_by_a_bit(outline, radius):
    """The closing with the inside corner at (8, 8) rounded by construction."""
    square = shapely.box(8, 8, 8 + radius, 8 + radius)
    disc = shapely.Point(8 + radius, 8 + radius).buffer(radius, quad_segs=512)
    return shapely.union(outline, square.difference(disc))


def test_what_is_left_by_a_bit_is_the_true_closing():
    left = left_by_a_bit(CORNER, RADIUS)
    assert worst_at(left, CORNER, RADIUS, np.array([[8.0, 8.0], [20.0, 0.0], [3.0, 20.0]])) < 5e-4


@pytest.mark.parametrize("off", [0.012, 0.05])
def test_what_is_off_stays_off(off):
    left = left_by_a_bit(CORNER, RADIUS).difference(shapely.box(10, 8 - off, 11, 9))
    looks = looks_at(left, CORNER, 0.01)
    assert worst_at(left, CORNER, RADIUS, looks.places) == pytest.approx(off, abs=1e-3)
    assert judge_closely("part.nc", left, CORNER, 2.0 * RADIUS).findings != ()
    more = left_by_a_bit(CORNER, RADIUS).union(shapely.box(10, 7, 11, 8 + off))
    assert judge_closely("part.nc", more, CORNER, 2.0 * RADIUS).findings != ()


def test_a_shallow_hollow_that_a_buffer_leaves_out_is_no_fault():
    """Two pieces of 0.02 mm in the corner: grown by 1.5 mm at once, they vanish from the edge."""
    outline = shapely.Polygon([(0, 0), (20, 0), (20, 8.3), (8.02, 8.0), (8.0, 8.02), (8, 20), (0, 20)])
    for radius in (1.5, 3.0):
        grown = shapely.union_all(
            [outline, *(shapely.LineString(pair).buffer(radius, quad_segs=400) for pair in _sides(outline))]
        )
        shrunk = [shapely.LineString(pair).buffer(radius, quad_segs=400) for pair in _sides(grown)]
        left = grown.difference(shapely.union_all(shrunk))
        assert judge_closely("part.nc", left, outline, 2.0 * radius).findings == ()
        assert judge_edge("part.nc", left, outline, 2.0 * radius).edge.rms_mm < 0.01


def _sides(area):
    return pairwise(shapely.get_coordinates(area.boundary))
