"""A stroke covers what lies within half its width of its line, with the joins and caps that SVG 2 defines."""

import math

import pytest

from core.outline.measure import distances
from core.outline.offset import grown
from tests.support.artwork import area_mm2, artwork, regions_mm, svg


def stroke(shape, width, more=""):
    return svg(f'<g fill="none" stroke="black" stroke-width="{width}" {more}>{shape}</g>')


@pytest.mark.parametrize(("cap", "area"), [("butt", 80.0), ("square", 84.0), ("round", 80.0 + math.pi)])
def test_caps(cap, area):
    line = '<path d="M20 20h40"/>'
    assert area_mm2(stroke(line, 2, f'stroke-linecap="{cap}"')) == pytest.approx(area, rel=1e-9)


@pytest.mark.parametrize(("join", "corner"), [("miter", 1.0), ("bevel", 0.5), ("round", math.pi / 4.0)])
def test_joins_of_a_right_angle(join, corner):
    path = '<path d="M20 20h40v40"/>'
    area = 80.0 + 80.0 - 1.0 + corner
    assert area_mm2(stroke(path, 2, f'stroke-linejoin="{join}"')) == pytest.approx(area, rel=1e-9)


def test_a_tip_longer_than_the_limit_is_cut_straight():
    path = '<path d="M20 20L60 22L20 24"/>'
    sharp = area_mm2(stroke(path, 2, 'stroke-miterlimit="100"'))
    assert area_mm2(stroke(path, 2)) < sharp


@pytest.mark.parametrize("width", [2, 18, 22])
def test_a_ring_is_two_circles_and_one_wider_than_its_radius_a_disc(width):
    outer, inner = 10.0 + width / 2.0, max(10.0 - width / 2.0, 0.0)
    area = math.pi * (outer**2 - inner**2)
    assert area_mm2(stroke('<circle cx="50" cy="50" r="10"/>', width)) == pytest.approx(area, rel=1e-9)


def test_a_round_stroke_of_lines_and_arcs_is_the_offset_of_its_shape():
    path = "M20 20h40a15 15 0 0 1 0 30h-40z"
    outer = regions_mm(artwork(stroke(f'<path d="{path}"/>', 4, 'stroke-linejoin="round"')))
    filled = regions_mm(artwork(svg(f'<rect width="1" height="1"/><path d="{path}"/>')))
    by_offset = grown(filled[1:] if filled[0].area() < 2.0 else filled[:1], 2.0)
    assert outer[0].outer.signed_area() == pytest.approx(by_offset[0].outer.signed_area(), rel=1e-9)


def test_a_stroke_under_an_uneven_scale_is_uneven():
    x_min, y_min, x_max, y_max = regions_mm(
        artwork(stroke('<circle transform="scale(1 2)" cx="40" cy="20" r="10"/>', 4))
    )[0].outer.bounds()
    assert (x_max - x_min, y_max - y_min) == pytest.approx((24.0, 48.0), abs=0.005)


def test_the_edge_of_a_curved_stroke_is_half_its_width_away():
    data = stroke('<path d="M10 50C30 10 60 90 90 50"/>', 3, 'stroke-linecap="round"')
    region = regions_mm(artwork(data))[0]
    thin = regions_mm(artwork(stroke('<path d="M10 50C30 10 60 90 90 50"/>', 0.01)))[0]
    # both drawings are placed by their own box: they are compared by their middle
    middle = [
        (a + b) / 2.0 for a, b in zip(region.outer.bounds()[:2], region.outer.bounds()[2:], strict=True)
    ]
    other = [(a + b) / 2.0 for a, b in zip(thin.outer.bounds()[:2], thin.outer.bounds()[2:], strict=True)]
    moved = thin.outer.moved(middle[0] - other[0], middle[1] - other[1])
    gaps = distances((moved,), region.outer.points)
    assert gaps.max() == pytest.approx(1.5, abs=0.02)
    assert gaps.min() == pytest.approx(1.5, abs=0.02)
