"""Our plots as another reader of HP-GL reads them."""

import io

import cairosvg
import numpy as np
import pytest
from ezdxf.addons.hpgl2 import api
from PIL import Image

from core.drawing.plot import Plot, PlotPen, Stroke
from core.drawing.write.hpgl import write_hpgl
from core.kit.plots import CHORD_WITHIN
from core.outline.loop import Loop
from tests.support.pictures import badge_kit

pytestmark = pytest.mark.outside

#: ezdxf reads only what follows a PCL printer's switch to HP-GL/2 (PCL 5 Technical Reference: ESC % 1 B).
SWITCH = b"\x1b%1B"


def drawn(data):
    """The polylines by pen, mm, as ezdxf (1.4, MIT), add-on hpgl2, makes a DXF document of a plot."""
    document = api.to_dxf(SWITCH + data, color_mode=api.ColorMode.ACI)
    found = {}
    for entity in document.modelspace().query("LWPOLYLINE POLYLINE LINE"):
        if entity.dxftype() == "LINE":
            points = [entity.dxf.start, entity.dxf.end]
        elif entity.dxftype() == "LWPOLYLINE":
            points = list(entity.vertices())
        else:
            points = [vertex.dxf.location for vertex in entity.vertices]
        rows = np.array([tuple(point)[:2] for point in points]) * 0.025
        lines = found.setdefault(entity.dxf.layer, [])
        if lines and np.array_equal(lines[-1][-1], rows[0]):  # one run told in several commands
            rows = np.vstack((lines.pop(), rows))
        lines.append(rows)
    return found


def test_another_reader_finds_a_circle_of_a_hundred_mm():
    """Source: ezdxf 1.4 (MIT), add-on hpgl2; a plotter unit is 0.025 mm."""
    circle = Loop.circle((60.0, 60.0), 50.0)
    points = circle.flattened(CHORD_WITHIN)
    stroke = Stroke(PlotPen.FILM, np.vstack((points, points[:1])))
    (lines,) = drawn(write_hpgl(Plot((stroke,)))).values()
    every = np.vstack(lines)
    assert np.ptp(every, axis=0) == pytest.approx((100.0, 100.0), abs=0.05)


def test_another_reader_finds_the_films_marks_and_sheet_box():
    """Source: ezdxf 1.4 (MIT), add-on hpgl2: one layer for each pen."""
    kit = badge_kit()
    for one in kit.report["files"]:
        if one["role"] != "film-plot":
            continue
        film = next(film for film in kit.report["films"] if film["name"] == one["film"])
        by_pen = {int(name[-3:]): lines for name, lines in drawn(kit.files[one["path"]]).items()}
        assert set(by_pen) == {1, 2, 3}
        size = np.ptp(np.vstack(by_pen[3]), axis=0)
        assert size == pytest.approx(film["sheet_box_mm"], abs=0.025)
        middles = sorted(((line.min(axis=0) + line.max(axis=0)) / 2).tolist() for line in by_pen[2])
        # The other reader puts the drawing's corner to its origin: distances between marks tell.
        marks = sorted(mark["at"] for mark in kit.report["marks"])
        wanted = np.array(marks) - np.array(marks[0])
        assert np.array(middles) - np.array(middles[0]) == pytest.approx(wanted, abs=0.026)


#: Pixels of a mm in the renderer below; its pixel is what it is judged to.
PER_MM = 20


def rendered(data, wide_mm):
    """A plot drawn by a renderer that is not ours: (n, n, 3) pixels of a square of wide_mm, y down."""
    svg = api.to_svg(SWITCH + data)
    assert f'width="{wide_mm:g}mm"' in svg
    side = round(wide_mm * PER_MM)
    png = cairosvg.svg2png(svg.encode(), output_width=side, output_height=side)
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB")).astype(float)


def sides(dark):
    """The outer sides of a closed line, mm: left, right, top, bottom."""
    found = []
    for along in (dark.any(axis=0), dark.any(axis=1)):
        rows = np.flatnonzero(along)
        found += [rows[0], rows[-1] + 1]
    return np.array(found) / PER_MM


CIRCLE = Loop.circle((60.0, 60.0), 50.0).flattened(CHORD_WITHIN)
SQUARE = np.array([[10.0, 10.0], [110.0, 10.0], [110.0, 110.0], [10.0, 110.0]])


@pytest.mark.parametrize("corners", [CIRCLE, SQUARE], ids=["circle", "square"])
def test_a_renderer_shows_a_hundred_mm_as_a_hundred_mm(corners):
    """Source: ezdxf 1.4 (MIT), add-on hpgl2, draws the plot as SVG; cairosvg 2.9 (LGPL) makes pixels of it.

    Lines are as wide as the renderer likes, so the size is from the outer side of one to the inner side of
    the other.
    """
    sheet = np.array([[0.0, 0.0], [120.0, 0.0], [120.0, 120.0], [0.0, 120.0], [0.0, 0.0]])
    film = Stroke(PlotPen.FILM, np.vstack((corners, corners[:1])))
    line = rendered(write_hpgl(Plot((film, Stroke(PlotPen.WEEDING, sheet)))), 120.0).mean(axis=2) < 128
    inside = line[3 * PER_MM : -3 * PER_MM, 3 * PER_MM : -3 * PER_MM]  # without the sheet's own border
    left, right, top, bottom = sides(inside)
    thick = thickness(inside[inside.shape[0] // 2])
    within = max(0.05, 1.0 / PER_MM)
    assert right - left - thick == pytest.approx(100.0, abs=within)
    assert bottom - top - thick == pytest.approx(100.0, abs=within)


def thickness(row):
    """How wide the first line is that a row of pixels crosses, mm."""
    first = np.flatnonzero(row)[0]
    return float(np.flatnonzero(~row[first:])[0]) / PER_MM
