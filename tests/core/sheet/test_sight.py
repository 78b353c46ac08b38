"""Sight edges: strips that lie as they are said to, and an error that is what simulated layings come to."""

import numpy as np
import pytest
import shapely

from core.outline.loop import Loop
from core.outline.measure import distances
from core.outline.region import Region
from core.sheet.edge_places import EdgePlaces
from core.sheet.fit_error import LAYINGS, Doubts, told_by
from core.sheet.sight import (
    FROM_STUB_MM,
    GAP_MM,
    LEAST_STRIPS,
    MOST_STRIPS,
    READING_MM,
    WIDE_MM,
    layings,
    sights_of,
    worst_error,
)
from core.sheet.sight_wrong import wrong_fits
from tests.support.shapes import rectangle, regular, rounded

COUNT = 10_000
DISC = Loop.circle((0.0, 0.0), 30.0)


def wavy(seed, size=45.0):
    """A smooth outline that is like nothing else, through tangent-continuous small arcs."""
    rng = np.random.default_rng(seed)
    angles = np.linspace(0.0, 2.0 * np.pi, 120, endpoint=False)
    waves = sum(
        rng.uniform(0.03, 0.12) / k * np.sin(k * angles + rng.uniform(0.0, 6.0)) for k in (1, 2, 3, 5)
    )
    radii = size * (1.0 + waves)
    points = radii[:, None] * np.column_stack((np.cos(angles), 0.8 * np.sin(angles)))
    return Loop(points, np.zeros(120))


OUTLINES = {
    "plate": rectangle(80.0, 50.0),
    "rounded": rounded(94.0, 118.0, 12.0),
    "triangle": regular(3, 90.0),
    **{f"wavy {seed}": wavy(seed) for seed in range(4)},
}


CORNERS = np.array([[-45.0, -36.0], [45.0, -36.0], [45.0, 36.0], [-45.0, 36.0]])


def sighted(outer, stubs=()):
    return sights_of(outer, (Region(outer),), stubs)


def _inner_side(strip, edge):
    """Places along the side of a strip that faces the part, two millimetres apart."""
    border = shapely.LinearRing(strip.flattened(1e-3))
    along = shapely.line_interpolate_point(border, np.arange(0.0, border.length, 0.1))
    facing = along[shapely.distance(along, edge) < GAP_MM + 0.01]
    return shapely.get_coordinates(facing[5::20])


def simulated(outer, found, rng):
    """(COUNT,) mm: each time every gap is read with an error, and the part slid until the gaps are as read.

    By brute force: the distance from places along each strip's inner side to the part's edge, and Newton's
    steps by numeric slopes. Nothing is shared with the prediction but what a gap is: the mean along a strip.
    """
    edge = shapely.LinearRing(outer.flattened(5e-3))
    inner = [_inner_side(mark.strip, edge) for mark in found.marks]
    begins = np.cumsum([0, *(len(side) for side in inner)])[:-1]
    sides = np.vstack(inner)
    hull = np.asarray(shapely.convex_hull(edge).exterior.coords)[:-1]
    middle = hull.mean(axis=0)

    def back(pose, points):
        c, s = np.cos(-pose[:, 2]), np.sin(-pose[:, 2])
        x = points[None, :, 0] - middle[0] - pose[:, None, 0]
        y = points[None, :, 1] - middle[1] - pose[:, None, 1]
        return np.stack((c[:, None] * x - s[:, None] * y, s[:, None] * x + c[:, None] * y), axis=2) + middle

    def gaps(pose):
        seen = back(pose, sides)
        away = shapely.distance(shapely.points(seen.reshape(-1, 2)), edge).reshape(len(pose), -1)
        return np.add.reduceat(away, begins, axis=1) / np.array([len(side) for side in inner])

    read = GAP_MM + READING_MM * rng.standard_normal((COUNT, len(inner)))
    still, step = np.zeros((1, 3)), 1e-4
    slopes = np.column_stack([(gaps(still + step * one) - gaps(still))[0] / step for one in np.eye(3)])
    pose = np.zeros((COUNT, 3))
    for _ in range(3):
        pose += (read - gaps(pose)) @ np.linalg.pinv(slopes).T
    c, s = np.cos(pose[:, 2, None]), np.sin(pose[:, 2, None])
    x, y = hull.T - middle[:, None]
    moved = np.stack((c * x - s * y, s * x + c * y), axis=2)
    off = moved + middle + pose[:, None, :2] - hull
    return float(np.sqrt((off**2).sum(axis=2).mean(axis=0)).max())


@pytest.mark.parametrize("name", OUTLINES)
def test_the_predicted_error_is_that_of_ten_thousand_layings_within_a_tenth(name):
    outer = OUTLINES[name]
    found = sighted(outer)
    assert found.error_mm == pytest.approx(simulated(outer, found, np.random.default_rng(7)), rel=0.1)


@pytest.mark.parametrize("name", OUTLINES)
def test_strips_are_four_to_six_and_lie_beside_the_edge_with_an_even_gap(name):
    outer = OUTLINES[name]
    found = sighted(outer)
    assert LEAST_STRIPS <= len(found.marks) <= MOST_STRIPS
    for mark in found.marks:
        away = distances((outer,), mark.strip.flattened(1e-4))
        assert away.min() == pytest.approx(GAP_MM, abs=2e-3)
        assert away.max() == pytest.approx(GAP_MM + WIDE_MM, abs=2e-3)
        assert 11.0 <= abs(mark.strip.signed_area()) / WIDE_MM <= 28.0
        assert not shapely.Polygon(outer.flattened(1e-3)).intersects(shapely.Point(mark.at))


def test_strips_keep_off_the_stubs_of_tabs():
    outer, stub = OUTLINES["plate"], ((40.0, 0.0), 2.5)
    found = sighted(outer, (stub,))
    assert np.hypot(*(found.feet.reshape(-1, 2) - stub[0]).T).min() >= stub[1] + FROM_STUB_MM


def test_an_edge_too_short_for_four_strips_has_too_few():
    assert len(sighted(rectangle(12.0, 9.0)).marks) < LEAST_STRIPS


def test_a_disc_has_no_up_and_no_error_can_be_told():
    assert sighted(DISC).error_mm is None


def test_two_sides_alone_do_not_tell_the_pose():
    points = np.array([[0.0, 10.0], [0.0, 40.0], [80.0, 10.0], [80.0, 40.0]])
    normals = np.array([[-1.0, 0.0], [-1.0, 0.0], [1.0, 0.0], [1.0, 0.0]])
    points, normals = points[:, None], normals[:, None]
    assert worst_error(points, normals, np.array([[0.0, 0.0], [80.0, 0.0], [80.0, 50.0]]), 0.15) is None


def test_a_plate_is_told_as_closely_as_the_closed_form_says():
    points = np.array([[0.0, -10.0], [0.0, 10.0], [40.0, 0.0], [20.0, 15.0]]) - [20.0, 0.0]
    normals = np.array([[-1.0, 0.0], [-1.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
    told = np.column_stack((normals, points[:, 0] * normals[:, 1] - points[:, 1] * normals[:, 0]))
    wanted = 0.15 * np.sqrt(np.trace(np.linalg.inv(told.T @ told)[:2, :2]))
    points, normals = points[:, None], normals[:, None]
    far = np.array([[-20.0, -20.0], [20.0, 20.0], [-20.0, 20.0], [20.0, -20.0]])
    assert worst_error(points, normals, far, 0.15) > wanted
    assert worst_error(points, normals, far * 1e-2, 0.15) == pytest.approx(wanted, rel=1e-2)


@pytest.mark.parametrize("seed", range(3))
def test_a_claim_of_95_in_100_by_sight_edges_holds_in_94_to_96_of_fresh_draws(seed):
    found = sighted(wavy(seed))
    doubts = Doubts(0.3, 0.002, 0.001)
    claim = told_by(layings(found, CORNERS, doubts, LAYINGS, np.random.default_rng(1))).claim_mm
    held = np.mean(layings(found, CORNERS, doubts, LAYINGS, np.random.default_rng(90 + seed)) <= claim)
    assert 0.94 <= held <= 0.96


def fits(outer):
    found = wrong_fits(EdgePlaces.of(outer), sighted(outer).feet)
    return {(fit.is_turned_over, round(abs(np.degrees(fit.turn)))) for fit in found}


def test_a_plate_fits_turned_by_half_a_turn_and_turned_over():
    found = fits(OUTLINES["plate"])
    assert (False, 180) in found
    assert {is_over for is_over, _ in found} == {False, True}


def test_a_triangle_fits_turned_by_a_third():
    assert any(not is_over and turn == 120 for is_over, turn in fits(OUTLINES["triangle"]))


def test_an_outline_like_nothing_else_fits_one_way_alone():
    assert all(fits(wavy(seed)) == set() for seed in (0, 4))
