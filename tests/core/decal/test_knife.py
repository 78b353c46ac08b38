"""The shaft's path: a tip that trails it runs along the contour, corners and all."""

from math import pi

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.decal.knife import Knife, along, shaft_path, tip_run
from core.decal.start import NO_CORNER, begun_midway, begun_off_corners, rolled
from core.outline.loop import Loop
from core.outline.segments import Segments
from core.proof.blade import Blade, tips_along

SQUARE = Loop(np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]]), np.zeros(4))
KNIFE = Knife(0.25, is_compensated=True, overcut_mm=1.0)
#: Closed chains of lines and arcs round the origin, none shorter than a few offsets.
STARS = st.lists(st.tuples(st.floats(0.4, 1.0), st.floats(-0.5, 0.5)), min_size=3, max_size=9)


def star(said, size=20.0):
    angles = np.linspace(0, 2 * np.pi, len(said), endpoint=False)
    radii = size * np.array([radius for radius, _ in said])
    points = np.column_stack((radii * np.cos(angles), radii * np.sin(angles)))
    return Loop(points, np.array([bulge for _, bulge in said]))


def cut_by(path, heading):
    """The tip's way when the shaft runs along the path, arcs in chords far finer than a file has."""
    shaft = np.vstack((path.segments.corners(1e-5), path.segments.ends[-1:]))
    (tip,) = tips_along([shaft], Blade(KNIFE.offset_mm, heading))
    return tip


def lies_within(line, other, reach):
    """Whether every place of a line, a twentieth of a millimetre apart, is that near to the other."""
    shapely.prepare(other)
    places = shapely.points(shapely.get_coordinates(shapely.segmentize(line, 0.05)))
    return shapely.dwithin(other, places, reach).all()


@given(STARS, st.floats(-3.0, 3.0))
@settings(deadline=None, max_examples=30)
def test_the_tip_runs_along_the_contour_from_wherever_the_knife_points(said, heading):
    loop = star(said)
    tip = shapely.LineString(cut_by(shaft_path(loop, KNIFE, heading), heading))
    edge = shapely.LinearRing(loop.flattened(1e-5))
    assert lies_within(tip, edge, 0.002)
    assert lies_within(edge, tip, 0.002)


def test_a_square_is_swung_round_four_times_by_a_quarter_circle_each():
    path = shaft_path(SQUARE, Knife(0.25, is_compensated=True), 0.0)
    swings = path.segments.bulges != 0.0
    assert swings.sum() == 3  # it is entered and left along its first side
    assert path.segments.lengths()[swings] == pytest.approx(0.392699, abs=1e-6)
    turned = shaft_path(SQUARE, Knife(0.25, is_compensated=True), pi)
    assert turned.segments.lengths()[0] == pytest.approx(pi * 0.25)
    assert turned.segments.starts[0] == pytest.approx((-0.25, 0.0))


def test_a_cutter_that_compensates_gets_the_contour_itself():
    path = shaft_path(SQUARE, Knife(0.25), 1.0)
    np.testing.assert_array_equal(path.segments.starts, SQUARE.points)
    assert path.heading == pytest.approx(-pi / 2)


@given(STARS, st.floats(0.01, 9.0))
@settings(deadline=None)
def test_the_overcut_goes_on_along_the_contour_by_no_more_than_a_tenth(said, asked):
    loop = star(said)
    knife = Knife(0.25, overcut_mm=asked)
    run = tip_run(loop, knife.overcut_of(loop))
    over = run.lengths().sum() - loop.length()
    assert over == pytest.approx(min(asked, loop.length() / 10.0))
    edge = shapely.LinearRing(loop.flattened(1e-4))
    assert shapely.distance(edge, shapely.points(run.midpoints())).max() < 2e-4


def test_an_open_line_has_no_overcut():
    line = Segments.along(np.array([[0.0, 0.0], [5.0, 0.0]]), np.zeros(1))
    path = along(line, KNIFE, 0.0)
    assert path.segments.lengths().sum() == pytest.approx(5.0)
    assert path.segments.ends[-1] == pytest.approx((5.25, 0.0))


@given(STARS)
@settings(deadline=None)
def test_beginning_elsewhere_changes_nothing_of_the_contour(said):
    loop = star(said)
    for begun in (begun_off_corners(loop), begun_midway(loop)):
        assert begun.length() == pytest.approx(loop.length())
        assert begun.signed_area() == pytest.approx(loop.signed_area(), abs=1e-6)
        assert begun.bounds() == pytest.approx(loop.bounds(), abs=1e-9)
    points = {tuple(point) for point in begun_off_corners(loop).points.tolist()}
    assert points == {tuple(point) for point in loop.points.tolist()}  # not one is new


@given(STARS)
@settings(deadline=None)
def test_a_plot_begins_on_no_corner(said):
    segments = begun_midway(star(said)).segments()
    turn = segments.headings_at(np.zeros(len(segments)))[0] - segments.headings_at(np.ones(len(segments)))[-1]
    assert abs((turn + pi) % (2 * pi) - pi) <= NO_CORNER


def test_a_rounded_square_begins_on_its_longest_side():
    corners = np.array([[2, 0], [18, 0], [20, 2], [20, 8], [18, 10], [2, 10], [0, 8], [0, 2]], float)
    quarter = np.tan(pi / 8)
    loop = Loop(corners, np.array([0, quarter] * 4))
    square = rolled(SQUARE, 2)
    assert begun_off_corners(square).points.tolist() == square.points.tolist()
    begun = begun_off_corners(loop)
    assert abs(begun.points[0, 1] - 5.0) == 5.0
    assert begun_midway(SQUARE).points[0].tolist() in ([5, 0], [10, 5], [5, 10], [0, 5])
