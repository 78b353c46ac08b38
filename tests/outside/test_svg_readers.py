"""Our SVG as general-purpose readers and renderers from the registries see it, and SVG's own examples."""

import io
import math

import cairosvg
import numpy as np
import pytest
import svgelements
import svgpathtools
from PIL import Image

from core.drawing.drawing import Circle, Drawing, Layer, LayerOf
from core.drawing.read.svg import read_svg
from core.drawing.read.svg_path import arc_bulge, read_path
from core.drawing.write.svg import write_svg
from core.outline.loop import Loop
from core.outline.segments import Segments
from core.paper.png import rendered

pytestmark = pytest.mark.outside

BOX_WITHIN = 1e-4  # mm: svgelements rounds its pixel of 96 an inch (measured 0.00006)

WAVE = Loop(
    np.array([[10.0, 20.0], [80.5, 22.25], [100.0, 90.0], [40.0, 120.0], [12.0, 60.0]]),
    np.array([0.3, -0.7, 1.0, 2.5, -1e-3]),
)


def drawing_of(*shapes, box=(-20.0, -30.0, 120.0, 160.0)):
    return Drawing("shapes", box, (LayerOf(Layer.PART, "", "#000000", shapes),))


def test_svgpathtools_reads_the_same_lines_and_arcs(tmp_path):
    """Source: svgpathtools 1.8 (MIT), which keeps arcs as centre and radius."""
    file = tmp_path / "part.svg"
    file.write_bytes(write_svg(drawing_of(WAVE)))
    (path,), _ = svgpathtools.svg2paths(str(file))
    x_min, x_max, y_min, y_max = path.bbox()
    assert (x_min, -y_max, x_max, -y_min) == pytest.approx(WAVE.bounds(), abs=BOX_WITHIN)
    assert path.length() == pytest.approx(WAVE.length(), abs=1e-5)
    assert path.isclosed()


def test_svgelements_reads_the_same_box_in_mm(tmp_path):
    """Source: svgelements 1.9 (MIT); its unit is a pixel of 96 an inch, so the box proves the units too."""
    file = tmp_path / "part.svg"
    drawing = drawing_of(WAVE)
    file.write_bytes(write_svg(drawing))
    (path,) = (
        item for item in svgelements.SVG.parse(str(file)).elements() if isinstance(item, svgelements.Path)
    )
    x_min, y_min, x_max, y_max = (np.array(path.bbox()) * 25.4 / 96.0).tolist()
    left, top = drawing.box[0], drawing.box[3]
    box = (x_min + left, top - y_max, x_max + left, top - y_min)
    assert box == pytest.approx(WAVE.bounds(), abs=BOX_WITHIN)


@pytest.mark.parametrize("per_inch", [72, 90, 96])
def test_a_drawing_for_another_density_has_the_same_box_where_its_mm_are_read(tmp_path, per_inch):
    """Source: svgelements 1.9 (MIT), told the size of a pixel; and bare numbers, for a program without mm."""
    file = tmp_path / "film.svg"
    file.write_bytes(write_svg(drawing_of(WAVE), 25.4 / per_inch))
    (path,) = (
        item for item in svgelements.SVG.parse(str(file)).elements() if isinstance(item, svgelements.Path)
    )
    x_min, y_min, x_max, y_max = (np.array(path.bbox()) * 25.4 / 96.0).tolist()
    bounds = WAVE.bounds()
    assert (x_max - x_min, y_max - y_min) == pytest.approx(
        (bounds[2] - bounds[0], bounds[3] - bounds[1]), abs=BOX_WITHIN
    )
    (bare,), _ = svgpathtools.svg2paths(str(file))
    left, right, _, _ = bare.bbox()
    assert (right - left) / per_inch * 25.4 == pytest.approx(bounds[2] - bounds[0], abs=BOX_WITHIN)


def test_cairosvg_and_resvg_draw_a_circle_of_100_mm():
    """Source: cairosvg 2.9 (LGPL), resvg-py 0.5 (MIT), both at 600 dots an inch; a pixel is 0.0423 mm."""
    ring = Drawing(
        "ring",
        (0.0, 0.0, 110.0, 110.0),
        (LayerOf(Layer.PART, "", "#000000", (Circle((55.0, 55.0), 100.0),)),),
    )
    solid = (
        write_svg(ring)
        .replace(b'fill="none"', b'fill="#000"')
        .replace(b'stroke-width="0.1"', b'stroke-width="0"')
    )
    for data in (cairosvg.svg2png(bytestring=solid, dpi=600), rendered(solid, 600.0)):
        coverage = np.asarray(Image.open(io.BytesIO(data)))[:, :, 3] / 255.0
        assert coverage.shape == pytest.approx((2598, 2598), abs=1)
        across = 2.0 * math.sqrt(coverage.sum() / math.pi) * 25.4 / 600.0
        assert across == pytest.approx(100.0, abs=25.4 / 600.0)


@pytest.mark.parametrize(
    ("large", "sweep", "centre", "radius_turn"),
    [(0, 0, (225, 75), -90), (0, 1, (125, 125), 90), (1, 0, (125, 125), -270), (1, 1, (225, 75), 270)],
)
def test_arcs_have_the_centres_of_the_standard(large, sweep, centre, radius_turn):
    """Source: SVG 2, paths chapter, the picture of the four arcs (there 100 by 50; here halved in x).

    Scaled by 1/2 in x the ellipse of 100 by 50 is a circle of 50: (125, 75) becomes (62.5, 75), the end
    (225, 125) becomes (112.5, 125), and so do the centres.
    """
    (part,) = read_path(f"M62.5,75 a50,50 0 {large},{sweep} 50,50")
    segments = Segments.along(part.points, part.bulges)
    assert segments.centres()[0] == pytest.approx((centre[0] / 2, centre[1]))
    assert np.degrees(2 * segments.half_sweeps()[0]) == pytest.approx(radius_turn)


def test_a_radius_too_small_grows_until_it_reaches():
    """Source: SVG 2 implementation notes, out-of-range radii: `M0 0 A1 1 0 0 1 10 0` has radius 5."""
    bulge = arc_bulge((0.0, 0.0), (10.0, 0.0), [1.0, 1.0, 0.0, 0.0, 1.0, 10.0, 0.0])
    arc = Segments(np.array([[0.0, 0.0]]), np.array([[10.0, 0.0]]), np.array([bulge]))
    assert arc.radii()[0] == pytest.approx(5.0)
    assert arc.centres()[0] == pytest.approx((5.0, 0.0), abs=1e-12)


def test_our_reader_and_svgpathtools_agree_on_shapes_that_we_did_not_write(tmp_path):
    """Source: svgpathtools 1.8 (MIT), on relative commands with flags packed together (SVG 2 grammar)."""
    file = tmp_path / "shapes.svg"
    file.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">'
        '<path d="m20 20 a5 5 0 1 0 10 0 l-3-9 z"/><path d="M3 4h10a5 5 0 0 1 5 5v6H-1.5e0Z"/></svg>'
    )
    paths, _ = svgpathtools.svg2paths(str(file))
    for path, contour in zip(paths, read_svg(file.read_bytes()).layers[0].contours, strict=True):
        x_min, x_max, y_min, y_max = path.bbox()
        loop = Loop(contour.points, contour.bulges)
        assert loop.bounds() == pytest.approx((x_min, -y_max, x_max, -y_min), abs=1e-9)
        assert loop.length() == pytest.approx(path.length(), abs=1e-6)
