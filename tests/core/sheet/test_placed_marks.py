"""Marks placed by hand: kept where they were put, judged like proposed ones, told by closed forms."""

from dataclasses import replace
from math import dist

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BadValue
from core.findings import Level
from core.outline.loop import Loop
from core.outline.region import Region
from core.sheet.clamp import Clamp
from core.sheet.lay_out import lay_out
from core.sheet.mark_room import MarkRoom
from core.sheet.rows import CopiesWish
from core.sheet.rule import Clearances, FitRule, FitWay
from core.sheet.wish import StockWish
from core.sheet.wrong_fit import worst_wrong_fit

WISH = StockWish(200.0, 160.0, 3.0, 0.1, 0.1, 0.1, is_clear=True)
BIT, SIDES = 2.0, (70.0, 50.0)
CORNERS = np.array([[0.0, 0.0], [SIDES[0], 0.0], SIDES, [0.0, SIDES[1]]])
PLATE = (Region(Loop(CORNERS, np.zeros(4))),)
RULE = FitRule(hinge_mm=0.0)


def laid(marks=(), wish=WISH, rule=RULE):
    return lay_out(PLATE, replace(wish, marks=marks), rule, bit_mm=BIT, travel_mm=(300.0, 200.0))


def found(layout, code):
    return [one for one in layout.findings if one.code == code]


def placed(layout):
    """The plate where the layout has it."""
    return tuple(Region(region.outer.moved(*layout.shape_at)) for region in PLATE)


@pytest.mark.parametrize("way", [FitWay.FRAME, FitWay.SHEET, FitWay.NEST])
@pytest.mark.parametrize("copies", [1, 2])
def test_the_proposed_marks_placed_by_hand_change_nothing(way, copies):
    wish, rule = replace(WISH, copies=CopiesWish(copies)), replace(RULE, way=way)
    proposed = laid((), wish, rule)
    assert laid(tuple(mark.at for mark in proposed.marks), wish, rule) == proposed


def test_marks_stay_where_they_were_put_however_bad_and_the_first_is_the_key():
    proposed = laid()
    places = ((10.0, 10.0), (12.0, 10.0), (60.0, 40.5))
    layout = laid(places)
    assert tuple(mark.at for mark in layout.marks) == places
    assert [mark.is_key for mark in layout.marks] == [True, False, False]
    assert [mark.diameter_mm for mark in layout.marks] == [7.0, 5.0, 5.0]
    assert (layout.shape_at, layout.stock) == (proposed.shape_at, proposed.stock)


MARKS = st.lists(
    st.tuples(st.integers(0, 400), st.integers(0, 320)), min_size=3, max_size=4, unique=True
).map(lambda places: tuple((x / 2.0, y / 2.0) for x, y in places))


@given(MARKS)
@settings(deadline=None, max_examples=60)
def test_a_stop_is_told_just_where_a_hole_opens_or_the_pattern_passes_for_right(places):
    layout = laid(places)
    x, y = layout.shape_at
    for index, at in enumerate(places):
        radius = 3.5 if index == 0 else 2.5
        out = np.maximum([x - at[0], y - at[1]], [at[0] - x - SIDES[0], at[1] - y - SIDES[1]])
        to_slot = np.hypot(*np.maximum(out, 0.0)) - BIT - radius
        to_edge = min(*at, 200.0 - at[0], 160.0 - at[1]) - radius
        opens = [one for one in found(layout, "mark-opens") if one.at == at]
        if min(abs(to_slot), abs(to_edge)) > 0.02:
            assert len(opens) == (to_slot < 0.0) + (to_edge < 0.0)
        asked = {"slot": 4.0 - to_slot, "edge": 6.0 - to_edge}
        thin = [one for one in found(layout, "mark-wall-thin") if one.at == at]
        if not opens and min(map(abs, asked.values())) > 0.05:
            assert len(thin) == sum(missing > 0.0 for missing in asked.values())
    assert bool(found(layout, "marks-fit-wrong")) == (worst_wrong_fit(places) < 6.0)
    assert all(one.level is Level.STOP for one in found(layout, "marks-fit-wrong"))


def test_two_marks_that_run_into_each_other_are_a_stop_and_near_ones_a_caution():
    apart = ((15.0, 145.0), (15.0, 15.0), (185.0, 30.0))
    assert not found(laid(apart), "marks-too-close")
    for gap, level in ((4.0, Level.STOP), (12.0, Level.CAUTION)):
        (told,) = found(laid((apart[0], (15.0 + gap, 145.0), apart[2])), "marks-too-close")
        assert told.level is level
        assert f"{gap:.1f} mm" in told.text


def test_a_row_of_marks_at_one_side_is_read_badly():
    (told,) = found(laid(((10.0, 80.0), (10.0, 110.0), (12.0, 150.0))), "marks-read-badly")
    assert told.level is Level.CAUTION


def test_the_strip_for_the_hinge_and_clamps_are_told():
    clamp = Clamp((190.0, 80.0), (12.0, 12.0), 12.0)
    layout = laid((), replace(WISH, clamps=(clamp,)), FitRule())
    sides = {"left": (12.0, 80.0), "right": (188.0, 90.0), "near": (60.0, 12.0), "far": (60.0, 148.0)}
    held = tuple(sides[side] for side in (layout.hinge_side, "right", "far"))
    codes = {
        one.code for one in laid(tuple(dict.fromkeys((*held, (170.0, 20.0))))[:3],
                                 replace(WISH, clamps=(clamp,)), FitRule()).findings
    }  # fmt: skip
    assert {"mark-in-hinge", "mark-near-clamp"} <= codes


def test_a_mark_off_the_grid_is_refused_and_a_part_fitted_by_its_edge_has_none():
    with pytest.raises(BadValue, match="grid"):
        laid(((10.1, 10.0), (50.0, 10.0), (90.0, 90.0)))
    (told,) = found(laid(((10.0, 10.0), (50.0, 10.0), (90.0, 90.0)), rule=FitRule(way=FitWay.EDGE)),
                    "marks-unused")  # fmt: skip
    assert told.level is Level.NOTE


def test_walls_of_each_of_two_copies_are_the_least():
    layout = laid((), replace(WISH, copies=CopiesWish(2)))
    room = MarkRoom.on(layout, placed(layout), RULE, BIT)
    for copy in layout.copies:
        x, y = copy.point(layout.shape_at)
        walls = room.walls((x + 35.0, y - 20.0), is_key=False)
        others = [one.point(layout.shape_at) for one in layout.copies if one != copy]
        if all(dist(other, (x, y - 50.0)) > 60.0 for other in others):
            assert walls.to_slot == pytest.approx(20.0 - BIT - 2.5, abs=0.02)


def test_a_wall_too_thin_says_what_is_missing():
    layout = replace(laid(), stock=WISH.stock(400.0, 400.0), shape_at=(150.0, 150.0), hinge_side="")
    x, y = layout.shape_at
    room = MarkRoom.on(layout, placed(layout), RULE, BIT)
    asked = Clearances(RULE, BIT, 3.0).to_part(is_key=False)
    walls = room.walls((x - asked + 1.5, y + 25.0), is_key=False)
    assert walls.short == (("the slot", pytest.approx(1.5, abs=0.001)),)
    assert room.walls((x - asked, y + 25.0), is_key=False).short == ()


@given(st.tuples(st.floats(0.0, 200.0), st.floats(0.0, 160.0)), st.booleans())
@settings(deadline=None, max_examples=60)
def test_the_free_area_is_where_no_wall_is_short(at, is_key):
    clamp = Clamp((30.0, 140.0), (12.0, 20.0), 12.0)
    layout = laid((), replace(WISH, clamps=(clamp,), copies=CopiesWish(1)), FitRule(hinge_mm=15.0))
    room = MarkRoom.on(layout, placed(layout), FitRule(hinge_mm=15.0), BIT)
    area, place = room.free_area(is_key=is_key), shapely.Point(at)
    if shapely.distance(shapely.boundary(area), place) > 0.05:
        assert shapely.intersects(area, place) == (not room.walls(at, is_key=is_key).short)
