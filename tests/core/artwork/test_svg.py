"""SVG in: shapes, places, units and paints are what SVG 2 says, and lines and arcs stay what they are."""

import math

import numpy as np
import pytest

from core.errors import UnreadableFile
from core.outline.measure import all_loops
from tests.support.artwork import area_mm2, artwork, regions_mm, svg


def bulges(data):
    return np.concatenate([loop.bulges for loop in all_loops(regions_mm(artwork(data)))])


def boxes(data):
    return sorted(loop.bounds() for loop in all_loops(regions_mm(artwork(data))))


def size(data):
    x_min, y_min, x_max, y_max = boxes(data)[0]
    return x_max - x_min, y_max - y_min


@pytest.mark.parametrize(
    ("shape", "area"),
    [
        ('<rect x="10" y="10" width="40" height="20"/>', 800.0),
        ('<rect x="10" y="10" width="40" height="20" rx="5"/>', 800.0 - (4.0 - math.pi) * 25.0),
        ('<circle cx="50" cy="50" r="20"/>', 400.0 * math.pi),
        ('<polygon points="0,0 10,0 10,10"/>', 50.0),
        ('<polyline points="0,0 10,0 10,10"/>', 50.0),
        ('<path d="M10 10h30v30h-30z"/>', 900.0),
        ('<path d="M10,10 l30,0 0,30 -30,0z m10,10 v10 h10 v-10z"/>', 800.0),
        ('<path d="M20 50a30 30 0 1 0 60 0 30 30 0 0 0-60 0"/>', 900.0 * math.pi),
        ('<path d="M20 50A30 30 0 0120 50 30 30 0 10 80 50z"/>', 450.0 * math.pi),
        ('<line x1="10" y1="10" x2="50" y2="10" stroke="red" stroke-width="2"/>', 80.0),
    ],
)
def test_shapes_of_lines_and_arcs_have_the_area_of_their_formula(shape, area):
    assert area_mm2(svg(shape)) == pytest.approx(area, rel=1e-9)


@pytest.mark.parametrize("radius", ["3e-374", "1e-200", "1e200", "1e-12"])
def test_an_arc_without_a_bend_that_anyone_sees_is_a_line(radius):
    path = f'<path d="M10 10h30v30A{radius} {radius} 0 0 1 10 40z"/>'
    assert area_mm2(svg(path)) == pytest.approx(900.0)


def test_an_oval_is_within_its_tolerance():
    area = area_mm2(svg('<ellipse cx="50" cy="50" rx="40" ry="15"/>'))
    assert area == pytest.approx(600.0 * math.pi, abs=0.002 * 200.0)


@pytest.mark.parametrize(
    "shape", ['<circle cx="50" cy="50" r="20"/>', '<path d="M20 50a30 30 0 1 0 60 0 30 30 0 0 0-60 0"/>']
)
def test_a_circle_is_two_arcs(shape):
    assert np.abs(bulges(svg(shape))) == pytest.approx([1.0, 1.0], rel=1e-12)


def test_four_curves_that_are_a_circle_are_a_circle():
    k = 10.0 * 0.5522847498
    path = f"M60 50C60 {50 + k} {50 + k} 60 50 60S40 {50 + k} 40 50 {50 - k} 40 50 40 60 {50 - k} 60 50z"
    found = bulges(svg(f'<path d="{path}"/>', 'width="50mm" viewBox="0 0 100 100"'))
    assert np.abs(found).tolist() == [1.0, 1.0]


def test_curves_that_are_straight_are_lines():
    assert bulges(svg('<path d="M10 10C20 10 30 10 40 10V40Q20 40 10 40z"/>')).tolist() == [0.0] * 4


@pytest.mark.parametrize(
    ("attributes", "wide", "tall"),
    [
        ('width="100mm" height="50mm" viewBox="0 0 50 25"', 20.0, 20.0),
        ('width="10cm" viewBox="0 0 50 25"', 20.0, 20.0),
        ('width="1in" height="1in" viewBox="0 0 100 50"', 2.54, 2.54),
        ('width="100mm" height="100mm" viewBox="0 0 50 25" preserveAspectRatio="none"', 20.0, 40.0),
        ('width="100mm" height="100mm" viewBox="0 0 50 25" preserveAspectRatio="xMinYMin slice"', 40.0, 40.0),
        ('width="72pt" height="6pc"', 10.0 * 25.4 / 96.0, 10.0 * 25.4 / 96.0),
    ],
)
def test_the_view_box_says_how_large_a_unit_is(attributes, wide, tall):
    assert size(svg('<rect x="2" y="2" width="10" height="10"/>', attributes)) == pytest.approx((wide, tall))


def test_a_size_in_px_is_no_size():
    assert artwork(svg('<circle cx="5" cy="5" r="4"/>', 'width="100" height="100"')).px_mm is None
    assert artwork(svg('<circle cx="5" cy="5" r="4"/>', 'viewBox="0 0 9 9"')).px_mm is None


def test_transforms_are_done_from_the_outside_in():
    nested = (
        '<g transform="translate(30 20) rotate(90)"><rect transform="scale(2 1)" width="10" height="5"/></g>'
    )
    assert size(svg(nested)) == pytest.approx((5.0, 20.0))
    skewed = '<rect transform="matrix(1 0 .5 1 0 0)" x="10" y="10" width="20" height="20"/>'
    assert size(svg(skewed)) == pytest.approx((30.0, 20.0))


def test_a_circle_under_a_mirroring_transform_is_still_one():
    turned = svg('<circle transform="translate(90 0) scale(-1 1) rotate(30)" cx="50" cy="10" r="9"/>')
    assert np.abs(bulges(turned)).tolist() == [1.0, 1.0]


@pytest.mark.parametrize(
    "styled",
    [
        '<style>.a{fill:red} #b{fill:blue}</style><rect id="b" class="a" width="9" height="9"/>',
        '<rect style="fill:blue" fill="red" width="9" height="9"/>',
        '<g fill="blue"><rect width="9" height="9"/></g>',
        '<g color="blue"><rect fill="currentColor" width="9" height="9"/></g>',
        '<style>rect{fill:rgb(0,0,255)}</style><rect width="9" height="9"/>',
        '<style>@media print{rect{fill:red}} rect{fill:#00f!important}</style><rect width="9" height="9"/>',
        '<rect fill="hsl(240,100%,50%)" width="9" height="9"/>',
    ],
)
def test_the_strongest_style_paints(styled):
    assert artwork(svg(styled)).palette[1] == pytest.approx((0.0, 0.0, 1.0))


@pytest.mark.parametrize(
    "hidden",
    [
        '<rect x="50" width="9" height="9" display="none"/>',
        '<g style="display:none"><rect x="50" width="9" height="9"/></g>',
        '<rect x="50" width="9" height="9" visibility="hidden"/>',
        '<rect x="50" width="9" height="9" fill="none"/>',
        '<rect x="50" width="9" height="9" opacity="0"/>',
        '<defs><rect x="50" width="9" height="9"/></defs>',
    ],
)
def test_what_is_not_shown_is_not_there(hidden):
    assert area_mm2(svg('<rect width="9" height="9"/>' + hidden)) == pytest.approx(81.0)


def test_parts_are_used_again_where_they_are_put():
    used = (
        '<defs><circle id="c" r="3"/>'
        '<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol></defs>'
        '<use href="#c" x="10" y="10"/><use xlink:href="#c" x="30" y="10"/>'
        '<use href="#s" x="50" y="50" width="20" height="20"/>'
    )
    assert area_mm2(svg(used)) == pytest.approx(18.0 * math.pi + 400.0)


def test_a_rectangle_that_fills_the_page_is_the_ground():
    art = artwork(svg('<rect width="100" height="100" fill="white"/><circle cx="50" cy="50" r="20"/>'))
    assert [finding.code for finding in art.findings] == ["backdrop"]
    assert len(art.outline.faces) == 2


def test_painted_white_is_told_from_paper():
    art = artwork(svg('<circle cx="50" cy="50" r="20"/><circle cx="50" cy="50" r="9" fill="white"/>'))
    assert art.outline.faces[2].colour != art.ground
    assert art.palette[art.ground] != (1.0, 1.0, 1.0)


def test_what_reaches_beyond_the_page_is_cut_off_and_said():
    art = artwork(svg('<circle cx="100" cy="50" r="20"/>'))
    assert [finding.code for finding in art.findings] == ["cut-at-page"]
    assert sum(region.area() for region in regions_mm(art)) == pytest.approx(200.0 * math.pi)


@pytest.mark.parametrize(
    "inside",
    [
        "<text>Name</text>",
        '<image href="photo.png" width="9" height="9"/>',
        '<rect width="9" height="9" fill="url(#g)"/>',
        '<rect width="9" height="9" clip-path="url(#c)"/>',
        '<g mask="url(#m)"><rect width="9" height="9"/></g>',
        '<rect width="9" height="9" filter="url(#f)"/>',
        '<use href="other.svg#a"/>',
        '<g id="a"><use href="#a"/></g>',
        '<rect width="9" height="9" fill="no colour"/>',
        '<rect width="9apples" height="9"/>',
        '<path d="M0 0 L1"/>',
        '<rect width="9" height="9" transform="fold(3)"/>',
        "",
        '<rect width="9" height="9" fill="none"/>',
        '<rect width="1e400" height="9"/>',
    ],
)
def test_what_cannot_be_cut_is_refused_in_one_sentence(inside):
    with pytest.raises(UnreadableFile) as wrong:
        artwork(svg(inside))
    assert str(wrong.value).endswith(".")
    assert "\n" not in str(wrong.value)


def test_entities_and_endless_use_are_refused():
    bomb = b'<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>'
    with pytest.raises(UnreadableFile, match="entities"):
        artwork(bomb)
    groups = "".join(
        f'<g id="g{k}">' + f'<use href="#g{k - 1}"/>' * 10 + "</g>"
        if k
        else '<g id="g0"><rect width="9" height="9"/></g>'
        for k in range(12)
    )
    with pytest.raises(UnreadableFile, match="too often"):
        artwork(svg(f"<defs>{groups}</defs><use href='#g11'/>"))


def test_a_document_type_without_entities_is_harmless():
    plain = svg('<rect width="9" height="9"/>')
    typed = (
        b'<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://x/svg11.dtd">' + plain
    )
    assert area_mm2(typed) == pytest.approx(81.0)


def test_hairlines_without_fill_are_edges_and_thicker_lines_are_strokes():
    square = '<path d="M10 10h40v40h-40z" fill="none" stroke="red" stroke-width="{}"/>'
    thin = artwork(svg(square.format(0.1) + square.format(0.1).replace("M10 10h40v40h-40", "M20 20h9v9h-9")))
    assert [finding.code for finding in thin.findings] == ["lines-as-edges"]
    assert sum(region.area() for region in regions_mm(thin)) == pytest.approx(1600.0 - 81.0)
    assert len(thin.holes) == 1
    assert area_mm2(svg(square.format(2))) == pytest.approx(42.0**2 - 38.0**2)


def test_marks_and_notes_of_our_own_drawings_are_no_shape():
    group = '<g id="{}" fill="none" stroke="red" stroke-width="0.1"><circle cx="{}" cy="50" r="9"/></g>'
    ours = svg(group.format("film-shell", 30) + group.format("marks", 80) + group.format("notes", 60))
    assert area_mm2(ours) == pytest.approx(81.0 * math.pi)
