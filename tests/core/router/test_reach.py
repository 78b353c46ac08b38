"""What a round bit leaves: closed forms of corners, and words for what it cannot reach."""

import math

import numpy as np
import pytest
import shapely

from core.errors import BadShape
from core.findings import Level
from core.outline.loop import Loop
from core.outline.region import Region
from core.router.bit import Bit
from core.router.reach import as_cut
from tests.core.router.sheet_after import BIT, circle_part, polygon, rectangle, solid

R = BIT.radius_mm


def wedge(degrees, size=20.0):
    """A square plate with a notch of this angle from its right side to the middle."""
    half = math.radians(degrees) / 2
    rise = min(size * math.tan(half), size - 1.0)
    run = rise / math.tan(half)
    return (Region(polygon((-20, -20), (run, -20), (run, -rise), (0, 0), (run, rise), (run, 20), (-20, 20))),)


@pytest.mark.parametrize("degrees", [30, 45, 60, 90, 120, 150])
def test_a_corner_keeps_what_the_closed_form_says(degrees):
    part = wedge(degrees)
    cut = as_cut(part, BIT)
    half = math.radians(degrees) / 2
    # Leftover of a disc in a corner: r^2 (cot(t/2) - (pi - t)/2); its depth r (1/sin(t/2) - 1).
    area = R**2 * (1 / math.tan(half) - (math.pi / 2 - half))
    reach = R * (1 / math.sin(half) - 1)
    assert cut.regions[0].area() - part[0].area() == pytest.approx(area, abs=1e-6)
    found = [finding for finding in cut.findings if finding.at == pytest.approx((0, 0), abs=1e-9)]
    assert len(found) == 1
    assert f"{reach:.2f}" in found[0].text
    assert found[0].level is (Level.NOTE if degrees >= 60 else Level.CAUTION)


def test_outside_corners_and_wide_curves_are_cut_as_asked():
    for part in ((Region(rectangle(0, 0, 30, 20)),), circle_part((0, 0), 12, Loop.circle((0, 0), 4))):
        cut = as_cut(part, BIT)
        assert cut.findings == ()
        assert solid(cut.regions).symmetric_difference(solid(part)).area < 1e-3


def test_cutting_again_what_is_already_as_cut_changes_nothing():
    once = as_cut(wedge(50), BIT).regions
    again = as_cut(once, BIT).regions
    assert again[0].area() == pytest.approx(once[0].area(), abs=1e-6)


def test_as_cut_never_loses_a_part_of_the_part():
    part = wedge(25)
    lost = solid(part).difference(solid(as_cut(part, BIT).regions).buffer(1e-3))
    assert lost.is_empty or lost.area < 1e-6


@pytest.mark.parametrize(("width", "fits"), [(1.9, False), (2.05, False), (2.2, True)])
def test_an_opening_narrower_than_the_bit_and_a_little_is_a_stop(width, fits):
    part = (Region(rectangle(0, 0, 30, 20), (rectangle(10, 10, 20, 10 + width).reversed(),)),)
    stops = [found for found in as_cut(part, BIT).findings if found.level is Level.STOP]
    assert [found.code for found in stops] == ([] if fits else ["bit-too-wide"])
    if not fits:
        assert "1.5 mm" in stops[0].remedy
        assert stops[0].at == pytest.approx((15, 10 + width / 2))


def test_a_slit_that_closes_up_is_a_caution_with_its_place_and_size():
    slit = polygon((0, 0), (30, 0), (30, 9.4), (15, 9.4), (15, 10.6), (30, 10.6), (30, 20), (0, 20))
    found = [each for each in as_cut((Region(slit),), BIT).findings if each.level is Level.CAUTION]
    assert [each.code for each in found] == ["bit-too-wide"]
    assert 15 <= found[0].at[0] <= 30
    assert "a 1 mm" in found[0].remedy


def test_parts_that_the_bit_cannot_go_between_are_a_stop_where_they_are_closest():
    near = (Region(rectangle(0, 0, 10, 10)), Region(rectangle(11, 0, 21, 10)))
    found = {each.code: each for each in as_cut(near, BIT).findings}
    assert found["several-parts"].level is Level.NOTE
    assert found["parts-too-close"].level is Level.STOP
    assert found["parts-too-close"].at[0] == pytest.approx(10)
    apart = (Region(rectangle(0, 0, 10, 10)), Region(rectangle(13, 0, 23, 10)))
    assert "parts-too-close" not in {each.code for each in as_cut(apart, BIT).findings}


def test_a_narrower_bit_leaves_less_everywhere():
    part = wedge(70)
    left = [as_cut(part, Bit(width, 1, 6.0)).regions[0].area() for width in (1.0, 1.5, 2.0, 3.175)]
    assert left == sorted(left)


def test_no_part_is_refused():
    with pytest.raises(BadShape):
        as_cut((), BIT)


def test_the_edge_left_is_where_the_bit_touches():
    cut = as_cut(wedge(40), BIT)
    path = solid(cut.centres).boundary
    wall = shapely.points(np.vstack([loop.flattened(0.01) for loop in cut.regions[0].loops()]))
    assert shapely.distance(path, wall) == pytest.approx(np.full(len(wall), R), abs=1e-3)
