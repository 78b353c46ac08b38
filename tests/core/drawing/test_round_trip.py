"""What is written is what is read back: random Loops, circles and lines through every format."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.drawing.drawing import Circle, Drawing, Layer, LayerOf, Line
from core.drawing.read.dxf import read_dxf
from core.drawing.read.svg import read_svg
from core.drawing.write.dxf import write_dxf, write_dxf_r12
from core.drawing.write.svg import write_svg
from core.outline.loop import Loop
from core.outline.segments import Segments

WITHIN = 1e-6  # mm, a thousandth of what the marks may be off

MM = st.floats(-400, 400).map(lambda value: round(value, 3))


def _grid(row):
    return round(row[0]), round(row[1])


BENDS = (
    st.just(0.0) | st.floats(-1e-6, 1e-6) | st.floats(-1, 1) | st.floats(-8, 8) | st.sampled_from([1.0, -1.0])
)
ROWS = st.lists(st.tuples(MM, MM, BENDS), min_size=2, max_size=9, unique_by=_grid)
LOOPS = ROWS.map(lambda rows: Loop(np.array(rows)[:, :2], np.array(rows)[:, 2]))
FORMATS = {
    "svg": (write_svg, read_svg, "film-shell", "marks", "notes"),
    "dxf": (write_dxf, read_dxf, "FILM_SHELL", "MARKS", "NOTES"),
    "dxf-r12": (write_dxf_r12, read_dxf, "FILM_SHELL", "MARKS", "NOTES"),
}


def drawing_of(loop):
    return Drawing(
        "turtle, film shell",
        (-500.0, -450.0, 500.0, 450.0),
        (
            LayerOf(Layer.FILM, "shell", "#225588", (loop,)),
            LayerOf(Layer.MARKS, "", "#cc0000", (Circle((3.0, 4.0), 5.0),)),
            LayerOf(Layer.NOTES, "", "#888888", (Line((-7.0, 1.0), (8.0, 1.0)),)),
        ),
    )


def walked(segments, count=400):
    """(count, 2) points at equal lengths along."""
    lengths = np.concatenate(([0.0], np.cumsum(segments.lengths())))
    along = np.linspace(0.0, lengths[-1], count, endpoint=False)
    rows = np.clip(np.searchsorted(lengths, along, "right") - 1, 0, len(segments) - 1)
    picked = Segments(segments.starts[rows], segments.ends[rows], segments.bulges[rows])
    return picked.points_at((along - lengths[rows]) / np.maximum(picked.lengths(), 1e-300))


@pytest.mark.parametrize("form", FORMATS)
@settings(deadline=None, max_examples=40)
@given(loop=LOOPS)
def test_a_loop_comes_back_as_it_was(form, loop):
    write, read, film, _, _ = FORMATS[form]
    (contour,) = read(write(drawing_of(loop))).layer(film).contours
    assert contour.is_closed
    back = Segments.between(contour.points, contour.bulges)
    # lengths along may drift by a rounding a segment; places may not
    pieces = 4 * len(loop.bulges)
    np.testing.assert_allclose(walked(back), walked(loop.segments()), atol=WITHIN * pieces)
    assert Loop(contour.points, contour.bulges).bounds() == pytest.approx(loop.bounds(), abs=WITHIN)


@pytest.mark.parametrize("form", FORMATS)
def test_circles_and_level_lines_come_back_on_their_layers(form):
    write, read, film, marks, notes = FORMATS[form]
    back = read(write(drawing_of(Loop.circle((0.0, 0.0), 1.0))))
    assert [layer.name for layer in back.layers] == [film, marks, notes]
    (circle,), (line,) = back.layer(marks).contours, back.layer(notes).contours
    assert Loop(circle.points, circle.bulges).bounds() == pytest.approx((0.5, 1.5, 5.5, 6.5), abs=WITHIN)
    assert Loop(circle.points, circle.bulges).signed_area() == pytest.approx(np.pi * 6.25, abs=1e-5)
    np.testing.assert_allclose(line.points, [[-7.0, 1.0], [8.0, 1.0]], atol=WITHIN)
    assert not line.is_closed
    assert back.not_read == ()


@pytest.mark.parametrize("form", FORMATS)
def test_the_same_drawing_gives_the_same_bytes(form):
    write = FORMATS[form][0]
    drawing = drawing_of(Loop.circle((1.0, 2.0), 30.0))
    assert write(drawing) == write(drawing)


def test_an_arc_of_almost_a_whole_turn_keeps_its_place():
    nearly = Loop(np.array([[0.0, 0.0], [0.01, 0.0]]), np.array([-np.tan(0.249 * 2 * np.pi), 0.0]))
    (contour,) = read_svg(write_svg(drawing_of(nearly))).layer("film-shell").contours
    assert Loop(contour.points, contour.bulges).bounds() == pytest.approx(nearly.bounds(), abs=WITHIN)


def test_svg_states_its_page_and_dxf_its_unit():
    drawing = drawing_of(Loop.circle((0.0, 0.0), 1.0))
    svg, dxf, old = (
        read_svg(write_svg(drawing)),
        read_dxf(write_dxf(drawing)),
        read_dxf(write_dxf_r12(drawing)),
    )
    assert (svg.width_mm, svg.height_mm, svg.unit) == (1000.0, 900.0, "mm")
    assert svg.page == pytest.approx(drawing.box)
    assert (dxf.unit, old.unit) == ("mm", None)


@pytest.mark.parametrize("per_inch", [72, 90, 96])
def test_an_svg_of_another_density_is_the_same_size_and_says_its_numbers(per_inch):
    wave = Loop(np.array([[1.0, 2.0], [80.5, 22.25], [40.0, 120.0]]), np.array([0.3, -0.7, 2.5]))
    drawing = drawing_of(wave)
    plain, dense = read_svg(write_svg(drawing)), read_svg(write_svg(drawing, 25.4 / per_inch))
    assert dense.unit_mm == pytest.approx(25.4 / per_inch, rel=1e-8)
    assert (dense.width_mm, dense.page) == (plain.width_mm, pytest.approx(plain.page, abs=1e-6))
    for one, other in zip(plain.layers, dense.layers, strict=True):
        for ours, theirs in zip(one.contours, other.contours, strict=True):
            assert theirs.points == pytest.approx(ours.points, abs=2e-6)
