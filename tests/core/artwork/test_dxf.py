"""DXF in: units, lines, arcs, curves, blocks and old polylines, joined end to end; what is open is said."""

import io
import math

import ezdxf
import numpy as np
import pytest

from core.artwork.contours import joined_up
from core.artwork.edges import Bow, SubPath
from core.errors import UnreadableFile
from core.outline.measure import all_loops
from tests.support.artwork import area_mm2, artwork, regions_mm


@pytest.fixture
def drawing():
    made = ezdxf.new("R2010")
    made.units = 4
    return made


def saved(drawing):
    text = io.StringIO()
    drawing.write(text)
    return text.getvalue().encode()


def test_bulges_circles_and_holes(drawing):
    space = drawing.modelspace()
    space.add_lwpolyline([(0, 0, 0), (50, 0, 1), (50, 20, 0), (0, 20, 0)], format="xyb", close=True)
    space.add_circle((10, 10), 5)
    art = artwork(saved(drawing))
    assert area_mm2(saved(drawing)) == pytest.approx(1000.0 + 50.0 * math.pi - 25.0 * math.pi, rel=1e-9)
    assert len(art.holes) == 1
    assert art.px_mm is not None
    bulges = np.concatenate([loop.bulges for loop in all_loops(regions_mm(art))])
    assert sorted(np.abs(bulges).tolist()) == pytest.approx([0.0, 0.0, 0.0, 1.0, 1.0, 1.0])


@pytest.mark.parametrize(("code", "mm"), [(1, 25.4), (5, 10.0), (6, 1000.0)])
def test_units_say_how_large(drawing, code, mm):
    drawing.units = code
    drawing.modelspace().add_circle((0, 0), 1)
    assert area_mm2(saved(drawing)) == pytest.approx(math.pi * mm**2)


def test_without_a_unit_numbers_are_mm_with_a_caution(drawing):
    drawing.units = 0
    drawing.modelspace().add_circle((0, 0), 1)
    art = artwork(saved(drawing))
    assert "unit-assumed" in [finding.code for finding in art.findings]
    assert area_mm2(saved(drawing)) == pytest.approx(math.pi)


def test_lines_arcs_and_ovals_are_joined_whichever_way_they_run(drawing):
    space = drawing.modelspace()
    space.add_line((0, 0), (40, 0))
    space.add_arc((40, 10), 10, -90, 90)
    space.add_line((0, 20.001), (40, 20))
    space.add_line((0, 20), (0, 0))
    assert area_mm2(saved(drawing)) == pytest.approx(800.0 + 50.0 * math.pi, abs=0.05)


def test_an_oval_and_a_rational_spline_that_is_a_circle(drawing):
    space = drawing.modelspace()
    space.add_ellipse((60, 30), (20, 5), 0.4)
    oval = math.pi * (400 + 25) * 0.4
    half = math.sqrt(0.5)
    square = [(5, 0), (5, 5), (0, 5), (-5, 5), (-5, 0), (-5, -5), (0, -5), (5, -5), (5, 0)]
    space.add_rational_spline(
        square, [1, half] * 4 + [1], degree=2, knots=[0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]
    )
    assert area_mm2(saved(drawing)) == pytest.approx(oval + 25.0 * math.pi, abs=0.3)


def test_a_spline_is_the_one_that_an_independent_reader_draws(drawing):
    spline = drawing.modelspace().add_open_spline([(0, 0), (0, 30), (40, 50), (80, 40), (90, 0)], degree=3)
    drawing.modelspace().add_line((90, 0), (0, 0))
    x, y = np.array([(p.x, p.y) for p in spline.flattening(1e-4)]).T
    area = abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2.0
    assert area_mm2(saved(drawing)) == pytest.approx(area, abs=0.2)


def test_blocks_are_put_where_they_are_inserted_mirrored_and_turned(drawing):
    block = drawing.blocks.new("B", base_point=(1, 1))
    block.add_lwpolyline([(0, 0), (4, 0), (4, 2)], close=True)
    space = drawing.modelspace()
    space.add_blockref("B", (20, 20), dxfattribs={"xscale": -2, "yscale": 1, "rotation": 30})
    space.add_blockref("B", (40, 20), dxfattribs={"column_count": 3, "column_spacing": 10})
    assert area_mm2(saved(drawing)) == pytest.approx(8.0 + 3.0 * 4.0)


def test_old_polylines_are_read(drawing):
    old = ezdxf.new("R12")
    old.modelspace().add_polyline2d([(0, 0, 0), (30, 0, 0.5), (30, 20, 0)], format="xyb", close=True)
    new = drawing
    new.modelspace().add_lwpolyline([(0, 0, 0), (30, 0, 0.5), (30, 20, 0)], format="xyb", close=True)
    assert area_mm2(saved(old)) == pytest.approx(area_mm2(saved(new)))


def test_colours_and_layers_tell_areas_apart(drawing):
    drawing.layers.add("INNER", color=5)
    space = drawing.modelspace()
    space.add_circle((0, 0), 10, dxfattribs={"color": 1})
    space.add_circle((0, 0), 5, dxfattribs={"layer": "INNER"})
    drawing.layers.add("OFF", color=3).off()
    space.add_circle((50, 0), 5, dxfattribs={"layer": "OFF"})
    art = artwork(saved(drawing))
    assert art.palette[1:] == ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    assert area_mm2(saved(drawing), colour=2) == pytest.approx(25.0 * math.pi)


def test_what_stays_open_is_left_out_with_its_place(drawing):
    space = drawing.modelspace()
    space.add_circle((0, 0), 10)
    space.add_line((0, 0), (8, 0))
    space.add_text("M3")
    codes = [finding.code for finding in artwork(saved(drawing)).findings]
    assert codes == ["open-line", "left-out"]
    assert area_mm2(saved(drawing)) == pytest.approx(100.0 * math.pi)


def test_a_line_drawn_twice_counts_once(drawing):
    for _ in range(2):
        drawing.modelspace().add_circle((0, 0), 10)
    assert area_mm2(saved(drawing)) == pytest.approx(100.0 * math.pi)


def test_at_a_fork_the_run_goes_straight_on():
    lines = [(0, 10), (10, 20), (20, 20 + 10j), (20 + 10j, 10j), (10j, 0), (10, 10 + 4j)]
    closed, left = joined_up(
        [SubPath((Bow(complex(a), complex(b)),), is_closed=False) for a, b in lines], 0.01
    )
    assert [len(path.edges) for path in closed] == [5]
    assert [len(path.edges) for path in left] == [1]


@pytest.mark.parametrize("change", ["cut", "binary", "no number", "unit", "empty"])
def test_what_is_no_drawing_is_refused_in_one_sentence(drawing, change):
    drawing.modelspace().add_circle((0, 0), 10)
    good = saved(drawing)
    bad = {
        "cut": good[: len(good) // 2],
        "binary": b"AutoCAD Binary DXF\r\n\x1a\x00" + good[:50],
        "no number": good.replace(b" 40\n10.0\n", b" 40\nwide\n"),
        "unit": good.replace(b"$INSUNITS\n 70\n4\n", b"$INSUNITS\n 70\n19\n"),
        "empty": saved(ezdxf.new("R2010")),
    }[change]
    assert bad != good
    with pytest.raises(UnreadableFile) as wrong:
        artwork(bad)
    assert "\n" not in str(wrong.value)


def test_blocks_without_an_end_are_refused(drawing):
    one, other = drawing.blocks.new("ONE"), drawing.blocks.new("OTHER")
    for _ in range(9):
        one.add_blockref("OTHER", (0, 0))
        other.add_blockref("ONE", (0, 0))
    drawing.modelspace().add_blockref("ONE", (0, 0))
    with pytest.raises(UnreadableFile):
        artwork(saved(drawing))
