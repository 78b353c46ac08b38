"""HP-GL: what is written is read back to the nearest unit, and what is no plain plot is refused."""

from contextlib import suppress

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.drawing.plot import Plot, PlotPen, Stroke
from core.drawing.read.hpgl import read_hpgl
from core.drawing.write.hpgl import is_in_range, reach_units, write_hpgl
from core.errors import UnreadableFile

MM = st.floats(0.0, 800.0)
RUNS = st.lists(st.tuples(MM, MM), min_size=2, max_size=40, unique_by=lambda p: (round(p[0]), round(p[1])))
STROKES = st.builds(Stroke, st.sampled_from(PlotPen), RUNS.map(np.array))


@given(st.lists(STROKES, max_size=5).map(tuple))
def test_a_plot_is_read_back_within_half_a_unit(strokes):
    back = read_hpgl(write_hpgl(Plot(strokes)))
    assert [run.pen for run in back.runs] == [int(stroke.pen) for stroke in strokes]
    assert back.ends_up
    for run, stroke in zip(back.runs, strokes, strict=True):
        assert np.abs(run.points * 0.025 - stroke.points).max() <= 0.0125 + 1e-9


def test_the_bytes_are_plain_commands_each_with_its_end():
    square = np.array([[1.0, 1.0], [2.0, 1.0], [2.0, 2.0], [1.0, 1.0]])
    written = write_hpgl(Plot((Stroke(PlotPen.MARKS, square), Stroke(PlotPen.FILM, square + 0.51))))
    assert written.split() == [
        b"IN;PA;", b"SP2;", b"PU40,40;", b"PD80,40,80,80,40,40;", b"PU;",
        b"SP1;", b"PU60,60;", b"PD100,60,100,100,60,60;", b"PU;", b"SP0;",
    ]  # fmt: skip


def test_points_that_fall_on_one_unit_are_told_once_and_a_prick_not_at_all():
    close = np.array([[1.0, 1.0], [1.001, 1.0], [2.0, 1.0], [2.0, 1.001]])
    prick = np.array([[5.0, 5.0], [5.001, 5.0]])
    back = read_hpgl(write_hpgl(Plot((Stroke(PlotPen.FILM, close), Stroke(PlotPen.FILM, prick)))))
    assert [run.points.tolist() for run in back.runs] == [[[40, 40], [80, 40]]]


@pytest.mark.parametrize(("far", "fits"), [(819.175, True), (819.2, False), (-819.2, True), (-819.3, False)])
def test_the_range_is_that_of_sixteen_bits(far, fits):
    plot = Plot((Stroke(PlotPen.FILM, np.array([[0.0, 0.0], [far, 1.0]])),))
    assert is_in_range(plot) is fits
    assert reach_units(plot) == (min(0, round(far * 40)), max(40, round(far * 40)))


@pytest.mark.parametrize(
    "text",
    [
        "IN;SP1;PA0,0;PD40,0,40,40;PU;SP0;",
        "in sp1 pu0 0 pd40 0 40 40 pu;",
        "INSP1PA0,0PD40,0PA40,40PU;",
        "IN;SP1;PU0,0;PR;PD40,0,0,40;PU;",
        "IN;SP1;PU0,0;PD;PA+40-0,40+40;PU;",
        "\n IN;SP1;\r\nPU0,0;PD40.0,0,40.,40;",
    ],
)
def test_every_spelling_of_one_corner_is_read(text):
    (run,) = read_hpgl(text.encode()).runs
    assert (run.pen, run.points.tolist()) == (1, [[0, 0], [40, 0], [40, 40]])


@pytest.mark.parametrize(
    "data",
    [
        b"", b" \n;", b"\x89PNG", b"IN;SP1;PD1;", b"IN;SP1;PD1,2", b"IN;SC0,1,0,1;", b"IN;AA0,0,90;",
        b"IN;PD1,x;", b"IN;PD1..2,3;", b"<svg/>", "IN;PU0,\u0661;".encode(), b"IN;PD1234567890123,0;",
        b"IN;SP1.5;PD1,2;",
    ],
)  # fmt: skip
def test_what_is_no_plain_plot_is_refused(data):
    with pytest.raises(UnreadableFile):
        read_hpgl(data)


@given(st.binary(max_size=60) | st.text("INSPADU;,-.0123456789 \n", max_size=60).map(str.encode))
def test_no_bytes_break_the_reader(data):
    with suppress(UnreadableFile):
        assert read_hpgl(data).runs is not None


def test_a_pen_left_down_and_the_farthest_number_are_told():
    plot = read_hpgl(b"IN;SP1;PU-7,3;PD90000,0;")
    assert (plot.least, plot.most, plot.ends_up) == (-7, 90000, False)
