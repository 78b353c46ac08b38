"""Regions and the polygons made of them."""

import numpy as np
import pytest

from core.errors import BadShape
from core.outline.loop import Loop
from core.outline.nest import nested
from core.outline.polygon import to_polygon
from core.outline.region import Region, bounds_of, mapped
from tests.support.shapes import rectangle, solid

OUTER, HOLE = rectangle(10.0, 6.0), Loop.circle((5.0, 3.0), 1.0).reversed()


def test_an_opening_is_taken_off_the_area():
    assert Region(OUTER, (HOLE,)).area() == pytest.approx(60.0 - np.pi)
    assert to_polygon(solid(OUTER, HOLE), 1e-5).area == pytest.approx(60.0 - np.pi, abs=1e-4)


def test_a_region_that_turns_the_wrong_way_is_refused():
    with pytest.raises(BadShape):
        Region(OUTER.reversed())
    with pytest.raises(BadShape):
        Region(OUTER, (HOLE.reversed(),))


def test_moving_moves_every_loop():
    (region,) = mapped(solid(OUTER, HOLE), lambda loop: loop.moved(3.0, -1.0))
    assert bounds_of(region.loops()) == pytest.approx((3.0, -1.0, 13.0, 5.0))
    assert bounds_of(region.openings) == pytest.approx((7.0, 1.0, 9.0, 3.0))
    with pytest.raises(BadShape):
        bounds_of(())


def test_loops_are_nested_by_the_smallest_outer_round_them():
    rings = [Loop.circle((0.0, 0.0), radius) for radius in (9.0, 7.0, 5.0, 3.0)]
    loops = [rings[0], rings[1].reversed(), rings[2], rings[3].reversed()]
    found = nested(loops[::-1])
    assert sorted(region.area() / np.pi for region in found) == pytest.approx([16.0, 32.0])
    with pytest.raises(BadShape):
        nested([HOLE])
