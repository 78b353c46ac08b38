"""Copies on one sheet: in rows and nested, never too near, all on the grid, with one set of marks."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.findings import has_stop
from core.outline.loop import Loop
from core.outline.polygon import to_polygon
from core.outline.region import Region
from core.sheet.beside import Beside
from core.sheet.lay_out import lay_out
from core.sheet.placement import Placement, repeated
from core.sheet.rows import CopiesWish, between_copies, most_in_rows
from core.sheet.rule import GRID_MM, Clearances, FitRule
from core.sheet.wish import StockWish

WISH = StockWish(None, None, 3.0, 0.0, 0.1, 0.1, is_clear=True)
CLEARANCES = Clearances(FitRule(), 2.0, 3.0)


def polygon(*corners):
    return (Region(Loop(np.array(corners, dtype=float), np.zeros(len(corners)))),)


TRIANGLE = polygon((0, 0), (40, 0), (20, 35))
ELL = polygon((0, 0), (40, 0), (40, 10), (10, 10), (10, 40), (0, 40))
DISC = (Region(Loop.circle((15, 15), 15)),)
SHAPES = {"triangle": TRIANGLE, "ell": ELL, "disc": DISC}
TWO = (*polygon((0, 0), (20, 0), (20, 8), (0, 8)), *polygon((0, 20), (20, 20), (0, 30)))


def laid(shape, count, *, is_tight=False, travel=(600, 600), **sheet):
    wish = replace(WISH, copies=CopiesWish(count, is_tight), **sheet)
    return lay_out(shape, wish, FitRule(), bit_mm=2.0, travel_mm=travel)


@cache
def sixty(name, *, is_tight):
    """Sixty copies of a named shape, laid once for all tests."""
    return laid(SHAPES[name], 60, is_tight=is_tight)


def areas(shape, layout):
    """Each copy as a polygon in the frame, by shapely alone."""
    base = to_polygon(shape, 0.002)
    first = shapely.affinity.translate(base, *layout.shape_at)
    about = [(copy.at, 180 if copy.is_turned else 0) for copy in layout.copies]
    turned = [shapely.affinity.rotate(first, angle, (0, 0)) for _, angle in about]
    return [shapely.affinity.translate(area, *at) for area, (at, _) in zip(turned, about, strict=True)]


def check(shape, layout, count):
    every = areas(shape, layout)
    assert len(every) == count
    assert layout.copies[0] == Placement()
    tree = shapely.STRtree(every)
    one, other = tree.query(every, predicate="dwithin", distance=between_copies(CLEARANCES) - 0.005)
    assert (one == other).all()
    size = layout.stock.width_mm, layout.stock.depth_mm
    x_min, y_min, x_max, y_max = shapely.MultiPolygon([p for area in every for p in area.geoms]).bounds
    assert min(x_min, y_min, size[0] - x_max, size[1] - y_max) >= 8.0 - 0.01
    for mark in layout.marks:
        gap = min(shapely.distance(area, shapely.Point(mark.at)) for area in every)
        assert gap >= CLEARANCES.to_part(is_key=mark.is_key) - 0.005
    assert not np.any(np.array([copy.at for copy in layout.copies]) % GRID_MM)


@pytest.mark.parametrize("is_tight", [False, True])
@pytest.mark.parametrize("name", SHAPES)
def test_sixty_copies_keep_their_distance_and_share_one_set_of_marks(name, is_tight):
    layout = sixty(name, is_tight=is_tight)
    assert layout.findings == ()
    check(SHAPES[name], layout, 60)
    assert len(layout.marks) == 4  # one set, for a sheet this long


@pytest.mark.parametrize("is_tight", [False, True])
def test_separate_parts_of_one_drawing_stay_together(is_tight):
    layout = laid(TWO, 6, is_tight=is_tight)
    assert layout.findings == ()
    check(TWO, layout, 6)


@given(
    st.lists(st.floats(0.2, 1.0), min_size=5, max_size=12),
    st.tuples(st.floats(10, 60), st.floats(10, 60)),
    st.integers(2, 9),
)
@settings(deadline=None, max_examples=3)
def test_copies_of_any_shape_nested_tightly_keep_their_distance(radii, size, count):
    angles = np.linspace(0, 2 * np.pi, len(radii), endpoint=False)
    points = np.column_stack((np.cos(angles), np.sin(angles))) * np.array(radii)[:, None]
    points = (points - points.min(axis=0)) / np.ptp(points, axis=0) * np.array(size)
    shape = polygon(*points)
    layout = laid(shape, count, is_tight=True)
    assert not has_stop(layout.findings)
    check(shape, layout, count)


@pytest.mark.parametrize("name", ["triangle", "ell"])
def test_nested_tightly_they_take_much_less_of_the_sheet_and_some_are_turned(name):
    rows, tight = sixty(name, is_tight=False).stock, sixty(name, is_tight=True)
    assert tight.stock.width_mm * tight.stock.depth_mm < 0.85 * rows.width_mm * rows.depth_mm
    assert 15 < sum(copy.is_turned for copy in tight.copies) < 45


def test_what_does_not_fit_says_how_many_do_and_so_many_do():
    found = {finding.code: finding for finding in laid(DISC, 30, width_mm=200.0, depth_mm=150.0).findings}
    assert found["copies-do-not-fit"].text == "Of 30 copies only 12 fit this sheet and machine."
    assert not has_stop(laid(DISC, 12, width_mm=200.0, depth_mm=150.0).findings)
    assert has_stop(laid(DISC, 13, width_mm=200.0, depth_mm=150.0).findings)


def test_a_machine_that_travels_less_takes_fewer_copies():
    codes = [finding.code for finding in laid(DISC, 60, travel=(150, 150)).findings]
    assert "copies-do-not-fit" in codes


def test_so_many_boxes_fit_a_room():
    assert most_in_rows((0, 0, 30, 20), 5.0, (100.0, 45.0)) == 6
    assert most_in_rows((0, 0, 30, 20), 5.0, (99.9, 45.0)) == 4
    assert most_in_rows((0, 0, 30, 20), 5.0, (29.0, 45.0)) == 0


@given(st.integers(0, 2**30))
@settings(deadline=None, max_examples=30)
def test_where_two_drawings_meet_is_what_laying_them_on_each_other_shows(seed):
    rng = np.random.default_rng(seed)
    cells = rng.random((5, 7)) < 0.4
    beside = Beside.of(cells)
    upside = cells[::-1, ::-1]
    for first, second in ((False, False), (False, True), (True, False), (True, True)):
        x, y = int(rng.integers(-8, 9)), int(rng.integers(-6, 7))
        sheet = np.zeros((30, 40), dtype=int)
        sheet[10:15, 15:22] += upside if first else cells
        sheet[10 + y : 15 + y, 15 + x : 22 + x] += upside if second else cells
        (met,) = beside.meets(np.array([x]), np.array([y]), first=first, second=second)
        assert met == (sheet.max() > 1)


@given(st.floats(-50, 50), st.floats(-50, 50), st.booleans(), st.booleans())
@settings(deadline=None)
def test_a_placement_is_undone_and_follows_another(x, y, one, other):
    first, then, point = Placement((3.5, -2.0), one), Placement((40.0, 7.5), other), np.array([[x, y]])
    assert first.back(first.points(point)) == pytest.approx(point)
    assert then.after(first).points(first.points(point)) == pytest.approx(then.points(point))


def test_a_turned_copy_keeps_its_arcs_and_its_sense():
    (turned,) = repeated(DISC, (Placement((100.0, 50.0), is_turned=True),))
    assert turned.outer.bounds() == pytest.approx((70, 20, 100, 50))
    assert turned.outer.signed_area() == pytest.approx(DISC[0].outer.signed_area())
