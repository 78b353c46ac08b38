"""The SVG reader against files that our writer would not write."""

import numpy as np
import pytest

from core.drawing.read.svg import read_svg
from core.errors import UnreadableFile
from core.outline.loop import Loop

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 {0} {0}">'


def read(body, units=100):
    return read_svg((HEAD.format(units) + body + "</svg>").encode())


def only(drawing):
    ((contour,),) = (layer.contours for layer in drawing.layers)
    return contour


def bounds(contour):
    return Loop(contour.points, contour.bulges).bounds()


@pytest.mark.parametrize(
    ("written", "mm"),
    [("100", 100 * 25.4 / 96), ("100px", 100 * 25.4 / 96), ("100mm", 100), ("10cm", 100), ("4in", 101.6),
     ("72pt", 25.4), ("6pc", 25.4), ("400Q", 100), ("100%", None), ("3em", None)],
)  # fmt: skip
def test_lengths_count_as_css_says(written, mm):
    read_back = read_svg(f'<svg xmlns="http://www.w3.org/2000/svg" width="{written}"/>'.encode())
    assert read_back.width_mm == (None if mm is None else pytest.approx(mm))


def test_a_view_box_scales_what_is_drawn():
    assert bounds(only(read('<rect x="1" y="2" width="10" height="5"/>', 50))) == pytest.approx(
        (2, -14, 22, -4)
    )


def test_without_an_aspect_of_its_own_the_smaller_scale_holds_and_with_none_each():
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="150mm" height="200mm" viewBox="0 0 1500 1000"{}>'
    body = '<path d="M0 0H100V100Z"/></svg>'
    meet = only(read_svg((svg.format("") + body).encode()))
    both = only(read_svg((svg.format(' preserveAspectRatio="none"') + body).encode()))
    assert meet.points.max() == pytest.approx(10)
    assert np.abs(both.points).max(axis=0) == pytest.approx([10, 20])


def test_relative_and_shortened_commands_draw_the_same_as_long_ones():
    short = only(read('<path d="m10,10h20v20h-20z"/>'))
    long = only(read('<path d="M 10 10 L 30 10 30 30 10 30 Z"/>'))
    np.testing.assert_allclose(short.points, long.points)
    assert short.is_closed
    assert long.is_closed


def test_flags_may_stand_close_together():
    packed, apart = read('<path d="M0 0a1 1 0 0010 0"/>'), read('<path d="M0 0 a 1 1 0 0 0 10 0"/>')
    np.testing.assert_array_equal(only(packed).points, only(apart).points)
    assert only(packed).bulges == pytest.approx(only(apart).bulges)
    assert only(packed).bulges == pytest.approx([1.0])  # sweep 0 is counter-clockwise with y up


def test_after_closing_the_pen_stands_at_the_start():
    drawing = read('<path d="M10 10 l10 0 l0 10 z l-5 0 l0 -5 z"/>')
    first, second = drawing.layers[0].contours
    np.testing.assert_allclose(second.points[0], first.points[0])


def test_an_arc_to_where_it_stands_is_left_out():
    assert read('<path d="M5 5 A3 3 0 1 1 5 5"/>').layers == ()


def test_the_large_arc_is_the_long_way_round():
    long, short = (only(read(f'<path d="M0 0A5 5 0 {flag} 1 5 5"/>')) for flag in (1, 0))
    assert long.bulges == pytest.approx([-2.4142135624])
    assert short.bulges == pytest.approx([-0.4142135624])


def test_nested_transforms_work_from_the_inside_out():
    body = '<g transform="translate(10 20)"><g transform="rotate(90) scale(2)"><path d="M0 0H5"/></g></g>'
    np.testing.assert_allclose(only(read(body)).points, [[10, -20], [10, -30]], atol=1e-12)


def test_a_mirror_turns_arcs_the_other_way():
    plain = only(read('<path d="M0 0A5 5 0 0 1 10 0"/>'))
    mirrored = only(read('<path transform="scale(-1 1)" d="M0 0A5 5 0 0 1 10 0"/>'))
    assert plain.bulges == pytest.approx(-mirrored.bulges)
    assert plain.bulges == pytest.approx([-1.0])


def test_the_outermost_named_group_is_the_layer():
    body = '<g id="marks"><g id="inner"><circle cx="5" cy="5" r="2"/></g></g><circle cx="9" cy="9" r="1"/>'
    assert [layer.name for layer in read(body).layers] == ["marks", ""]


@pytest.mark.parametrize(
    "body",
    ['<path d="M0 0C1 1 2 2 3 3"/>', '<path d="M0 0A1 2 0 0 0 3 3"/>', '<ellipse rx="1" ry="2"/>',
     '<circle r="2" transform="scale(1 2)"/>', "<text>12</text>", '<use href="#a"/>',
     '<rect width="9" height="9" rx="1"/>'],
)  # fmt: skip
def test_what_lines_and_arcs_cannot_say_is_listed_and_not_bent(body):
    drawing = read(body)
    assert drawing.layers == ()
    assert len(drawing.not_read) == 1


def test_straight_lines_may_be_stretched():
    assert bounds(only(read('<path d="M0 0H10V10Z" transform="scale(1 2)"/>'))) == pytest.approx(
        (0, -20, 10, 0)
    )


@pytest.mark.parametrize(
    "data",
    [b"", b"no drawing", b"<svg>", b"<html/>", b"<svg/>", b"\x89PNG\r\n\x1a\n",
     b'<!DOCTYPE svg [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg">&a;</svg>',
     (HEAD.format(0) + "</svg>").encode(),
     (HEAD.format(9) + '<path d="L1 1"/></svg>').encode(),
     (HEAD.format(9) + '<path d="M1 1 L1"/></svg>').encode(),
     (HEAD.format(9) + '<path d="M1 1 L1e999 3"/></svg>').encode(),
     (HEAD.format(9) + '<path d="M0 0A1 1 0 2 0 3 3"/></svg>').encode(),
     (HEAD.format(9) + '<polygon points="1 2 3"/></svg>').encode(),
     (HEAD.format(9) + '<path transform="warp(2)" d="M0 0"/></svg>').encode()],
)  # fmt: skip
def test_what_is_no_drawing_is_refused_in_a_sentence(data):
    with pytest.raises(UnreadableFile) as told:
        read_svg(data)
    assert str(told.value).endswith(".")


@pytest.mark.parametrize("name", ["UTF-1", "UTF-7", "shift_jis", "none"])
def test_an_encoding_that_is_not_known_is_told_and_no_traceback(name):
    head = f'<?xml version="1.0" encoding="{name}"?>'.encode()
    with pytest.raises(UnreadableFile, match="no readable SVG"):
        read_svg(head + b'<svg xmlns="http://www.w3.org/2000/svg"/>')
