"""Break cuts by removal: they leave what they should, keep clear of everything, and open every frame."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.outline.loop import Loop
from core.outline.region import Region
from core.router.break_cut import BreakCut, break_task
from core.router.setup import Setup
from core.sheet.clamp import Clamp
from core.sheet.mark import Mark
from core.sheet.placement import Placement
from tests.core.router.sheet_after import (
    BIT,
    CUTTING,
    MACHINE,
    MARKS,
    TABS,
    circle_part,
    left_at,
    planned,
    polygon,
    rectangle,
    removed,
    sheet,
)

OPENING = replace(CUTTING, break_left_mm=1.0)
HINGED = replace(sheet(), hinge_mm=25.0)
BOTTOM, LEFT = -3.0, 1.0
#: mm that heights are taken apart.
BIT_OF_DEPTH = 0.01


def opened(part, layout=HINGED, **changes):
    return planned(part, cutting=replace(OPENING, **changes), layout=layout)


def lines_of(plan):
    return [shapely.LineString([cut.start, cut.end]) for cut in plan.breaks]


def snapped(plan, layout):
    """What stands at the stock's bottom when tabs are cut and the frame is snapped along every break cut."""
    strips = shapely.union_all([line.buffer(BIT.radius_mm, cap_style="flat") for line in lines_of(plan)])
    crest = BOTTOM + TABS.height_mm + 1e-3
    return shapely.get_parts(left_at(plan.toolpath, crest, layout, BIT.radius_mm).difference(strips))


def enclosed(pieces, parts):
    """How many parts still lie in an opening of a piece."""
    holes = [shapely.Polygon(ring) for piece in pieces for ring in piece.interiors]
    return sum(any(hole.contains(part) for hole in holes) for part in parts)


ROUND = circle_part((70.0, 80.0), 30.0)


def test_two_cuts_lead_from_the_slot_to_the_sheets_edge_and_leave_one_mm():
    _, plan = opened(ROUND)
    assert len(plan.breaks) == 2
    edge = shapely.box(0, 0, 140, 150).boundary
    above, below = (
        removed(plan.toolpath, BOTTOM + LEFT + off, BIT.radius_mm) for off in (BIT_OF_DEPTH, -BIT_OF_DEPTH)
    )
    for line in lines_of(plan):
        assert edge.distance(shapely.Point(line.coords[1])) < 1e-9
        strip = line.buffer(BIT.radius_mm - 1e-3, cap_style="flat")
        assert strip.difference(above).area < 1e-6
        outside = strip.difference(shapely.Point(70, 80).buffer(30 + BIT.diameter_mm + 0.3))
        assert outside.area > 10.0
        assert outside.intersection(below).area < 1e-6


def test_they_are_cut_after_the_marks_and_before_the_part_is_freed():
    _, plan = opened(ROUND)
    path = plan.toolpath
    rows = [path.names[one].name for one in path.operations]
    first, last = rows.index("break cut"), len(rows) - rows[::-1].index("break cut")
    assert all("mark" in name for name in rows[:first])
    assert set(rows[first:last]) == {"break cut"}
    assert not [name for name in rows[last:] if "mark" in name]


@pytest.mark.parametrize("manner", [0, 1])
def test_no_move_of_a_cut_is_steeper_than_the_ramp_or_deeper_than_a_pass(manner):
    setup = Setup(HINGED, BIT, OPENING, TABS, MACHINE)
    (strand,) = break_task(BreakCut((20.0, 30.0), (0.0, 30.0), LEFT), setup).made(manner)
    down = -np.diff(strand.points[:, 2])
    along = np.hypot(*np.diff(strand.points[:, :2], axis=0).T)
    assert (down <= along * np.tan(OPENING.ramp_angle) + 1e-9).all()
    assert strand.points[-1, 2] == pytest.approx(BOTTOM + LEFT)
    levels = np.unique(np.round(strand.points[1:, 2][down == 0.0], 6))
    assert (np.diff([*levels, setup.top_z]) <= OPENING.depth_per_pass_mm + 1e-9).all()


def test_a_very_short_cut_still_reaches_its_depth_all_along():
    setup = Setup(HINGED, BIT, OPENING, TABS, MACHINE)
    (strand,) = break_task(BreakCut((0.3, 30.0), (0.0, 30.0), LEFT), setup).made(0)
    lowest = strand.points[:, 2].min()
    ends = strand.points[np.isclose(strand.points[:, 2], lowest), 0]
    assert lowest == pytest.approx(BOTTOM + LEFT)
    assert (ends.min(), ends.max()) == (0.0, 0.3)


@pytest.mark.parametrize(("tab", "left"), [(0.4, 0.6), (0.8, 0.8)])
def test_of_a_thin_sheet_half_is_left_or_as_much_as_tabs_are_high(tab, left):
    thin = replace(HINGED, stock=replace(HINGED.stock, thickness_mm=1.2))
    _, plan = planned(ROUND, cutting=OPENING, tabs=replace(TABS, height_mm=tab), layout=thin)
    assert [cut.left_mm for cut in plan.breaks] == [left, left]


def test_no_less_is_left_than_tabs_are_high():
    _, plan = planned(ROUND, cutting=OPENING, tabs=replace(TABS, height_mm=1.3), layout=HINGED)
    assert [cut.left_mm for cut in plan.breaks] == [1.3, 1.3]
    _, plan = planned(ROUND, cutting=OPENING, tabs=replace(TABS, height_mm=2.0), layout=HINGED)
    assert [cut.left_mm for cut in plan.breaks] == [2.0, 2.0]  # of 3 mm: more than half, as tabs are


@pytest.mark.parametrize("changes", [{"break_left_mm": 0.0}])
def test_none_are_made_where_none_are_asked_for(changes):
    _, plan = opened(ROUND, **changes)
    assert plan.breaks == ()
    assert "no-break-cuts" not in {finding.code for finding in plan.findings}


def test_a_skin_that_holds_the_part_needs_none():
    _, plan = planned(ROUND, cutting=OPENING, tabs=replace(TABS, skin_mm=0.5), layout=HINGED)
    assert plan.breaks == ()


@pytest.mark.parametrize("side", ["left", "right", "near", "far"])
def test_the_hinge_strip_stays_whole(side):
    layout = replace(HINGED, hinge_side=side)
    _, plan = opened(ROUND, layout)
    strip = {
        "left": shapely.box(0, 0, 25, 150),
        "right": shapely.box(115, 0, 140, 150),
        "near": shapely.box(0, 0, 140, 25),
        "far": shapely.box(0, 125, 140, 150),
    }[side]
    assert len(plan.breaks) == 2
    assert all(line.buffer(BIT.radius_mm).intersection(strip).area < 1e-6 for line in lines_of(plan))


def test_clamps_are_passed_by_what_turns():
    clamps = (Clamp((5.0, 80.0), (10.0, 30.0), 12.0), Clamp((135.0, 80.0), (20.0, 20.0), 12.0, is_round=True))
    layout = replace(HINGED, clamps=clamps)
    _, plan = opened(ROUND, layout)
    around = layout.body.radius_below(12.0 + 3.0, BIT.diameter_mm)
    shapes = [shapely.box(0, 65, 10, 95), shapely.Point(135, 80).buffer(10)]
    assert len(plan.breaks) == 2
    for line in lines_of(plan):
        assert min(line.distance(shape) for shape in shapes) >= around + 5.0 - 1e-6


def test_a_sheet_walled_with_clamps_has_no_place_and_says_what_to_do():
    sides = [((70.0, 2.0), (136.0, 4.0)), ((70.0, 148.0), (136.0, 4.0))]
    sides += [((2.0, 75.0), (4.0, 136.0)), ((138.0, 75.0), (4.0, 136.0))]
    layout = replace(HINGED, clamps=tuple(Clamp(at, size, 12.0) for at, size in sides))
    _, plan = opened(circle_part((70.0, 75.0), 30.0), layout)
    (finding,) = (one for one in plan.findings if one.code == "no-break-cuts")
    assert plan.breaks == ()
    assert "saw the frame open" in finding.remedy


def test_cuts_never_ask_for_more_travel_than_the_machine_has():
    tight = replace(MACHINE, travel_mm=(130.0, 200.0, 50.0))
    _, plan = planned(ROUND, cutting=OPENING, layout=HINGED, machine=tight)
    assert "travel-too-short" not in {finding.code for finding in plan.findings}


def wavy(centre, radius, lobes, depth):
    angles = np.linspace(0, 2 * np.pi, 90, endpoint=False)
    reach = radius * (1.0 + depth * np.sin(lobes * angles))
    points = np.column_stack((np.cos(angles), np.sin(angles))) * reach[:, None] + centre
    return (Region(Loop(points, np.zeros(len(points)))),)


@settings(max_examples=25, deadline=None)
@given(
    st.integers(2, 7),
    st.floats(0.0, 0.4),
    st.floats(18.0, 32.0),
    st.sampled_from(["left", "near", "far", ""]),
)
def test_every_frame_opens_and_marks_and_tabs_keep_their_wall(lobes, depth, radius, side):
    layout = replace(HINGED, hinge_side=side)
    part = wavy((72.0, 78.0), radius, lobes, depth)
    cut, plan = opened(part, layout)
    if not plan.breaks:
        assert "no-break-cuts" in {finding.code for finding in plan.findings}
        return
    for line in lines_of(plan):
        for mark in MARKS:
            assert line.distance(shapely.Point(mark.at)) >= mark.diameter_mm / 2 + BIT.radius_mm + 4.0 - 0.05
        for tab in plan.tabs:
            assert line.distance(shapely.Point(tab.at)) >= tab.wall_mm / 2 + BIT.radius_mm + 1.0 - 0.05
    solids = [shapely.Polygon(region.outer.flattened(0.01)) for region in cut.regions]
    pieces = snapped(plan, layout)
    assert (
        enclosed([piece for piece in pieces if not any(piece.intersects(one) for one in solids)], solids) == 0
    )


WIDE = replace(MACHINE, travel_mm=(600.0, 400.0, 50.0))
FAR_MARKS = tuple(Mark(at, 5.0, 4.0, False) for at in ((10.0, 200.0), (250.0, 195.0), (120.0, 8.0)))


@pytest.mark.parametrize("side", ["left", "near", ""])
@pytest.mark.parametrize("is_turned", [False, True])
def test_of_copies_every_part_has_its_frame_opened(side, is_turned):
    stock = sheet(260.0, 215.0, marks=FAR_MARKS)
    columns, rows, first = 5, 4, (50.0, 45.0)
    copies = []
    for row in range(rows):
        for column in range(columns):
            shift = (column * 40.0, row * 38.0)
            turned = is_turned and (row + column) % 2 == 1
            at = (2 * first[0] + shift[0], 2 * first[1] + shift[1]) if turned else shift
            copies.append(Placement(at, turned))
    layout = replace(stock, hinge_side=side, hinge_mm=20.0, copies=tuple(copies))
    part = (Region(polygon((38, 35), (62, 35), (58, 57), (46, 57))),)
    cut, plan = planned(part, cutting=OPENING, layout=layout, machine=WIDE)
    assert "no-break-cuts" not in {finding.code for finding in plan.findings}
    first_solid = shapely.Polygon(cut.regions[0].outer.flattened(0.01))
    solids = [shapely.transform(first_solid, copy.points) for copy in copies]
    pieces = snapped(plan, layout)
    frames = [piece for piece in pieces if not any(piece.intersects(one) for one in solids)]
    assert enclosed(frames, solids) == 0
    assert len(plan.breaks) <= 2 * len(copies)


def test_separate_parts_of_one_drawing_are_opened_each_and_a_part_in_an_opening_is_none_of_them():
    ring = Region(Loop.circle((50.0, 80.0), 22.0), (Loop.circle((50.0, 80.0), 14.0).reversed(),))
    core = Region(Loop.circle((50.0, 80.0), 6.0))
    beside = Region(rectangle(86, 62, 106, 98))
    cut, plan = opened((ring, core, beside))
    pieces = snapped(plan, HINGED)
    solids = [shapely.Polygon(region.outer.flattened(0.01)) for region in (ring, beside)]
    frames = [piece for piece in pieces if not any(piece.intersects(one) for one in solids)]
    assert enclosed(frames, solids) == 0
    assert len(plan.breaks) in {3, 4}
    assert len(cut.regions) == 3
