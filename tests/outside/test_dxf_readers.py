"""Our DXF as the general-purpose library ezdxf reads it, and DXF's own arithmetic of bulges and units."""

import io
import math

import cairosvg
import ezdxf
import numpy as np
import pytest
from ezdxf.addons.drawing import Frontend, RenderContext, layout, svg
from ezdxf.bbox import extents
from ezdxf.colors import DXF_DEFAULT_COLORS, int2rgb
from ezdxf.math import bulge_center, bulge_radius
from PIL import Image

from core.drawing.drawing import Circle, Drawing, Layer, LayerOf, Line
from core.drawing.read.dxf import read_dxf
from core.drawing.write.dxf import write_dxf, write_dxf_r12
from core.drawing.write.dxf_colours import colour_table
from core.outline.loop import Loop
from core.outline.segments import Segments

pytestmark = pytest.mark.outside

WAVE = Loop(
    np.array([[10.0, 20.0], [80.5, 22.25], [100.0, 90.0], [40.0, 120.0], [12.0, 60.0]]),
    np.array([0.3, -0.7, 1.0, 2.5, -1e-3]),
)
DRAWING = Drawing(
    "part",
    (-20.0, -30.0, 120.0, 160.0),
    (
        LayerOf(Layer.PART, "", "#202020", (WAVE,)),
        LayerOf(Layer.FILM, "dark-green", "#006400", (WAVE.scaled(0.5),)),
        LayerOf(Layer.MARKS, "", "#ff0000", (Circle((-10.0, 128.0), 5.0),)),
        LayerOf(Layer.NOTES, "", "#808080", (Line((0.0, 0.0), (94.0, 0.0)),)),
    ),
)


def opened(data):
    return ezdxf.filemanagement.read(io.StringIO(data.decode("cp1252")))


@pytest.mark.parametrize(("write", "version"), [(write_dxf, "AC1015"), (write_dxf_r12, "AC1009")])
def test_the_auditor_finds_nothing_to_mend(write, version):
    """Source: ezdxf 1.4 (MIT), Drawing.audit()."""
    document = opened(write(DRAWING))
    auditor = document.audit()
    assert document.dxfversion == version
    assert (auditor.errors, auditor.fixes) == ([], [])


def test_the_unit_is_millimetres():
    """Source: DXF Reference, HEADER section, $INSUNITS 4; the old form has no such field."""
    assert opened(write_dxf(DRAWING)).units == 4
    assert opened(write_dxf(DRAWING)).header["$MEASUREMENT"] == 1
    assert b"$INSUNITS" not in write_dxf_r12(DRAWING)


@pytest.mark.parametrize("write", [write_dxf, write_dxf_r12])
def test_ezdxf_reads_the_same_points_bulges_and_layers(write):
    """Source: ezdxf 1.4 (MIT)."""
    space = opened(write(DRAWING)).modelspace()
    part = space.query('*[layer=="PART"]').first
    rows = part.get_points("xyb") if part.dxftype() == "LWPOLYLINE" else part.points()
    points = np.array([tuple(row)[:2] for row in rows])
    np.testing.assert_allclose(points, WAVE.points, atol=1e-9)
    (circle,) = space.query("CIRCLE")
    assert (tuple(circle.dxf.center)[:2], circle.dxf.radius, circle.dxf.layer) == (
        (-10.0, 128.0),
        2.5,
        "MARKS",
    )
    assert {entity.dxf.layer for entity in space} == {"PART", "FILM_DARK_GREEN", "MARKS", "NOTES"}
    assert all(entity.is_closed for entity in space.query("LWPOLYLINE POLYLINE"))


def test_the_extents_are_those_of_the_shape():
    """Source: ezdxf 1.4 (MIT), which flattens its arcs to 0.01 mm by itself."""
    box = extents(opened(write_dxf(DRAWING)).modelspace().query('*[layer=="PART"]'))
    found = (box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y)
    assert found == pytest.approx(WAVE.bounds(), abs=0.01)


#: Pixels of a mm in the picture below.
PER_MM = 20
HUNDRED = [
    Circle((60.0, 60.0), 100.0),
    Loop(np.array([[10.0, 10.0], [110.0, 10.0], [110.0, 110.0], [10.0, 110.0]]), np.zeros(4)),
    Loop(np.array([[10.0, 60.0], [110.0, 60.0]]), np.array([1.0, 1.0])),
]


@pytest.mark.parametrize("write", [write_dxf, write_dxf_r12])
@pytest.mark.parametrize("shape", HUNDRED, ids=["circle", "square", "bulges"])
def test_a_renderer_shows_a_hundred_mm_as_a_hundred_mm(shape, write):
    """Source: ezdxf 1.4 (MIT), add-on drawing, draws the file; cairosvg 2.9 (LGPL) makes pixels of it.

    From the outer side of a line to the inner side of the one opposite: lines are as wide as it likes.
    """
    drawing = Drawing("size", (0.0, 0.0, 120.0, 120.0), (LayerOf(Layer.PART, "", "#000000", (shape,)),))
    document = opened(write(drawing))
    backend = svg.SVGBackend()
    Frontend(RenderContext(document), backend).draw_layout(document.modelspace())
    page = layout.Page(120, 120, layout.Units.mm)
    drawn = backend.get_string(page, settings=layout.Settings(fit_page=False, scale=1))
    png = cairosvg.svg2png(drawn.encode(), output_width=120 * PER_MM, output_height=120 * PER_MM)
    pixels = np.asarray(Image.open(io.BytesIO(png)).convert("RGB")).astype(float)
    line = np.abs(pixels - pixels[0, 0]).max(axis=2) > 20.0  # the renderer chooses the ground's colour
    for along in (line.any(axis=0), line.any(axis=1)):
        rows = np.flatnonzero(along)
        middle = np.flatnonzero(line[line.shape[0] // 2])
        thick = np.flatnonzero(np.diff(middle) > 1)[0] + 1
        assert (rows[-1] + 1 - rows[0] - thick) / PER_MM == pytest.approx(100.0, abs=max(0.05, 1.0 / PER_MM))


@pytest.mark.parametrize(
    ("turn", "bulge", "radius_of_chord"),
    [(30, 0.1316524976, 1.9318516526), (45, 0.1989123674, 1.3065629649), (60, 0.2679491924, 1.0),
     (90, 0.4142135624, 0.7071067812), (120, 0.5773502692, 0.5773502692), (180, 1.0, 0.5),
     (240, 1.7320508076, 0.5773502692), (270, 2.4142135624, 0.7071067812), (300, 3.7320508076, 1.0)],
)  # fmt: skip
def test_bulges_mean_what_dxf_says(turn, bulge, radius_of_chord):
    """Source: DXF Reference, LWPOLYLINE, group 42: tan of a quarter of the angle; ezdxf's own arithmetic."""
    assert math.tan(math.radians(turn) / 4) == pytest.approx(bulge, abs=1e-10)
    arc = Segments(np.array([[0.0, 0.0]]), np.array([[10.0, 0.0]]), np.array([bulge]))
    assert arc.radii()[0] == pytest.approx(10 * radius_of_chord, abs=1e-7)
    assert arc.radii()[0] == pytest.approx(bulge_radius((0, 0), (10, 0), bulge))
    assert arc.centres()[0] == pytest.approx(tuple(bulge_center((0, 0), (10, 0), bulge))[:2], abs=1e-7)


@pytest.mark.parametrize("version", ["R2000", "R2010", "R2018"])
def test_our_reader_reads_what_ezdxf_writes(version):
    """Source: ezdxf 1.4 (MIT): arcs counter-clockwise in degrees, polylines of both kinds."""
    document = ezdxf.filemanagement.new(version, units=5)
    space = document.modelspace()
    space.add_arc((1, 2), 5, 350, 80, dxfattribs={"layer": "A"})
    space.add_lwpolyline([(0, 0, 1), (4, 0, 0)], format="xyb", dxfattribs={"layer": "B"})
    space.add_polyline2d([(0, 0, 0.5), (4, 0, 0)], format="xyb", close=True, dxfattribs={"layer": "C"})
    space.add_circle((3, 3), 2, dxfattribs={"layer": "D"})
    space.add_ellipse((0, 0), (3, 0), 0.5, dxfattribs={"layer": "E"})
    stream = io.StringIO()
    document.write(stream)
    back = read_dxf(stream.getvalue().encode())
    assert (back.unit, [layer.name for layer in back.layers]) == ("cm", ["A", "B", "C", "D"])
    assert [left.layer for left in back.not_read] == ["E"]
    arc = back.layer("A").contours[0]
    segments = Segments.along(arc.points, arc.bulges)
    assert segments.centres()[0] == pytest.approx((10, 20))
    assert np.degrees(2 * segments.half_sweeps()[0]) == pytest.approx(90)


def test_the_colour_numbers_are_those_of_the_common_table():
    """Source: ezdxf 1.4 (MIT), DXF_DEFAULT_COLORS, which brightens the blue of six dark washed ones."""
    numbers, ours = colour_table()
    theirs = np.array([int2rgb(DXF_DEFAULT_COLORS[index]) for index in numbers])
    differ = np.abs(ours - theirs).max(axis=1) > 1.5
    assert set(numbers[differ]) <= {147, 157, 167, 177, 187, 197}
    assert len(numbers) > 200
