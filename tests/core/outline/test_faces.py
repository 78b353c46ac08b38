"""Unions of faces: Chains dropped, nothing fitted again, Loops that touch and never cross."""

import itertools

import numpy as np
import pytest
import shapely

from core.errors import BadShape
from core.outline.chain import Chain
from core.outline.faces import regions_of
from core.outline.outline import BEYOND, Face, Outline
from core.outline.polygon import to_polygon
from tests.support.shapes import area

SIDE = 3


def cell(column, line):
    return 1 + column + SIDE * line if 0 <= column < SIDE and 0 <= line < SIDE else BEYOND


def grid(bulge=0.0):
    """Squares 1 to 9 in rows from below, their shared sides bulged alike."""
    chains = []
    for x, y in itertools.product(range(SIDE + 1), repeat=2):
        here = np.array([x, y], dtype=float)
        if x < SIDE:
            chains.append(chain(here, here + np.array([1.0, 0.0]), bulge, cell(x, y), cell(x, y - 1)))
        if y < SIDE:
            chains.append(chain(here, here + np.array([0.0, 1.0]), bulge, cell(x - 1, y), cell(x, y)))
    faces = tuple(Face(0, (0.0, 0.0)) for _ in range(SIDE * SIDE + 1))
    return Outline(tuple(chains), faces, (0.0,) * len(chains))


def chain(start, end, bulge, left, right):
    return Chain(np.vstack((start, end)), np.array([bulge]), left, right)


def told(regions):
    return sorted((round(region.area(), 9), len(region.openings)) for region in regions)


def test_a_union_drops_the_chains_inside_it():
    (region,) = regions_of(grid(), frozenset(range(1, 10)))
    assert region.area() == pytest.approx(9.0)
    assert len(region.outer.bulges) == 12


def test_squares_that_touch_at_corners_stay_apart():
    assert told(regions_of(grid(), {1, 3, 5, 7, 9})) == [(1.0, 0)] * 5


def test_a_ring_of_squares_has_an_opening():
    assert told(regions_of(grid(), set(range(1, 10)) - {5})) == [(8.0, 1)]


def test_a_ring_pinched_at_a_corner_has_an_opening_that_touches_its_edge():
    (region,) = regions_of(grid(), set(range(1, 10)) - {5, 9})
    assert told((region,)) == [(7.0, 1)]
    assert [len(loop.bulges) for loop in region.loops()] == [12, 4]


@pytest.mark.parametrize("bulge", [0.0, 0.1, -0.15])
def test_every_set_of_faces_makes_valid_regions_whose_points_and_bulges_are_the_chains_own(bulge):
    outline = grid(bulge)
    own = {
        (*each.points[0].tolist(), *each.points[1].tolist(), float(each.bulges[0]))
        for one in outline.chains
        for each in (one, one.reversed())
    }
    for bits in range(1, 512, 5):
        faces = {index for index in range(1, 10) if bits >> (index - 1) & 1}
        regions = regions_of(outline, faces)
        flat = to_polygon(regions, 1e-3)
        assert flat.is_valid, shapely.is_valid_reason(flat)
        for loop in (loop for region in regions for loop in region.loops()):
            after = np.roll(loop.points, -1, axis=0)
            rows = np.column_stack((loop.points, after, loop.bulges)).tolist()
            assert {tuple(row) for row in rows} <= own


def test_two_sets_that_make_up_a_third_have_its_area():
    outline = grid(0.2)
    whole = area(regions_of(outline, {1, 2, 4, 5, 6, 8}))
    assert area(regions_of(outline, {1, 5, 6})) + area(regions_of(outline, {2, 4, 8})) == pytest.approx(whole)


def test_rings_are_loops_by_themselves_and_islands_regions_of_their_own():
    rings = [Chain(circle(r), np.array([1.0, 1.0]), k, k - 1) for k, r in ((1, 9.0), (2, 6.0), (3, 3.0))]
    outline = Outline(tuple(rings), tuple(Face(0, (0.0, 0.0)) for _ in range(4)), (0.0,) * 3)
    assert told(regions_of(outline, {1, 3})) == [(round(9 * np.pi, 9), 0), (round(45 * np.pi, 9), 1)]


def circle(radius):
    return np.array([[radius, 0.0], [-radius, 0.0], [radius, 0.0]])


def test_tangent_chains_at_a_node_are_told_apart_by_where_they_go():
    """Three half circles and a line that all leave (0, 0) upwards."""
    bulges = (1.0, 0.4, 0.0, -0.7)
    tops = [np.array([0.0, 0.0]), np.array([0.0, 8.0])]
    chains = tuple(
        chain(*tops, bulge, left, right)
        for bulge, left, right in zip(bulges, (1, 2, 3, 0), (0, 1, 2, 3), strict=True)
    )
    outline = Outline(chains, tuple(Face(0, (0.0, 0.0)) for _ in range(4)), (0.0,) * 4)
    assert len(regions_of(outline, {1, 3})) == 2
    assert to_polygon(regions_of(outline, {1, 3}), 1e-3).is_valid


def test_chains_that_do_not_close_are_refused():
    outline = Outline((chain(np.zeros(2), np.ones(2), 0.0, 1, 0),), (Face(0, (0, 0)),) * 2, (0.0,))
    with pytest.raises(BadShape):
        regions_of(outline, {1})


def test_scaling_before_or_after_gives_the_same_to_the_last_bit():
    (before,) = regions_of(grid(0.1).mapped(0.37, (1.0, -2.0)), {1, 2, 5})
    (after,) = regions_of(grid(0.1), {1, 2, 5})
    np.testing.assert_array_equal(before.outer.points, after.outer.points * 0.37 + np.array([1.0, -2.0]))
