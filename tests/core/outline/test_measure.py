"""Inside, outside and how far: closed forms on circles, shapely on the rest."""

import numpy as np
import pytest
import shapely

from core.errors import BadShape
from core.outline.loop import Loop
from core.outline.measure import contains, distances, signed_distances
from core.outline.polygon import to_polygon
from tests.support.shapes import any_shape, solid, variants

RING = solid(Loop.circle((0.0, 0.0), 10.0), Loop.circle((1.0, 0.0), 3.0).reversed())


def scattered(count, seed=0, reach=13.0):
    return np.random.default_rng(seed).uniform(-reach, reach, (count, 2))


def test_distances_to_circles_are_exact():
    places = scattered(5000)
    outer, inner = np.hypot(*places.T), np.hypot(places[:, 0] - 1.0, places[:, 1])
    exact = np.minimum(np.abs(outer - 10.0), np.abs(inner - 3.0))
    np.testing.assert_allclose(distances(RING[0].loops(), places), exact, atol=1e-12)
    signs = np.where((outer < 10.0) & (inner > 3.0), 1.0, -1.0)
    np.testing.assert_allclose(signed_distances(RING, places), signs * exact, atol=1e-12)


@pytest.mark.parametrize("offset", [1e-3, 1e-6, 1e-9])
def test_a_point_a_nanometre_from_an_arc_is_told_to_the_right_side(offset):
    angles = np.random.default_rng(1).uniform(0.0, 2.0 * np.pi, 500)
    rim = np.column_stack((np.cos(angles), np.sin(angles)))
    assert contains(RING, rim * (10.0 - offset)).all()
    assert not contains(RING, rim * (10.0 + offset)).any()


@pytest.mark.parametrize("seed", range(12))
def test_inside_and_far_agree_with_a_fine_polygon(seed):
    shape = any_shape(seed)
    flat = shapely.union_all(to_polygon(shape, 1e-6).geoms)
    places = scattered(400, seed, 25.0)
    spots = shapely.points(places)
    np.testing.assert_allclose(
        distances(shape[0].loops(), places), shapely.distance(flat.boundary, spots), atol=2e-6
    )
    clear = shapely.distance(flat.boundary, spots) > 2e-6
    assert (contains(shape, places) == shapely.contains(flat, spots))[clear].all()


def test_it_does_not_matter_how_a_loop_is_told():
    shape = any_shape(3)
    places = scattered(100, 3, 25.0)
    first = distances(shape[0].loops(), places)
    for loop in variants(shape[0].outer):
        np.testing.assert_allclose(distances((loop,), places), first, atol=1e-10)


def test_nothing_holds_no_point_and_has_no_distance():
    assert contains((), scattered(3)).tolist() == [False] * 3
    assert distances(RING[0].loops(), np.empty((0, 2))).shape == (0,)
    with pytest.raises(BadShape):
        distances((), scattered(3))
