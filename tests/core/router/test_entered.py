"""Entries placed by hand: the bit comes on to the wall there, off every tab, and what is amiss is told."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.findings import Level
from core.outline.loop import Loop
from core.outline.region import Region
from core.router.entered import SAME_PLACE_MM
from core.sheet.placement import Placement
from tests.core.router.sheet_after import BIT, CUTTING, TABS, planned, rectangle, sheet
from tests.core.router.test_plan import (
    FRAMED,
    PLATE,
    assert_edge_is_as_asked,
    assert_moves_are_safe,
    assert_nothing_is_loose,
)

#: The plate's edge as the bit's middle runs along it: the plate's sides, a radius farther out.
LOW, FAR_X, FAR_Y = 29.0, 111.0, 131.0
TABLESS = replace(TABS, placed=((30.0, 31.0), (110.0, 129.0)))


def by_hand(part, *points, layout=None, tabs=TABS, **more):
    return planned(part, cutting=replace(CUTTING, entries=points, **more), layout=layout, tabs=tabs)[1]


def told(made):
    return {one.code: one for one in made.findings if one.code.startswith("entr")}


@pytest.mark.parametrize("has_last_lap", [True, False])
@given(share=st.floats(0.1, 0.9), side=st.sampled_from(range(4)))
@settings(deadline=None, max_examples=12)
def test_the_bit_comes_on_to_the_wall_where_it_is_asked_or_just_beside_a_tab(has_last_lap, share, side):
    x, y = LOW + share * (FAR_X - LOW), LOW + share * (FAR_Y - LOW)
    asked = [(x, LOW), (FAR_X, y), (x, FAR_Y), (LOW, y)][side]
    layout = sheet(marks=())
    made = by_hand(PLATE, asked, layout=layout, has_last_lap=has_last_lap)
    (entry,) = made.entered
    assert entry.is_by_hand
    away = math.dist(entry.at, asked)
    assert ("entry-moved" in told(made)) == (away > SAME_PLACE_MM)
    if away > SAME_PLACE_MM:
        half = [tab for tab in made.tabs if math.dist(tab.at, asked) < 12.0]
        assert half, "it was moved where no tab is near"
        assert away < 12.0
    assert_edge_is_as_asked(made, PLATE, BIT, layout)
    assert_nothing_is_loose(made, BIT, layout)
    assert_moves_are_safe(made)


def test_each_point_holds_for_the_contour_nearest_to_it_and_others_are_chosen():
    chosen = planned(FRAMED)[1]
    assert [entry.is_by_hand for entry in chosen.entered] == [False, False]
    asked = (70.0, 109.0)  # of the opening, whose centre path runs a radius inside
    made = by_hand(FRAMED, (70.0, 114.0))
    edge, opening = made.entered
    assert (edge.name, opening.name) == ("edge", "opening")
    assert (edge.is_by_hand, opening.is_by_hand) == (False, True)
    assert math.dist(opening.at, asked) < 12.0


def test_where_the_best_entry_is_placed_by_hand_nothing_is_changed():
    chosen = planned(PLATE)[1]
    made = by_hand(PLATE, chosen.entered[0].at)
    np.testing.assert_allclose(made.toolpath.ends, chosen.toolpath.ends, atol=1e-6)
    assert told(made) == {}


def test_an_entry_on_a_corner_is_a_caution_with_its_place():
    made = by_hand(PLATE, (LOW, FAR_Y), tabs=TABLESS)
    finding = told(made)["entry-on-bend"]
    assert finding.level is Level.CAUTION
    assert math.dist(finding.at, (LOW, FAR_Y)) < 2.0


def test_an_entry_in_a_narrow_slit_has_no_room_for_a_lead_and_says_so():
    teeth = np.array(
        [[30, 30], [110, 30], [110, 60], [60, 60], [60, 62.1], [110, 62.1], [110, 130], [30, 130]]
    )
    slit = (Region(Loop(teeth.astype(float), np.zeros(8))),)
    made = by_hand(slit, (80.0, 61.0), tabs=TABLESS)
    assert math.dist(made.entered[0].at, (80.0, 61.0)) < 0.2
    assert told(made)["entry-without-lead"].level is Level.CAUTION


def test_of_two_entries_at_one_edge_the_last_is_taken_and_that_is_told():
    made = by_hand(PLATE, (70.0, LOW), (LOW, 75.0), tabs=TABLESS)
    assert made.entered[0].at == pytest.approx((LOW, 75.0), abs=SAME_PLACE_MM)
    assert told(made)["entries-at-one-edge"].level is Level.NOTE


def test_every_copy_is_entered_at_the_same_place():
    part = (Region(rectangle(30, 30, 60, 70)),)
    layout = replace(sheet(marks=()), copies=(Placement(), Placement((140.0, 150.0), is_turned=True)))
    made = by_hand(
        part, (29.0, 50.0), layout=layout, tabs=replace(TABLESS, placed=((45.0, 30.0), (45.0, 70.0)))
    )
    (entry,) = made.entered
    assert entry.at == pytest.approx((29.0, 50.0), abs=SAME_PLACE_MM)
    path = made.toolpath
    other = layout.copies[1].point(entry.at)
    gaps = np.hypot(*(path.ends[:, :2] - np.array(other)).T)
    assert gaps.min() < 1e-6
