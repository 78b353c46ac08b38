"""Offsets, corners and bulges against formulas and tables that are not ours."""

import numpy as np
import pytest

from core.outline.boolean import difference
from core.outline.loop import Loop
from core.outline.offset import grown, shrunk
from core.outline.segments import Segments
from tests.support.shapes import area, perimeter, polygon, rectangle, regular, solid

pytestmark = pytest.mark.outside

ELL = polygon((0, 0), (20, 0), (20, 10), (10, 10), (10, 20), (0, 20))


def opened(regions, radius):
    return grown(shrunk(regions, radius), radius)


# Minkowski-Steiner formula for convex sets in the plane: A + P r + pi r^2, P + 2 pi r
# (H. Federer, Geometric Measure Theory, 1969)
@pytest.mark.parametrize(
    "shape", [rectangle(100, 50), regular(3, 30), regular(6, 10), Loop.circle((1.0, 2.0), 7.0)]
)
@pytest.mark.parametrize("radius", [0.2, 1.5875, 40.0])
def test_steiner_tells_area_and_perimeter_of_a_grown_convex_shape(shape, radius):
    result = grown(solid(shape), radius)
    assert area(result) == pytest.approx(
        shape.signed_area() + shape.length() * radius + np.pi * radius**2, rel=1e-12
    )
    assert perimeter(result) == pytest.approx(shape.length() + 2.0 * np.pi * radius, rel=1e-12)


# Values by Steiner's formula and, inwards, by plane trigonometry
@pytest.mark.parametrize(
    ("result", "length", "surface"),
    [
        (grown(solid(rectangle(100, 50)), 3), 318.849555922, 5928.274333882),
        (shrunk(solid(rectangle(100, 50)), 3), 276.0, 4136.0),
        (grown(solid(rectangle(20, 20)), 1.5875), 89.974556675, 534.917304361),
        (opened(solid(rectangle(20, 20)), 1.5875), 77.274557, 397.836679),
        (shrunk(solid(regular(3, 30)), 1), 3 * 26.535898, 304.907584),
        (grown(solid(regular(6, 10)), 2), 72.566370614, 392.373991750),
        (shrunk(solid(regular(6, 10)), 2), 6 * 7.690598923, 153.664027596),
        (grown(solid(ELL), 1), 85.853981634, 382.926990817),
        (shrunk(solid(ELL), 1), 71.570796327, 224.214601837),
        (opened(solid(ELL), 1), 77.853981634, 298.926990817),
    ],
    ids=lambda value: f"{value:g}" if isinstance(value, float) else "",
)
def test_offsets_have_the_worked_perimeters_and_areas(result, length, surface):
    assert perimeter(result) == pytest.approx(length, abs=2e-6)
    assert area(result) == pytest.approx(surface, abs=2e-6)


def test_an_opened_triangle_loses_three_corners():
    assert area(opened(solid(regular(3, 30)), 1)) == pytest.approx(387.656872, abs=1e-6)


# A ring of two circles shrunk: both radii move by r; gone from r = (R1 - R2) / 2 on
def test_a_ring_shrinks_from_both_sides_until_it_is_gone():
    ring = solid(Loop.circle((0.0, 0.0), 10.0), Loop.circle((0.0, 0.0), 6.0).reversed())
    assert area(shrunk(ring, 1.5)) == pytest.approx(np.pi * (8.5**2 - 7.5**2), rel=1e-12)
    assert shrunk(ring, 2.0) == ()


# What a round cutter of radius r leaves in a straight corner of angle theta: area
# r^2 (cot(theta / 2) - (pi - theta) / 2), reach r (1 / sin(theta / 2) - 1), plane trigonometry
@pytest.mark.parametrize(
    ("degrees", "left_over", "reach"),
    [
        (30, 2.423053869, 2.863703305),
        (45, 1.236116317, 1.613125930),
        (60, 0.684853256, 1.000000000),
        (90, 0.214601837, 0.414213562),
        (108, 0.098223997, 0.236067977),
        (120, 0.053751494, 0.154700538),
        (135, 0.021514481, 0.082392200),
        (150, 0.006149805, 0.035276180),
    ],
)
@pytest.mark.parametrize("radius", [0.5, 1.5875])
def test_a_round_bit_leaves_in_a_corner_what_trigonometry_says(degrees, left_over, reach, radius):
    angle = np.radians(degrees)
    far = 20.0
    wedge = polygon((0, 0), (far, 0), (far * np.cos(angle), far * np.sin(angle)))
    left = difference(solid(wedge), opened(solid(wedge), radius))
    corner = min(left, key=lambda region: np.hypot(*region.outer.points.T).min())
    assert corner.area() == pytest.approx(left_over * radius**2, rel=1e-6)
    bisector = np.array([np.cos(angle / 2), np.sin(angle / 2)])
    middle = corner.outer.segments().midpoints()[np.flatnonzero(corner.outer.bulges)[0]]
    assert middle @ bisector == pytest.approx(reach * radius, abs=1e-6)


# DXF Reference, LWPOLYLINE, group 42: the bulge is the tangent of a quarter of the included angle
@pytest.mark.parametrize(
    ("degrees", "bulge", "radius_by_chord"),
    [
        (30, 0.1316524976, 1.9318516526),
        (45, 0.1989123674, 1.3065629649),
        (60, 0.2679491924, 1.0),
        (90, 0.4142135624, 0.7071067812),
        (120, 0.5773502692, 0.5773502692),
        (180, 1.0, 0.5),
        (240, 1.7320508076, 0.5773502692),
        (270, 2.4142135624, 0.7071067812),
        (300, 3.7320508076, 1.0),
    ],
)
def test_a_bulge_means_what_the_dxf_reference_says(degrees, bulge, radius_by_chord):
    arc = Segments(np.array([[1.0, 2.0]]), np.array([[4.0, 6.0]]), np.array([bulge]))
    assert np.degrees(2.0 * arc.half_sweeps()[0]) == pytest.approx(degrees, abs=1e-7)
    assert arc.radii()[0] == pytest.approx(5.0 * radius_by_chord, rel=1e-9)


# DXF Reference, same place: positive is counter-clockwise, so the arc lies to the right of its chord
@pytest.mark.parametrize(
    ("bulge", "centre", "lowest"),
    [
        (np.tan(np.pi / 8), (5.0, 5.0), -2.0710678),
        (1.0, (5.0, 0.0), -5.0),
        (np.tan(3 * np.pi / 8), (5.0, -5.0), -12.0710678),
    ],
)
def test_a_positive_bulge_lies_to_the_right_of_its_chord(bulge, centre, lowest):
    arc = Segments(np.array([[0.0, 0.0]]), np.array([[10.0, 0.0]]), np.array([bulge]))
    assert arc.centres()[0] == pytest.approx(centre)
    assert arc.midpoints()[0] == pytest.approx((5.0, lowest), abs=1e-6)
