"""Whatever the shape and the sheet: marks that tell, clearances kept, or a stop that says what is missing."""

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from core.errors import BadValue
from core.findings import has_stop
from core.outline.loop import Loop
from core.outline.measure import distances
from core.outline.region import Region, bounds_of
from core.sheet.lay_out import lay_out
from core.sheet.rule import GRID_MM, Clearances, FitRule
from core.sheet.wish import StockWish
from core.sheet.wrong_fit import worst_wrong_fit

WISH = StockWish(None, None, 3.0, 0.1, 0.1, 0.1, is_clear=True)
TRAVEL = (300.0, 200.0)


def blob(radii, size, bulge=0.0):
    """A star-shaped outline through radii at even angles, its box (0, 0) to size."""
    angles = np.linspace(0, 2 * np.pi, len(radii), endpoint=False)
    points = np.column_stack((np.cos(angles), np.sin(angles))) * np.array(radii)[:, None]
    points = (points - points.min(axis=0)) / np.ptp(points, axis=0) * size
    loop = Loop(points, np.full(len(radii), bulge))
    x, y, *_ = loop.bounds()
    return (Region(loop.moved(-x, -y)),)


def box(width, height, x=0.0, y=0.0):
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], float)
    return Region(Loop(corners, np.zeros(4)).moved(x, y))


def laid(regions, wish=WISH, bit=2.0, travel=TRAVEL, **more):
    return lay_out(regions, wish, FitRule(), bit_mm=bit, travel_mm=travel, **more)


def codes(layout):
    return [finding.code for finding in layout.findings]


def in_frame(regions, layout):
    return [region.outer.moved(*layout.shape_at) for region in regions]


def check_marks(layout, regions, bit):
    """Pattern, clearances to part and edges, grid, key."""
    clearances = Clearances(FitRule(), bit, layout.stock.thickness_mm)
    assert worst_wrong_fit([mark.at for mark in layout.marks]) >= 5.0
    assert [mark.is_key for mark in layout.marks] == [True] + [False] * (len(layout.marks) - 1)
    away = distances(in_frame(regions, layout), np.array([mark.at for mark in layout.marks]))
    size = (layout.stock.width_mm, layout.stock.depth_mm)
    for mark, distance in zip(layout.marks, away, strict=True):
        assert distance >= clearances.to_part(is_key=mark.is_key)
        edges = [*mark.at, size[0] - mark.at[0], size[1] - mark.at[1]]
        assert min(edges) >= clearances.to_edge(is_key=mark.is_key) - 1e-9
        assert np.all(np.array(mark.at) / GRID_MM == np.rint(np.array(mark.at) / GRID_MM))
    for one in layout.marks:
        others = [np.hypot(*np.subtract(one.at, other.at)) for other in layout.marks if other is not one]
        assert min(others) >= 12.0


def edge_distance(side, bounds, size):
    return {
        "left": bounds[0],
        "near": bounds[1],
        "right": size[0] - bounds[2],
        "far": size[1] - bounds[3],
    }[side]


def check_frame(layout, regions, bit):
    """Frame round the part, hinge strip clear of slot and marks."""
    bounds, size = (
        bounds_of(in_frame(regions, layout)),
        (layout.stock.width_mm, layout.stock.depth_mm),
    )
    for side in ("left", "right", "near", "far"):
        assert edge_distance(side, bounds, size) >= max(8.0, bit + 6.0) - 1e-9
    if layout.hinge_side:
        assert edge_distance(layout.hinge_side, bounds, size) >= 25.0 + bit - 1e-9
        for mark in layout.marks:
            (x, y), radius = mark.at, mark.diameter_mm / 2
            hole = (x - radius, y - radius, x + radius, y + radius)
            assert edge_distance(layout.hinge_side, hole, size) >= 25.0 - 1e-9


RADII = st.lists(st.floats(0.25, 1.0), min_size=5, max_size=14)
SIZES = st.tuples(st.floats(8.0, 180.0), st.floats(8.0, 180.0))
BITS = st.sampled_from([1.0, 2.0, 3.175])


@given(RADII, SIZES, BITS, st.floats(2.0, 6.0), st.booleans())
@settings(deadline=None, max_examples=25)
def test_marks_round_any_shape_tell_every_wrong_way_and_keep_their_clearances(
    radii, size, bit, thickness, is_clear
):
    wish = StockWish(None, None, thickness, 0.1, 0.1, 0.1, is_clear)
    regions = blob(radii, size)
    layout = laid(regions, wish, bit)
    assert not {"stock-too-small", "no-mark-pattern"} & set(codes(layout))
    check_marks(layout, regions, bit)
    check_frame(layout, regions, bit)
    assert layout.stock.width_mm % 10 == 0
    assert layout.stock.depth_mm % 10 == 0
    assert {mark.seen for mark in layout.marks} == {"look-through" if is_clear else "punch"}


@given(RADII, SIZES, st.floats(20.0, 300.0), st.floats(20.0, 300.0))
@settings(deadline=None, max_examples=12)
def test_on_the_makers_own_sheet_it_fits_or_a_stop_says_what_is_missing(radii, size, width, depth):
    regions = blob(radii, size, 0.1)
    layout = laid(regions, StockWish(width, depth, 3.0, 0.1, 0.1, 0.1, is_clear=True))
    assert (layout.stock.width_mm, layout.stock.depth_mm) == (width, depth)
    if "stock-too-small" in codes(layout):
        assert has_stop(layout.findings)
    elif "no-mark-pattern" not in codes(layout):
        check_marks(layout, regions, 2.0)
        check_frame(layout, regions, 2.0)
        assert bool(layout.hinge_side) != ("hinge-too-narrow" in codes(layout))


@given(RADII, st.tuples(st.floats(20.0, 150.0), st.floats(20.0, 150.0)))
@settings(deadline=None, max_examples=10)
def test_what_fits_a_sheet_fits_a_larger_one(radii, size):
    regions = blob(radii, size)
    least = laid(regions)
    wish = StockWish(
        least.stock.width_mm + 7.3, least.stock.depth_mm + 31.0, 3.0, 0.1, 0.1, 0.1, is_clear=True
    )
    layout = laid(regions, wish)
    assume("travel-too-short" not in codes(layout))
    assert not has_stop(layout.findings)
    check_marks(layout, regions, 2.0)


def test_the_same_shape_is_laid_the_same_way_twice():
    regions = blob([1, 0.5, 0.9, 0.4, 1, 0.7, 0.3], (94, 118))
    first, second = laid(regions), laid(regions)
    assert first == second


def test_the_key_stands_at_the_upper_left():
    layout = laid(blob(np.ones(30), (94, 118)))
    key, *others = layout.marks
    assert key.at[0] < layout.stock.width_mm / 2
    assert key.at[1] > layout.stock.depth_mm / 2
    assert all(key.at[1] - key.at[0] > mark.at[1] - mark.at[0] for mark in others)


def test_a_round_part_leaves_its_marks_the_corners_and_needs_less_sheet_than_a_square_one():
    areas = [
        layout.stock.width_mm * layout.stock.depth_mm
        for layout in (laid(blob(np.ones(60), (100, 100))), laid((box(100, 100),)))
    ]
    assert areas[0] < areas[1]


def test_a_sheet_too_small_says_how_much_is_missing():
    layout = laid((box(100, 100),), StockWish(90.0, 400.0, 3.0, 0.0, 0.1, 0.1, is_clear=True))
    (finding,) = [finding for finding in layout.findings if finding.code == "stock-too-small"]
    assert "mm of width missing" in finding.text
    assert "depth missing" not in finding.text


def test_a_sheet_that_takes_all_but_the_hinge_strip_is_a_caution():
    layout = laid(blob(np.ones(60), (94, 118)), StockWish(120.0, 150.0, 3.0, 0.0, 0.1, 0.1, is_clear=True))
    assert codes(layout) == ["hinge-too-narrow"]
    assert layout.hinge_side == ""


def test_a_machine_that_cannot_reach_says_how_much_it_is_short():
    layout = laid((box(100, 100),), travel=(100.0, 500.0))
    (finding,) = layout.findings
    assert finding.code == "travel-too-short"
    assert "mm in x" in finding.text
    assert has_stop(layout.findings)


def test_the_machine_has_to_reach_the_work_zero_too():
    near, far = (laid((box(60, 60),), travel=(150.0, 150.0), zero_at=zero) for zero in ((0, 0), (400, 0)))
    assert near.findings == ()
    assert codes(far) == ["travel-too-short"]


def test_a_long_sheet_gets_a_fourth_mark():
    layout = laid(blob(np.ones(60), (270, 100)), travel=(500.0, 500.0))
    assert len(layout.marks) == 4
    assert worst_wrong_fit([mark.at for mark in layout.marks]) >= 5.0


def test_no_mark_stands_in_an_opening_nor_in_a_bay_that_the_slot_closes():
    # A C of 160 mm with a mouth of 1.5 mm: the slot of a 2 mm bit closes it, and its waste falls out.
    ring = shapely.Point(80, 80).buffer(80).difference(shapely.Point(80, 80).buffer(60))
    mouth = shapely.box(80, 79.25, 200, 80.75)
    corners = shapely.get_coordinates(ring.difference(mouth).exterior)[:-1][::-1]
    loop = Loop(corners, np.zeros(len(corners)))
    loop = loop if loop.signed_area() > 0 else loop.reversed()
    regions = (Region(loop),)
    layout = laid(regions)
    middle = np.add(layout.shape_at, (80, 80))
    assert all(np.hypot(*np.subtract(mark.at, middle)) > 80 for mark in layout.marks)


def test_separate_parts_share_one_set_of_marks_clear_of_all():
    regions = (box(40, 60), box(30, 60, 55, 0))
    layout = laid(regions)
    check_marks(layout, regions, 2.0)


def test_the_mirror_line_and_the_parts_place_stand_on_the_grid():
    layout = laid(blob([1, 0.6, 0.8, 1, 0.5], (57.3, 61.7)))
    for value in (*layout.shape_at, layout.mirror_x):
        assert value / GRID_MM == round(value / GRID_MM)


@pytest.mark.parametrize("zero", [(0.25, 0.0), (0.0, 10.1)])
def test_a_zero_off_the_grid_is_refused(zero):
    with pytest.raises(BadValue):
        laid((box(50, 50),), zero_at=zero)


def test_a_sheet_without_thickness_is_refused():
    with pytest.raises(BadValue):
        laid((box(50, 50),), StockWish(None, None, 0.0, 0.0, 0.1, 0.1, is_clear=True))
