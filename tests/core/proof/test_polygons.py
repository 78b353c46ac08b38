"""Contours made polygons by the proof's own formulas."""

import numpy as np
import pytest
import shapely

from core.proof.polygons import FLATNESS, area_of, closed_by, crossing_of, flat_ring, quarter_steps

SQUARE = np.array([[0.0, 0.0], [20.0, 0.0], [20.0, 20.0], [0.0, 20.0]])


def disc(x, y, radius, turn=1.0):
    return flat_ring(np.array([[x + radius, y], [x - radius, y]]), np.array([turn, turn]))


@pytest.mark.parametrize("radius", [0.3, 3.0, 60.0])
def test_two_half_turns_make_a_circle_within_the_flatness(radius):
    ring = disc(5.0, 7.0, radius)
    middles = (ring + np.roll(ring, -1, axis=0)) / 2.0 - [5.0, 7.0]
    assert np.hypot(*(ring - [5.0, 7.0]).T) == pytest.approx(radius)
    assert np.hypot(*middles.T).min() >= radius - FLATNESS * 1.01


def test_a_positive_bulge_lies_to_the_right_of_its_chord():
    # DXF Reference, LWPOLYLINE: from (0, 0) to (10, 0), bulge 1 passes through (5, -5)
    ring = flat_ring(np.array([[0.0, 0.0], [10.0, 0.0]]), np.array([1.0, 0.0]))
    assert ring[:, 1].min() == pytest.approx(-5.0, abs=FLATNESS)


def test_rings_inside_rings_are_openings_and_islands():
    rings = [SQUARE, disc(10, 10, 6, -1.0), disc(10, 10, 2)]
    assert area_of(rings).area == pytest.approx(400 - np.pi * 32, abs=0.05)


def test_touching_is_no_crossing_and_crossing_is():
    touching = [SQUARE, SQUARE + 20.0]
    assert crossing_of(touching) is None
    assert crossing_of([SQUARE, SQUARE + 5.0]) is not None
    assert crossing_of([SQUARE[[0, 2, 1, 3]]]) is not None


def test_a_closing_rounds_inside_corners_and_keeps_outside_ones():
    # Serra 1982: the corner left over by a round bit is r^2 (1 - pi / 4) for a right angle
    ell = shapely.Polygon([(0, 0), (20, 0), (20, 10), (10, 10), (10, 20), (0, 20)])
    assert closed_by(ell, 1.0).area - ell.area == pytest.approx(1 - np.pi / 4, abs=1e-3)


def test_a_quarter_circle_has_chords_enough():
    for radius in (0.5, 1.0, 8.0):
        assert radius * (1 - np.cos(np.pi / 4 / quarter_steps(radius))) <= FLATNESS / 4


def test_a_ring_whose_neck_crosses_by_a_hair_is_not_lost():
    """As flattening makes of a thread between two lobes: overlaid at once, the whole ring would be gone."""
    lobes = [[0, 0], [4, 0], [5, 2.0001], [6, 0], [10, 0], [10, 4], [6, 4], [5, 1.9999], [4, 4], [0, 4]]
    beside = np.asarray(shapely.box(20, 0, 24, 4).exterior.coords)[:-1]
    assert area_of([np.array(lobes, dtype=float), beside]).area == pytest.approx(36.0 + 16.0, abs=1e-3)
