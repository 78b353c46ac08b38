"""When what is cut comes free: by the clock, with the tabs that hold it."""

from dataclasses import replace

import numpy as np
import pytest

from core.outline.loop import Loop
from core.outline.region import Region
from core.router.freed import Within, freed
from core.router.played import Chip, played
from core.router.setup import Setup
from core.sheet.placement import Placement
from tests.core.router.sheet_after import BIT, CUTTING, MACHINE, TABS, planned, rectangle, sheet

EDGE, SMALL, LARGE = rectangle(30, 30, 110, 130), Loop.circle((60, 60), 4.0), rectangle(50, 80, 90, 120)


ONE = (Placement(),)


def made(*openings, tabs=TABS, copies=ONE):
    layout = replace(sheet(width=280.0, marks=()), copies=copies)
    part = (Region(EDGE, tuple(each.reversed() for each in openings)),)
    plan = planned(part, tabs=tabs, layout=layout)[1]
    setup = Setup(layout, BIT, CUTTING, tabs, MACHINE)
    run = played(plan.toolpath, setup)
    return plan, setup, run, freed(plan.toolpath, plan.within, run, setup)


def test_the_part_hangs_by_its_tabs_when_its_edge_is_through():
    plan, setup, run, found = made()
    assert [(one.contour, one.tabs) for one in found] == [("edge", len(plan.tabs))]
    rest = run.seconds[:-1] >= found[0].second - 1e-9
    assert (run.points[1:, 2][rest & (run.kinds != Chip.AIR)] >= setup.bed_z).all()
    x, y, z = run.stand(found[0].second).at
    assert (x, y) == pytest.approx(found[0].at)
    assert z <= setup.bed_z + 1e-6


def test_an_opening_that_is_milled_away_frees_nothing_and_a_large_one_its_waste():
    found = made(SMALL, LARGE)[3]
    assert [one.contour.split()[0] for one in found] == ["opening", "edge"]
    assert all(one.tabs > 0 for one in found)


def test_tabs_set_by_hand_are_counted_where_they_stand():
    by_hand = replace(TABS, placed=((30.0, 80.0), (110.0, 80.0)))
    found = made(LARGE, tabs=by_hand)[3]
    assert [(one.contour, one.tabs) for one in found] == [("opening", 4), ("edge", 2)]


def test_without_a_tab_what_lies_within_is_free():
    plan, setup, run, _ = made()
    (one,) = freed(plan.toolpath, (Within("edge", 0),), run, setup)
    assert one.tabs == 0


def test_every_copy_comes_free_by_itself():
    found = made(copies=(Placement(), Placement((120.0, 0.0))))[3]
    assert sorted(one.contour for one in found) == ["copy 1, edge", "copy 2, edge"]
    assert np.diff([one.second for one in found]).min() > 0.0


def test_a_skin_frees_nothing():
    assert made(tabs=replace(TABS, skin_mm=0.5))[3] == ()
