"""The DXF reader against files that our writer would not write, and against broken ones."""

import numpy as np
import pytest

from core.drawing.drawing import Circle, Drawing, Layer, LayerOf
from core.drawing.read.dxf import read_dxf
from core.drawing.write.dxf import write_dxf, write_dxf_r12
from core.errors import UnreadableFile
from core.outline.loop import Loop

WAVE = Loop(np.array([[0.0, 0.0], [10.0, 0.0], [5.0, 8.0]]), np.array([0.5, 0.0, -0.2]))
PLAIN = Drawing("", (0, 0, 9, 9), (LayerOf(Layer.PART, "", "#000000", (WAVE, Circle((5, 5), 2.0))),))


def dxf(*groups, units=None):
    head = ["0", "SECTION", "2", "HEADER", "0", "ENDSEC"]
    if units is not None:
        head[4:4] = ["9", "$INSUNITS", "70", str(units)]
    body = ["0", "SECTION", "2", "ENTITIES", *(str(word) for word in groups), "0", "ENDSEC", "0", "EOF"]
    return "\n".join([*head, *body]).encode()


def only(drawing):
    ((contour,),) = (layer.contours for layer in drawing.layers)
    return contour


def test_an_arc_runs_counter_clockwise_from_its_first_angle():
    arc = only(read_dxf(dxf(0, "ARC", 8, "A", 10, 1, 20, 2, 40, 5, 50, 350, 51, 80)))
    assert arc.bulges == pytest.approx([0.4142135624])
    np.testing.assert_allclose(
        arc.points[1], [1 + 5 * np.cos(np.radians(80)), 2 + 5 * np.sin(np.radians(80))]
    )


@pytest.mark.parametrize(
    ("code", "mm"), [(None, 1), (0, 1), (1, 25.4), (4, 1), (5, 10), (6, 1000), (13, 0.001)]
)
def test_numbers_are_brought_to_mm(code, mm):
    line = only(read_dxf(dxf(0, "LINE", 10, 0, 20, 0, 11, 2, 21, 0, units=code)))
    assert line.points[1, 0] == pytest.approx(2 * mm)


def test_an_arc_may_run_through_three_quarters_of_a_turn():
    arc = only(read_dxf(dxf(0, "ARC", 8, "A", 10, 0, 20, 0, 40, 5, 50, 0, 51, 270)))
    assert arc.bulges == pytest.approx([2.4142135624])


def test_a_unit_in_which_nobody_draws_is_refused():
    with pytest.raises(UnreadableFile, match="unit 20"):
        read_dxf(dxf(units=20))


def test_an_open_polyline_keeps_one_bulge_less():
    line = only(read_dxf(dxf(0, "LWPOLYLINE", 90, 2, 70, 0, 10, 0, 20, 0, 42, 1, 10, 4, 20, 0)))
    assert (len(line.points), line.bulges.tolist(), line.is_closed) == (2, [1.0], False)


@pytest.mark.parametrize("kind", ["SPLINE", "ELLIPSE", "TEXT", "INSERT", "HATCH"])
def test_other_kinds_are_listed_as_not_read(kind):
    drawing = read_dxf(dxf(0, kind, 8, "NOTES"))
    assert drawing.layers == ()
    assert [(left.what, left.layer) for left in drawing.not_read] == [(kind, "NOTES")]


def test_what_is_tilted_or_on_the_paper_is_not_read():
    tilted, paper = (0, "CIRCLE", 10, 1, 20, 1, 40, 1, 230, -1), (0, "CIRCLE", 67, 1, 10, 1, 20, 1, 40, 1)
    assert len(read_dxf(dxf(*tilted, *paper)).not_read) == 2


def test_comments_and_carriage_returns_do_not_matter():
    data = dxf(999, "made by hand", 0, "CIRCLE", 10, 1, 20, 1, 40, 2).replace(b"\n", b"\r\n")
    assert len(read_dxf(data).layers[0].contours) == 1


@pytest.mark.parametrize("write", [write_dxf, write_dxf_r12])
def test_half_a_file_is_never_taken_for_a_whole_one(write):
    data = write(PLAIN)
    for share in (0.0, 0.1, 0.5, 0.9, 0.99):
        with pytest.raises(UnreadableFile):
            read_dxf(data[: int(len(data) * share)])


BROKEN = [
    b"",
    b"\n\n",
    b"some words",
    b"0\nEOF\n",
    b"AutoCAD Binary DXF\r\n\x1a\x00",
    dxf(0, "LINE", 10, "x"),
    dxf(0, "CIRCLE", 40, "nan"),
    dxf(0, "LWPOLYLINE", 70, 1),
    dxf(0, "POLYLINE", 70, 1),
    dxf(0, "POLYLINE", 70, 1, 0, "LINE"),
]


@pytest.mark.parametrize("data", BROKEN)
def test_what_is_no_drawing_is_refused_in_a_sentence(data):
    with pytest.raises(UnreadableFile) as told:
        read_dxf(data)
    assert str(told.value).endswith(".")


def test_a_vertex_with_two_places_is_refused_since_readers_take_different_ones():
    vertex, end = (0, "VERTEX", 10, 1, 20, 1), (0, "SEQEND")
    head = (0, "POLYLINE", 8, "PART", 70, 1)
    assert read_dxf(dxf(*head, *vertex, *vertex, *vertex, *end)).layers
    with pytest.raises(UnreadableFile, match="two places"):
        read_dxf(dxf(*head, *vertex, *vertex, 6, "VERTEX", 10, 2, 20, 3, *end))


def test_an_entity_with_one_of_its_classes_twice_is_refused():
    line = (0, "LINE", 100, "AcDbEntity", 8, "PART", 100, "AcDbLine", 10, 0, 20, 0, 11, 9, 21, 0)
    assert read_dxf(dxf(*line)).layers
    with pytest.raises(UnreadableFile, match="twice"):
        read_dxf(dxf(*line[:2], 100, "AcDbEntity", *line[2:]))
