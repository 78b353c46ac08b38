"""Growth along some edges: all of them is the whole growth, none is nothing, and ends are as told."""

from math import pi

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BadShape
from core.outline.along import grown_along
from core.outline.offset import grown
from core.outline.polygon import to_polygon
from tests.support.shapes import any_shape, area, polygon, rectangle, same_shape, solid


def rows(regions, *chosen):
    count = sum(len(loop.bulges) for region in regions for loop in region.loops())
    flags = np.zeros(count, dtype=bool)
    flags[list(chosen)] = True
    return flags


def flat(regions):
    return shapely.union_all(to_polygon(regions, 1e-4).geoms)


@given(st.integers(0, 400))
@settings(max_examples=25, deadline=None)
def test_along_every_edge_it_is_the_whole_growth(seed):
    shape = any_shape(seed)
    every = rows(shape) | True
    assert same_shape(grown_along(shape, every, 0.7), grown(shape, 0.7), 0.003)


def test_along_no_edge_or_by_nothing_it_is_the_shape_itself():
    shape = solid(rectangle(10, 4))
    assert grown_along(shape, rows(shape), 1.0) is shape
    assert grown_along(shape, rows(shape, 0), 0.0) is shape
    with pytest.raises(BadShape):
        grown_along(shape, rows(shape, 0), -1.0)


def test_past_an_outside_corner_the_band_ends_in_a_quarter_disc():
    shape = solid(rectangle(10, 4))
    made = grown_along(shape, rows(shape, 0), 1.0)
    assert area(made) == pytest.approx(40.0 + 10.0 + 2.0 * pi / 4.0, abs=1e-9)


def test_in_an_inside_corner_the_band_ends_square_and_on_the_next_edge():
    notch = solid(polygon((0, 0), (20, 0), (20, 10), (12, 10), (12, 4), (8, 4), (8, 10), (0, 10)))
    made = grown_along(notch, rows(notch, 4), 1.5)  # the notch's floor, from wall to wall
    assert area(made) == pytest.approx(area(notch) + 4 * 1.5, abs=1e-9)
    assert len(made[0].outer.bulges) == 8


def test_where_the_next_edge_leans_away_no_wedge_stays_between():
    leaning = solid(polygon((0, 0), (30, 0), (30, 10), (25, 10), (20, 4), (10, 4), (5, 10), (0, 10)))
    made = grown_along(leaning, rows(leaning, 4), 1.0)
    wanted = flat(leaning).union(shapely.LineString([(10, 4), (20, 4)]).buffer(1.0, quad_segs=200))
    assert area(made) == pytest.approx(wanted.area, abs=1e-3)


@given(st.integers(0, 400), st.integers(0, 30), st.integers(1, 30))
@settings(max_examples=25, deadline=None)
def test_a_band_stays_within_its_distance_and_takes_nothing_away(seed, first, count):
    shape = any_shape(seed)
    every = rows(shape)
    every[(first + np.arange(count)) % len(every)] = True
    made = flat(grown_along(shape, every, 0.6))
    assert flat(shape).difference(made.buffer(0.003)).is_empty
    assert made.difference(flat(shape).buffer(0.603, quad_segs=64)).is_empty
