"""The stock after the path, judged by brute force: what is left, what holds it, and how the bit got there."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from core.cancel import CancelToken
from core.errors import Cancelled
from core.findings import Level
from core.outline.loop import Loop
from core.outline.region import Region
from core.router.bit import Bit
from core.router.cutting import Direction
from core.router.plan import plan
from core.router.reach import as_cut
from core.router.toolpath import Motion
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
    solid,
)

EDGE = 0.005  # mm: the promise of one outline, where the bit reaches
BED, FLOOR = -3.0, -3.3
JUST = 1e-6  # mm above a height
PLATE = (Region(rectangle(30, 30, 110, 130)),)
FRAMED = (Region(rectangle(30, 30, 110, 130), (rectangle(45, 50, 95, 110).reversed(),)),)
PIERCED = (
    Region(
        rectangle(30, 30, 110, 130),
        (Loop.circle((60, 60), 2.5).reversed(), rectangle(70, 90, 85, 100).reversed()),
    ),
)


def crest_of(tabs=TABS):
    return BED + tabs.height_mm


def closing_of(part, radius):
    """What the bit leaves of the part, by another library's offsets."""
    return shapely.buffer(shapely.buffer(solid(part), radius, quad_segs=256), -radius, quad_segs=256)


def part_left(made, part, bit, layout):
    """The part as it stands just above the tabs, as if they were cut flush."""
    asked = closing_of(part, bit.radius_mm)
    stands = left_at(made.toolpath, crest_of() + JUST, layout, bit.radius_mm)
    kept = [piece for piece in shapely.get_parts(stands) if piece.intersects(asked.buffer(-0.3))]
    return shapely.union_all(kept), asked


def assert_edge_is_as_asked(made, part, bit, layout):
    kept, asked = part_left(made, part, bit, layout)
    assert asked.difference(kept.buffer(EDGE)).area < 1e-6, "the part is gouged"
    assert kept.difference(asked.buffer(EDGE)).area < 1e-6, "something stays uncut"


def assert_nothing_is_loose(made, bit, layout):
    stands = left_at(made.toolpath, BED - 1e-7, layout, bit.radius_mm)
    assert len([piece for piece in shapely.get_parts(stands) if piece.area > 0.05]) == 1


def assert_moves_are_safe(made, floor=FLOOR):
    path = made.toolpath
    starts, ends = path.starts(), path.ends
    across = np.hypot(*(ends - starts)[:, :2].T) > 1e-9
    rapid, down = path.motions == Motion.RAPID, ends[:, 2] < starts[:, 2] - 1e-9
    low = np.minimum(starts[:, 2], ends[:, 2])
    assert ends[:, 2].min() >= floor - 1e-9
    assert not (rapid & across & (low < made.safe_z_mm - 1e-9)).any()
    assert not (rapid & down).any()
    assert not (~across & down & (ends[:, 2] < 0.1)).any(), "a plunge into stock"
    assert (np.abs(path.bulges) <= 1.0 + 1e-9).all()
    chords = np.hypot(*(ends - starts)[:, :2].T)[path.bulges != 0]
    assert (chords > 1e-3).all(), "an arc that a controller may take for a whole turn"
    assert ends[-1, 2] == pytest.approx(made.safe_z_mm)


def assert_never_down_too_fast(made, cutting=CUTTING):
    path = made.toolpath
    fed = path.motions == Motion.FEED
    fall = path.starts()[:, 2] - path.ends[:, 2]
    flat = np.hypot(*(path.ends - path.starts())[:, :2].T)
    half = 2 * np.arctan(np.abs(path.bulges))
    lengths = np.hypot(flat * np.where(half > 0, half / np.maximum(np.sin(half), 1e-12), 1), fall)
    cutting_down = fed & (fall > 1e-9) & (path.starts()[:, 2] < 0.3)
    speed = path.feeds[cutting_down] * fall[cutting_down] / lengths[cutting_down]
    assert (speed <= cutting.plunge_mm_min * (1 + 1e-6)).all()


BITS = [Bit(1.0, 1, 6.0), BIT, Bit(3.175, 1, 6.0)]


@pytest.mark.parametrize("bit", BITS, ids=lambda bit: f"{bit.diameter_mm} mm")
@pytest.mark.parametrize("part", [PLATE, FRAMED, PIERCED], ids=["plate", "framed", "pierced"])
def test_the_part_left_is_the_part_asked_for_and_hangs_on_its_tabs(part, bit):
    layout = sheet(marks=())
    _, made = planned(part, bit=bit, layout=layout)
    assert_edge_is_as_asked(made, part, bit, layout)
    assert_nothing_is_loose(made, bit, layout)
    assert_moves_are_safe(made)
    assert_never_down_too_fast(made)


@pytest.mark.parametrize("rough", list(Direction))
@pytest.mark.parametrize("has_last_lap", [True, False])
def test_either_direction_with_or_without_a_last_lap_leaves_the_same_part(rough, has_last_lap):
    layout, cutting = sheet(marks=()), replace(CUTTING, rough=rough, has_last_lap=has_last_lap)
    _, made = planned(FRAMED, cutting=cutting, layout=layout)
    assert_edge_is_as_asked(made, FRAMED, BIT, layout)
    assert_nothing_is_loose(made, BIT, layout)
    assert_moves_are_safe(made)


def test_above_their_crest_the_tabs_hold_nothing():
    layout = sheet(marks=())
    _, made = planned(PLATE, layout=layout)
    assert len(shapely.get_parts(left_at(made.toolpath, crest_of() + JUST, layout, 1.0))) == 2
    assert len(shapely.get_parts(left_at(made.toolpath, crest_of() - 0.02, layout, 1.0))) == 1


@pytest.mark.parametrize("bit", BITS, ids=lambda bit: f"{bit.diameter_mm} mm")
def test_a_tabs_neck_at_the_stocks_bottom_and_its_stub_on_the_wall_are_what_is_said(bit):
    layout = sheet(marks=())
    _, made = planned(PLATE, bit=bit, layout=layout)
    gone = removed(made.toolpath, BED - 1e-9, bit.radius_mm)
    middle = shapely.box(30, 30, 110, 130).buffer(bit.radius_mm, quad_segs=64).exterior
    necks = [line.length for line in shapely.get_parts(shapely.line_merge(middle.difference(gone)))]
    assert len(necks) >= 4
    assert necks == pytest.approx([TABS.neck_mm] * len(necks), abs=0.02)
    assert [tab.wall_mm for tab in made.tabs] == pytest.approx([3 + bit.diameter_mm] * len(necks), abs=0.02)


def test_on_a_round_part_the_neck_is_as_asked_and_the_stub_on_the_wall_shorter():
    part, layout = circle_part((70, 75), 20), sheet(marks=())
    _, made = planned(part, layout=layout)
    gone = removed(made.toolpath, BED - 1e-9, 1.0)
    for piece in shapely.get_parts(
        shapely.line_merge(shapely.Point(70, 75).buffer(21).exterior.difference(gone))
    ):
        ends = np.asarray(piece.coords)[[0, -1]]
        assert math.dist(*ends) == pytest.approx(3.0, abs=0.02)
    lifted = 2 * 21 * math.asin(5.0 / 2 / 21)
    assert {round(tab.wall_mm, 3) for tab in made.tabs} == {round(lifted * 20 / 21, 3)}


def test_a_tab_stands_on_the_true_bottom_whatever_the_skim():
    for skim in (0.0, 0.3, 0.6):
        layout, cutting = sheet(marks=()), replace(CUTTING, skim_mm=skim)
        _, made = planned(PLATE, cutting=cutting, layout=layout)
        path = made.toolpath
        assert made.bottom_z_mm == pytest.approx(-3.0 - skim)
        lifted = path.ends[:, 2][np.isclose(path.ends[:, 2], crest_of())]
        assert lifted.size >= 8


def test_tabs_are_no_farther_apart_than_asked_and_on_the_wall():
    cut, made = planned(PLATE, layout=sheet(marks=()))
    wall = cut.regions[0].outer
    along = sorted(shapely.LinearRing(wall.points).project(shapely.Point(tab.at)) for tab in made.tabs)
    gaps = np.diff([*along, along[0] + wall.length()])
    assert gaps.max() <= 60 + 0.5  # the centre path is longer than the wall by its rounded corners
    assert shapely.LinearRing(wall.points).distance(shapely.Point(made.tabs[0].at)) < 1e-6


def test_tabs_placed_by_hand_are_where_the_hand_put_them():
    placed = ((70.0, 29.0), (111.0, 80.0), (70.0, 131.0))
    _, made = planned(PLATE, tabs=replace(TABS, placed=placed), layout=sheet(marks=()))
    spots = sorted(tab.at for tab in made.tabs)
    assert spots == pytest.approx(np.array([(70, 30), (70, 130), (110, 80)]), abs=1e-6)


def test_marks_are_bored_first_and_round_and_without_a_core():
    layout = sheet()
    _, made = planned(PLATE, layout=layout)
    gone = removed(made.toolpath, FLOOR, 1.0)
    for mark in MARKS:
        hole = shapely.Point(mark.at).buffer(mark.diameter_mm / 2, quad_segs=128)
        assert hole.buffer(-EDGE).difference(gone).area < 1e-9
        assert gone.intersection(hole.buffer(1.0)).difference(hole.buffer(EDGE)).area < 1e-9
    names = [made.toolpath.names[index].name for index in made.toolpath.operations]
    assert "edge" in names
    assert max(index for index, name in enumerate(names) if "mark" in name) < names.index("edge")


def test_small_waste_in_an_opening_is_milled_away_before_its_wall():
    layout = sheet(marks=())
    _, made = planned(PIERCED, layout=layout)
    gone = removed(made.toolpath, BED, 1.0)
    assert shapely.box(71.5, 91.5, 83.5, 98.5).difference(gone).area < 1e-9
    assert shapely.Point(60, 60).within(gone)


def test_large_waste_in_an_opening_hangs_on_tabs_of_its_own():
    cut, made = planned(FRAMED, layout=sheet(marks=()))
    opening = shapely.LinearRing(cut.regions[0].openings[0].points)
    assert sum(opening.distance(shapely.Point(tab.at)) < 0.01 for tab in made.tabs) >= 4


def test_waste_in_a_bay_whose_mouth_the_bit_fills_does_not_fly():
    inside = ((71.8, 80), (71.8, 75), (80, 75), (80, 60), (60, 60), (60, 75), (68.2, 75), (68.2, 80))
    bottle = polygon((30, 30), (110, 30), (110, 80), *inside, (30, 80))
    part, layout = (Region(bottle),), sheet(marks=())
    _, made = planned(part, layout=layout)
    assert_nothing_is_loose(made, BIT, layout)
    assert_edge_is_as_asked(made, part, BIT, layout)


def test_waste_that_hangs_by_a_thread_counts_as_loose():
    inside = ((72.7, 80), (72.7, 75), (80, 75), (80, 60), (60, 60), (60, 75), (67.3, 75), (67.3, 80))
    bottle = polygon((30, 30), (110, 30), (110, 80), *inside, (30, 80))  # the mouth leaves a thread of 1 mm
    layout = sheet(marks=())
    _, made = planned((Region(bottle),), layout=layout)
    gone = removed(made.toolpath, BED, 1.0)
    assert shapely.box(61, 61, 79, 74).within(gone)
    assert all(tab.at[1] > 79 or tab.at[1] < 59 or abs(tab.at[0] - 70) > 30 for tab in made.tabs)
    assert "tabs-far-apart" in {found.code for found in made.findings}


def test_a_part_inside_an_opening_is_a_part_of_its_own_and_everything_holds():
    part = (*FRAMED, *circle_part((70, 80), 12))
    layout = sheet(marks=())
    cut, made = planned(part, layout=layout)
    assert "several-parts" in {found.code for found in cut.findings}
    assert_nothing_is_loose(made, BIT, layout)
    assert_edge_is_as_asked(made, part, BIT, layout)


def test_openings_are_cut_before_the_edge_that_frees_them():
    _, made = planned(PIERCED, layout=sheet(marks=()))
    kinds = [operation.name.split()[0].rstrip(",") for operation in made.toolpath.names]
    assert kinds == sorted(kinds, key=["opening", "edge"].index)


def test_the_bit_enters_stock_by_ramps_no_steeper_than_asked():
    _, made = planned(PLATE, layout=sheet(marks=()))
    path = made.toolpath
    names = np.array([operation.name for operation in path.names])[path.operations]
    starts = path.starts()
    fall, flat = starts[:, 2] - path.ends[:, 2], np.hypot(*(path.ends - starts)[:, :2].T)
    fresh = (names == "edge") & (fall > 1e-9) & (starts[:, 2] < 0.3) & (starts[:, 2] > crest_of() + 0.1)
    assert (fall[fresh] <= flat[fresh] * math.tan(CUTTING.ramp_angle) * 1.2).all()


def test_the_last_lap_runs_the_other_way_on_the_exact_path_and_touches_it_tangentially():
    _, made = planned(PLATE, layout=sheet(marks=()))
    path = made.toolpath
    names = np.array([operation.name for operation in path.names])[path.operations]
    middle = np.array([70.0, 80.0])

    def sense(which):
        a, b = path.starts()[which][:, :2] - middle, path.ends[which][:, :2] - middle
        return np.sign(np.sum(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]))

    last = (names == "edge, last lap") & (path.motions == Motion.FEED)
    assert sense(last) == 1  # the part on the left: conventional with M3
    assert sense((names == "edge") & (path.motions == Motion.FEED)) == -1
    first, end = np.flatnonzero(last)[[0, -1]]
    assert path.bulges[first] != 0.0
    assert path.bulges[end] != 0.0


def test_the_passes_leave_the_allowance_that_the_last_lap_takes():
    _, made = planned(PLATE, layout=sheet(marks=()))
    path = made.toolpath
    names = np.array([operation.name for operation in path.names])[path.operations]
    ring = shapely.box(30, 30, 110, 130)
    rough = path.ends[(names == "edge") & (path.motions == Motion.FEED), :2]
    lap = path.ends[(names == "edge, last lap"), :2]
    gaps = shapely.distance(ring, shapely.points(rough))
    assert gaps.min() == pytest.approx(1.2, abs=1e-6)
    assert shapely.distance(ring, shapely.points(lap)).min() == pytest.approx(1.0, abs=1e-6)


def test_figures_follow_from_the_path():
    _, made = planned(PLATE, layout=sheet(marks=()))
    assert made.passes == 6  # 3.4 mm with the masking at 0.7 a pass, and the last lap
    assert made.safe_z_mm == pytest.approx(5.1)
    assert made.extents.z_min == pytest.approx(FLOOR)
    assert 6 * 366 < made.cut_length_mm < 7 * 370


def test_a_work_zero_elsewhere_may_change_where_a_cut_is_begun_but_not_what_is_cut():
    layout = sheet(marks=())
    paths = [
        planned(PLATE, layout=replace(layout, zero_at=zero))[1].toolpath
        for zero in ((0.0, 0.0), (70.0, 80.0), (140.0, 150.0))
    ]
    at_corner, *others = (left_at(path, FLOOR, layout, BIT.radius_mm) for path in paths)
    assert all(at_corner.symmetric_difference(other).buffer(-1e-3).area < 1e-6 for other in others)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"bit": Bit(2.0, 1, 3.5)}, "flute-too-short"),
        ({"machine": replace(MACHINE, travel_mm=(300.0, 200.0, 8.0))}, "beyond-travel"),
        ({"part": circle_part((70, 75), 1.0)}, "no-room-for-tabs"),
        ({"bit": Bit(5.0, 1, 6.0), "layout": sheet()}, "mark-too-small"),
    ],
)
def test_what_cannot_be_cut_is_a_stop(change, code):
    arguments = {"part": PLATE, "layout": sheet(marks=()), **change}
    _, made = planned(**arguments)
    assert code in {found.code for found in made.findings if found.level is Level.STOP}


def test_an_allowance_that_no_lap_can_take_is_a_caution_and_left_out():
    wide, none = (planned(PLATE, cutting=replace(CUTTING, allowance_mm=mm))[1] for mm in (0.81, 0.0))
    assert "allowance-too-wide" in {found.code for found in wide.findings if found.level is Level.CAUTION}
    assert "allowance-too-wide" not in {found.code for found in none.findings}
    assert wide.toolpath.ends.tolist() == none.toolpath.ends.tolist()
    most = planned(PLATE, cutting=replace(CUTTING, allowance_mm=0.8))[1]
    assert "allowance-too-wide" not in {found.code for found in most.findings}


def test_a_thin_chip_is_a_caution():
    _, made = planned(PLATE, cutting=replace(CUTTING, feed_mm_min=200.0))
    assert "chip-too-thin" in {found.code for found in made.findings if found.level is Level.CAUTION}


def test_work_that_is_no_longer_wanted_is_given_up():
    cut = as_cut(PLATE, BIT)
    with pytest.raises(Cancelled):
        plan(cut, sheet(), BIT, CUTTING, TABS, MACHINE, CancelToken(lambda: True))


def test_the_same_sheet_gives_the_same_path_to_the_last_bit():
    one, other = (planned(FRAMED)[1].toolpath for _ in range(2))
    assert one.ends.tobytes() == other.ends.tobytes()


@st.composite
def shapes(draw):
    """A part between 24 and 90 mm wide, of lines and arcs, perhaps with an opening."""
    count = draw(st.integers(3, 9))
    turns = np.sort(draw(st.lists(st.floats(0, 1), min_size=count, max_size=count, unique=True))) * 2 * np.pi
    reach = np.array(draw(st.lists(st.floats(12, 45), min_size=count, max_size=count)))
    bends = np.array(
        draw(
            st.lists(
                st.just(0.0) | st.floats(-0.4, 0.4).filter(lambda bend: abs(bend) > 1e-9),
                min_size=count,
                max_size=count,
            )
        )
    )
    points = np.array([70.0, 75.0]) + reach[:, None] * np.column_stack((np.cos(turns), np.sin(turns)))
    assume(np.hypot(*(np.roll(points, -1, axis=0) - points).T).min() > 0.5)
    outer = Loop(points, bends)
    flat = shapely.Polygon(outer.flattened(1e-3))
    assume(flat.is_valid and outer.signed_area() > 300)
    hole = Loop.circle((70.0, 75.0), draw(st.floats(1.2, 14)))
    inside = flat.buffer(-2).contains(shapely.Polygon(hole.flattened(1e-3)))
    return (Region(outer, (hole.reversed(),) if inside else ()),)


@settings(deadline=None, max_examples=8)
@given(shapes(), st.sampled_from(BITS))
def test_any_part_comes_out_as_asked_or_a_stop_says_why(part, bit):
    layout = sheet(marks=())
    cut, made = planned(part, bit=bit, layout=layout)
    assert_moves_are_safe(made)
    if not any(found.level is Level.STOP for found in cut.findings + made.findings):
        assert_edge_is_as_asked(made, part, bit, layout)
        assert_nothing_is_loose(made, bit, layout)
