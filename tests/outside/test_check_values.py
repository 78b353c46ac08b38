"""Worked values of formulas and standards, each with its own source, against what the rooms answer."""

import math

import numpy as np
import pytest

from core.drawing.read.svg import read_svg
from core.drawing.read.svg_units import MM, read_length, scales
from core.errors import UnreadableFile
from core.outline.boolean import difference
from core.outline.loop import Loop
from core.outline.segments import Segments
from core.paper.pdf import POINTS_PER_MM
from core.program.read.arc import MismatchRule
from core.program.read.leniency import LENIENT, STRICT
from core.program.read.read import read_program
from core.router.bit import Bit
from core.router.cutting import Cutting, Direction, TabRule
from core.router.depths import Drop, descent
from core.router.feeds import chip_load_mm, feeds_along
from core.router.limbs import bending
from core.router.machine import Machine
from core.router.neck import half_lift_mm
from core.router.reach import as_cut
from core.router.setup import Setup
from core.router.tab import TabPlace, lift_over, tabs_left
from core.router.tab_grid import lifted_mm
from core.router.unrolled import Unrolled
from core.sheet.layout import Layout
from core.sheet.material import material_named
from core.sheet.stock import Stock
from tests.support.shapes import area, polygon, rectangle, regular, solid

pytestmark = pytest.mark.outside

EIGHTH = Bit(3.175, 1, 12.0)
PLUNGE = 80.0


def cutting(feed=400.0, rpm=10000.0):
    ramp, way = math.radians(3.0), Direction.CLIMB
    return Cutting(rpm, feed, PLUNGE, 1.5, ramp, 0.3, 5.0, way, has_last_lap=True, allowance_mm=0.2)


def setup():
    stock = Stock(300.0, 200.0, 3.0, 0.0, 0.0, 0.0, True)
    layout = Layout(stock, (20.0, 20.0), (), (0.0, 0.0), 150.0, "far", ())
    machine = Machine((300, 200, 50), 1000, 50, 30, 0.01, "program", 5)
    return Setup(layout, EIGHTH, cutting(), TabRule(4.0, 0.6, 60.0, 4, None), machine)


# Sagitta of a chord over the angle a: e = R (1 - cos(a / 2)), so a = 2 acos(1 - e / R) and a circle takes
# ceil(2 pi / a) chords (plane trigonometry): radius and e in mm, a in degrees, chords, their length in mm.
FLATTENED = [
    (10.0, 0.01, 5.125117, 71, 0.894204),
    (10.0, 0.005, 3.623854, 100, 0.632376),
    (1.5875, 0.01, 12.868828, 28, 0.355809),
    (50.0, 0.01, 2.291869, 158, 1.999900),
]


def arc_of(radius, degrees):
    """One arc from (radius, 0) counter-clockwise."""
    turn = math.radians(degrees)
    end = [radius * math.cos(turn), radius * math.sin(turn)]
    return Segments(np.array([[radius, 0.0]]), np.array([end]), np.array([math.tan(turn / 4.0)]))


@pytest.mark.parametrize(("radius", "within", "degrees", "count", "chord"), FLATTENED)
def test_an_arc_takes_as_many_chords_as_its_sagitta_asks(radius, within, degrees, count, chord):
    assert arc_of(radius, 359.9).steps(within)[0] == count
    assert arc_of(radius, degrees - 1e-4).steps(within)[0] == 1
    assert arc_of(radius, degrees + 1e-4).steps(within)[0] == 2
    assert arc_of(radius, degrees).chord_lengths()[0] == pytest.approx(chord, abs=1e-6)


def test_chords_stay_inside_the_circle_by_no_more_than_asked():
    # Inscribed regular polygon of 64 corners, radius 10 mm: area 313.654849 mm2, edge 62.806623 mm.
    sagitta = 10.0 * (1.0 - math.cos(math.pi / 64.0))
    corners = Loop.circle((3.0, -2.0), 10.0).flattened(sagitta * 1.0000001)
    flat = Loop(corners, np.zeros(len(corners)))
    assert len(corners) == 64
    assert flat.signed_area() == pytest.approx(313.654849, abs=1e-6)
    assert flat.length() == pytest.approx(62.806623, abs=1e-6)


# A straight-sided right angle inside the part's edge keeps r^2 (1 - pi / 4) of waste, out to r (sqrt(2) - 1)
# from its corner (plane trigonometry): radius in mm, mm2, mm.
RIGHT_ANGLES = [
    (0.5, 0.053650, 0.207107),
    (0.75, 0.120714, 0.310660),
    (1.0, 0.214602, 0.414214),
    (1.5875, 0.540830, 0.657564),
]


@pytest.mark.parametrize(("radius", "left_over", "reach"), RIGHT_ANGLES)
def test_real_bits_leave_the_worked_waste_in_the_inside_corner_of_a_part(radius, left_over, reach):
    ell = solid(polygon((0, 0), (40, 0), (40, 20), (20, 20), (20, 40), (0, 40)))
    (left,) = difference(as_cut(ell, Bit(2.0 * radius, 1, 6.0)).regions, ell)
    assert left.area() == pytest.approx(left_over, abs=1e-6)
    round_side = int(np.flatnonzero(left.outer.bulges)[0])
    middle = left.outer.segments().midpoints()[round_side]
    assert np.hypot(*(middle - 20.0)) == pytest.approx(reach, abs=1e-6)


@pytest.mark.parametrize("shape", [regular(3, 30), regular(6, 10), rectangle(100, 50)])
def test_a_convex_part_comes_off_the_machine_as_it_was_asked_for(shape):
    # Closing by a disc leaves convex sets alone (J. Serra, Image Analysis and Mathematical Morphology, 1982).
    cut = as_cut(solid(shape), EIGHTH)
    assert area(cut.regions) == pytest.approx(shape.signed_area(), abs=1e-9)
    assert cut.findings == ()


# The path is lifted for the tab's length and the bit's diameter, of which the round bit eats one radius at
# each end (maker-help pages on tabs): 4 mm with a bit of 3.175 mm is 7.175 mm of path.
def test_the_path_is_lifted_for_the_tab_and_the_bit():
    straight = Unrolled.of(Loop(*corners_of(200.0, 100.0)))
    middle = (100.0, 0.0)
    place = TabPlace(middle, (100.0, 1.5875))
    assert lifted_mm(setup()) == pytest.approx(7.175, abs=1e-9)
    assert half_lift_mm(straight, np.array([100.0]), 7.175)[0] == pytest.approx(7.175 / 2.0, abs=1e-5)
    (tab,) = tabs_left(straight, (place,), setup())
    assert (tab.neck_mm, tab.wall_mm) == (4.0, pytest.approx(7.175, abs=1e-4))


def test_a_lifted_path_leaves_the_neck_at_the_stocks_bottom_and_the_height_above_it():
    straight = Unrolled.of(Loop(*corners_of(200.0, 100.0)))
    heights = lift_over(straight, (TabPlace((100.0, 0.0), (100.0, 1.5875)),), (0.0, 600.0), setup())
    at = np.linspace(80.0, 120.0, 40001)
    above = at[heights.at(at) > setup().bed_z + 1e-9]
    assert above[-1] - above[0] - 3.175 == pytest.approx(4.0, abs=0.002)
    assert heights.at(at).max() == pytest.approx(-3.0 + 0.6, abs=1e-12)


def test_on_a_curve_the_tabs_stub_is_shorter_by_the_radii():
    # On the outside of a curve of radius R the wall gets R / (R + r) of what is lifted (plane geometry).
    radius, bit = 50.0, EIGHTH.radius_mm
    path = Unrolled.of(Loop.circle((0.0, 0.0), radius + bit))
    (tab,) = tabs_left(path, (TabPlace((0.0, radius + bit), (0.0, radius)),), setup())
    lifted = 2.0 * half_lift_mm(path, np.array([path.nearest((0.0, radius + bit))]), 7.175)[0]
    assert tab.wall_mm == pytest.approx(lifted * radius / (radius + bit), abs=1e-6)
    assert lifted == pytest.approx(7.175, rel=1e-3)


def corners_of(width, depth):
    return rectangle(width, depth).points, rectangle(width, depth).bulges


def test_a_ramp_of_three_degrees_is_as_long_as_its_depth_over_the_tangent():
    # 1.5 mm at 3 degrees: 28.6217 mm (depth over tangent, plane trigonometry).
    drop = Drop(0.0, (-1.5,), math.tan(math.radians(3.0)))
    assert drop.last_ramp_mm == pytest.approx(28.6217, abs=1e-4)
    depths = descent(10.0, 200.0, drop)
    bottom = depths.distances[np.argmax(depths.z <= -1.5)]
    assert bottom - 10.0 == pytest.approx(28.6217, abs=1e-4)


def test_a_spiral_comes_to_the_same_depth_in_the_same_length():
    # The same 28.6217 mm, round and round a hole's path of 2 mm across: 4.555 turns of 6.2832 mm.
    depths = descent(0.0, 2.0 * math.pi, Drop(0.0, (-1.5,), math.tan(math.radians(3.0))))
    bottom = depths.distances[np.argmax(depths.z <= -1.5)]
    assert bottom == pytest.approx(28.6217, abs=1e-4)
    assert bottom / (2.0 * math.pi) == pytest.approx(4.555, abs=1e-3)


def test_a_plunge_goes_down_at_its_own_feed_and_no_ramp_faster():
    # Straight down, 45 degrees and 3 degrees, all 1.5 mm deep: the downward share of a feed is its sine.
    degrees = np.radians([90.0, 45.0, 3.0])
    lengths, rises = 1.5 / np.sin(degrees), np.full(3, -1.5)
    feeds = feeds_along(lengths, rises, cutting())
    assert feeds[0] == pytest.approx(PLUNGE)
    assert feeds[1] == pytest.approx(PLUNGE * math.sqrt(2.0))
    assert feeds[2] == pytest.approx(200.0)  # half the feed of a slot (a cutting-tool catalogue)
    assert np.all(feeds * np.sin(degrees) <= PLUNGE + 1e-9)


# A bar bent across its width: 6 F L / (w t^2), any strength-of-materials text; worked by hand to the figures.
@pytest.mark.parametrize(
    ("newtons", "long", "wide", "thick", "stress"),
    [(10.0, 30.0, 4.0, 3.0, 50.0), (20.0, 40.0, 6.0, 3.0, 88.9)],
)
def test_a_neck_is_bent_as_the_worked_examples_have_it(newtons, long, wide, thick, stress):
    assert bending(newtons, long, wide, thick) == pytest.approx(stress, abs=0.05)
    assert stress < material_named("clear cast acrylic").bending == pytest.approx(110.0, abs=0.5)


# Chip load is feed / (speed * flutes): n z f_z = 762 mm/min at 10000 a minute, one flute and 0.0762 mm; and
# 500 in/min at 15000 with two flutes is 0.0166667 in (worked example of the cutter industry's pages).
@pytest.mark.parametrize(
    ("feed", "rpm", "flutes", "chip"),
    [(762.0, 10000.0, 1, 0.0762), (500.0 * 25.4, 15000.0, 2, 0.0166667 * 25.4)],
)
def test_chip_loads_are_those_of_the_worked_examples(feed, rpm, flutes, chip):
    assert chip_load_mm(cutting(feed, rpm), flutes) == pytest.approx(chip, abs=1e-6)


# CSS Values and Units 3, absolute lengths: 1 in is 96 px and 25.4 mm, 1 pt a 72nd of an inch.
@pytest.mark.parametrize(
    ("text", "mm"),
    [("1in", 25.4), ("96px", 25.4), ("100px", 26.4583333333), ("100", 26.4583333333), ("72pt", 25.4),
     ("1pt", 0.3527777778), ("377.9527559055px", 100.0), ("6pc", 25.4), ("4Q", 1.0)],
)  # fmt: skip
def test_lengths_of_svg_are_those_of_the_standard(text, mm):
    assert read_length(text).mm == pytest.approx(mm, abs=1e-9)


def test_a_drawing_is_as_large_as_its_pixels_of_96_an_inch():
    # 100 px are 26.4583 mm; taken for 90 or 72 an inch they would be 28.2222 or 35.2778 mm.
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="100" height="100"><path d="M0 0H100V100H0Z"/></svg>'
    (found,) = read_svg(svg.encode()).layers[0].contours
    assert np.ptp(found.points, axis=0) == pytest.approx((26.4583333333, 26.4583333333), abs=1e-9)


def test_a_view_box_of_half_the_numbers_is_two_mm_a_unit():
    # SVG 2, the viewport transform: width 100 mm over 50 units.
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 50 50">'
        '<path d="M0 0H10V10H0Z"/></svg>'
    )
    (found,) = read_svg(svg.encode()).layers[0].contours
    assert np.ptp(found.points, axis=0) == pytest.approx((20.0, 20.0), abs=1e-12)


def test_the_standards_view_boxes_have_its_scales():
    # SVG 2, preserveAspectRatio: 300 by 200 over 1500 by 1000 is 0.2; 150 by 200 over the same is 0.1, by 0.2
    # with "none".
    assert scales(300 / 1500, 200 / 1000, "none") == pytest.approx((0.2, 0.2), abs=1e-12)
    assert scales(150 / 1500, 200 / 1000, "xMidYMid meet") == pytest.approx((0.1, 0.1), abs=1e-12)
    assert scales(150 / 1500, 200 / 1000, "none") == pytest.approx((0.1, 0.2), abs=1e-12)
    assert scales(150 / 1500, 200 / 1000, "xMidYMid slice") == pytest.approx((0.2, 0.2), abs=1e-12)


def test_a_point_of_pdf_is_a_72nd_of_an_inch():
    # ISO 32000-1, 8.3.2.3: user space unit 1/72 in, 0.3527777778 mm.
    one_point = 1.0 / POINTS_PER_MM
    assert one_point == pytest.approx(0.3527777778, abs=1e-10)
    assert MM["pt"] == pytest.approx(one_point, rel=1e-14)


def radii_of(lines):
    program = read_program(f"G21\nG90\nG94\nG17\nG0 Z9\n{lines}\nM2\n".encode(), leniency=LENIENT)
    row = len(program) - 1
    return [float(np.hypot(*(ends[:2] - program.centres[row]))) for ends in program.ends[row - 1 : row + 1]]


def test_an_arc_of_three_decimals_can_break_the_standards_rule_and_one_of_four_does_not():
    # NISTIR 6556 3.5.3.2, radii may differ by 0.002 mm; the worked difference is 0.0025093 at three decimals,
    # 0.0000373 at four (plane geometry).
    three = "G0 X64.341 Y78.915\nG3 X44.323 Y39.690 I-9.033 J-20.112 F600"
    four = "G0 X64.3405 Y78.9145\nG3 X44.3226 Y39.6895 I-9.0321 J-20.1110 F600"
    for lines, apart, allowed in ((three, 0.0025093, False), (four, 0.0000373, True)):
        first, last = radii_of(lines)
        assert abs(first - last) == pytest.approx(apart, abs=1e-6)
        assert MismatchRule.of(STRICT, 1.0).is_broken(first, last) is not allowed
    read_program(f"G21\nG90\nG94\nG17\nG0 Z9\n{four}\nM2\n".encode())


@pytest.mark.parametrize(
    ("radius", "apart", "is_broken"),
    [
        (1.0, 0.0049, False),
        (1.0, 0.0051, True),
        (100.0, 0.099, False),
        (100.0, 0.101, True),
        (1000.0, 0.51, True),
    ],
)
def test_small_controllers_take_what_their_public_sources_say(radius, apart, is_broken):
    # Public sources of small open controllers: refused beyond 0.5 mm, or beyond 0.005 mm and 0.1 % of radius.
    assert MismatchRule.of(LENIENT, 1.0).is_broken(radius, radius + apart) is is_broken


def test_a_full_circle_says_where_it_ends():
    # NISTIR 6556 3.5.3.2: in the centre form it is an error to leave out both X and Y.
    with pytest.raises(UnreadableFile):
        read_program(b"G21\nG90\nG94\nG17\nG0 Z9\nG0 X10 Y0\nG3 I-10 J0 F600\nM2\n")
    read_program(b"G21\nG90\nG94\nG17\nG0 Z9\nG0 X10 Y0\nG3 X10 Y0 I-10 J0 F600\nM2\n")
