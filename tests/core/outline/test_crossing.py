"""Crossings of lines and arcs against their closed forms and against shapely."""

import numpy as np
import pytest
import shapely

from core.outline.crossing import SNAP, meetings, quadratics
from core.outline.curve import equations_at, joined, picked, turned_fractions
from core.outline.segments import Segments


def row(start, end, bulge=0.0):
    return Segments(np.array([start], dtype=float), np.array([end], dtype=float), np.array([bulge]))


def met(a, b):
    found = meetings(joined([a, b]), np.array([0]), np.array([1]))
    return np.unique(np.round(found.places, 9), axis=0)


def test_a_line_crosses_a_half_circle_where_pythagoras_says():
    places = met(row((-9, 3), (9, 3)), row((5, 0), (-5, 0), 1.0))
    np.testing.assert_allclose(places, [[-4.0, 3.0], [4.0, 3.0]], atol=1e-9)


def test_a_line_through_the_other_half_meets_nothing():
    assert met(row((-9, -3), (9, -3)), row((5, 0), (-5, 0), 1.0)).size == 0


def test_two_circles_cross_on_their_radical_line():
    places = met(row((5, 0), (-5, 0), 1.0), row((11, 0), (1, 0), 1.0))
    np.testing.assert_allclose(places, [[3.0, 4.0]], atol=1e-9)


@pytest.mark.parametrize("gap", [0.0, 0.4 * SNAP, -0.4 * SNAP])
def test_a_line_that_grazes_a_circle_within_the_snap_touches_it(gap):
    places = met(row((-9, 5.0 + gap), (8, 5.0 + gap)), row((5, 0), (-5, 0), 1.0))
    assert len(places) >= 1
    assert np.abs(places - np.array([0.0, 5.0])).max() < np.sqrt(4.0 * 5.0 * SNAP)


def test_a_line_farther_off_than_the_snap_does_not_touch():
    assert met(row((-9, 5.0 + 1.5 * SNAP), (8, 5.0 + 1.5 * SNAP)), row((5, 0), (-5, 0), 1.0)).size == 0


def test_lines_on_one_another_meet_at_the_ends_they_share():
    np.testing.assert_allclose(met(row((0, 0), (6, 2)), row((3, 1), (9, 3))), [[3, 1], [6, 2]], atol=1e-12)


def test_arcs_on_one_circle_meet_at_the_ends_they_share():
    circle = np.array([[np.cos(a), np.sin(a)] for a in (0.0, 1.0, 2.0, 3.0)]) * 7.0
    bulge = np.tan(0.5)
    places = met(row(circle[0], circle[2], bulge), row(circle[3], circle[1], -bulge))
    np.testing.assert_allclose(places, sorted(np.round(circle[1:3], 9).tolist()), atol=1e-8)


@pytest.mark.parametrize("bulge", [0.0, 1e-13, 1e-9, 1e-5, 1e-2])
def test_flat_arcs_cross_as_well_as_lines_do(bulge):
    places = met(row((0, 0), (100, 0), bulge), row((40, -30), (60, 30)))
    assert len(places) == 1
    assert equations_at(row((0, 0), (100, 0), bulge), places)[0] == pytest.approx(0.0, abs=1e-8)
    assert equations_at(row((40, -30), (60, 30)), places)[0] == pytest.approx(0.0, abs=1e-8)


def anything(rng, count):
    bulges = np.where(
        rng.random(count) < 0.3, 0.0, rng.normal(0, 1, count) * 10.0 ** rng.uniform(-9, 0, count)
    )
    return Segments(rng.uniform(-10, 10, (count, 2)), rng.uniform(-10, 10, (count, 2)), bulges)


def test_the_quadratic_is_the_equation_of_one_segment_along_the_other():
    rng = np.random.default_rng(0)
    a, b, u = anything(rng, 2000), anything(rng, 2000), rng.uniform(0, 1, 2000)
    q0, q1, q2 = quadratics(a, b)
    weight = (1 - u) ** 2 + 2 * u * (1 - u) * np.cos(a.half_sweeps()) + u**2
    along = a.points_at(turned_fractions(a.half_sweeps(), u, 1.0 - u))
    value = q0 * (1 - u) ** 2 + 2 * q1 * u * (1 - u) + q2 * u**2
    np.testing.assert_allclose(value, equations_at(b, along) * weight, atol=1e-10)


def test_random_segments_meet_as_often_as_their_flattenings():
    rng = np.random.default_rng(1)
    count = 400
    both = joined([anything(rng, count), anything(rng, count)])
    found = meetings(both, np.arange(count), np.arange(count) + count)
    ours = np.bincount(found.firsts, minlength=count)
    lines = [
        shapely.LineString(np.vstack((picked(both, np.array([k])).corners(1e-5), both.ends[k : k + 1])))
        for k in range(2 * count)
    ]
    theirs = [
        len(shapely.get_coordinates(shapely.intersection(lines[k], lines[k + count]))) for k in range(count)
    ]
    assert ours.tolist() == theirs
    first = picked(both, found.firsts).points_at(found.first_at)
    second = picked(both, found.seconds).points_at(found.second_at)
    assert np.abs(first - second).max() < 1e-10
