"""Regions as polygons: what flattening makes cross is mended before anything is overlaid."""

import numpy as np
import pytest
import shapely

from core.outline.loop import Loop
from core.outline.polygon import to_polygon, to_solid
from core.outline.region import Region

TOLERANCE = 0.005


def thin_ring(wall):
    """A ring whose inner circle has its corners between those of the outer one."""
    turn = np.pi / 40.0
    at = np.array([[np.cos(turn), np.sin(turn)], [-np.cos(turn), -np.sin(turn)]])
    inner = Loop((50.0 - wall) * at, np.array([1.0, 1.0])).reversed()
    return (Region(Loop.circle((0.0, 0.0), 50.0), (inner,)),)


def test_walls_thinner_than_the_flattening_cross_and_are_mended():
    ring = thin_ring(0.001)
    assert not shapely.is_valid(to_polygon(ring, TOLERANCE)).all()
    assert shapely.is_valid(to_solid(ring, TOLERANCE))


def test_what_does_not_cross_is_the_same_area():
    ring = thin_ring(1.0)
    flat = to_polygon(ring, TOLERANCE)
    assert to_solid(ring, TOLERANCE).area == pytest.approx(flat.area)
