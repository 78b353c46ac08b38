"""The fit band is where a film's edge may come to lie beside the part's, laid off in any direction."""

from math import cos, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from core.decal.fit_band import fit_band
from core.outline.loop import Loop
from core.outline.offset import shrunk
from core.outline.polygon import to_polygon
from tests.support.shapes import area, rectangle, solid

PART = solid(rectangle(60, 40))
FILM = shrunk(PART, 0.8)


def flat(regions):
    return shapely.union_all(to_polygon(regions, 1e-3).geoms)


@given(st.floats(0.05, 1.5), st.floats(0.0, 2 * pi))
def test_every_laying_within_the_error_has_its_edge_in_the_band(off, way):
    band = fit_band([FILM], PART, 0.8, off)
    whole = flat(band.on_part).union(flat(band.over_edge)).buffer(0.01)
    moved = shapely.transform(flat(FILM), lambda at: at + 0.999 * off * np.array([cos(way), sin(way)]))
    assert whole.covers(moved.boundary)


def test_it_is_over_the_edge_only_where_the_error_is_more_than_the_inset():
    assert fit_band([FILM], PART, 0.8, 0.79).over_edge == ()
    over = fit_band([FILM], PART, 0.8, 1.0).over_edge
    assert area(over) == pytest.approx(0.2 * (60 + 40 + 60 + 40), rel=0.05)


def test_edges_inside_the_part_are_not_in_it():
    with_hole = solid(FILM[0].outer, Loop.circle((30, 20), 5).reversed())
    band = fit_band([with_hole], PART, 0.8, 0.3)
    assert not flat(band.on_part).intersects(shapely.Point(30, 20).buffer(6))
    two = (solid(rectangle(29.2, 38.4, (0.8, 0.8))), solid(rectangle(29.2, 38.4, (30, 0.8))))
    assert not flat(fit_band(two, PART, 0.8, 0.3).on_part).contains(shapely.Point(30, 20))
