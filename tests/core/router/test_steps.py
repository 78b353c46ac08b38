"""The small steps on the way to a path: depths, feeds, bores, tabs spread, links, the clearance lap."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from core.outline.region import Region
from core.router.bore import bored
from core.router.depths import Depths, Drop, descent, higher, level
from core.router.feeds import feeds_along
from core.router.lap import clearance_lap
from core.router.passes import levels
from core.router.pocket import deepest_mm, rings
from core.router.setup import Setup
from core.router.tab_grid import FRAME, NOTHING, Grid
from core.router.tab_spread import Gaps, spread_among, spread_round
from core.router.toolpath import Motion
from core.router.waste import loose_waste
from tests.core.router.sheet_after import (
    BIT,
    CUTTING,
    MACHINE,
    TABS,
    planned,
    polygon,
    rectangle,
    sheet,
    solid,
)

SETUP = Setup(sheet(), BIT, CUTTING, TABS, MACHINE)


def test_levels_are_even_no_deeper_than_asked_and_end_at_the_skim():
    every = levels(SETUP)
    steps = -np.diff([0.1, *every])
    assert every[-1] == pytest.approx(-3.3)
    assert steps == pytest.approx(np.full(5, 0.68))


def test_a_depth_that_divides_the_stock_evenly_needs_no_pass_more():
    assert len(levels(replace(SETUP, cutting=replace(CUTTING, depth_per_pass_mm=0.68)))) == 5


def test_each_ramp_begins_where_the_one_before_began():
    depths = descent(7.0, 100.0, Drop(0.0, (-1.0, -2.0), 0.1))
    assert depths.distances == pytest.approx([7, 17, 107, 117, 217])
    assert depths.z == pytest.approx([0, -1, -1, -2, -2])


def test_a_contour_too_short_for_its_ramp_becomes_one_spiral_with_a_level_lap():
    depths = descent(0.0, 5.0, Drop(0.0, (-1.0, -2.0), 0.1))
    assert depths.distances == pytest.approx([0, 20, 25])
    assert depths.z == pytest.approx([0, -2, -2])


def test_a_dot_of_a_contour_is_not_wound_round_for_ever():
    assert descent(0.0, 0.1, Drop(0.0, (-2.0,), 0.04)).distances[-1] <= 0.1 * 41


def test_the_higher_of_two_depths_has_a_knot_where_they_cross():
    both = higher(Depths(np.array([0.0, 10]), np.array([0.0, -10])), level(0, 10, -4))
    assert both.distances == pytest.approx([0, 4, 10])
    assert both.z == pytest.approx([0, -4, -4])


def test_a_feed_goes_down_no_faster_than_the_plunge_and_up_at_full_speed():
    lengths, rises = np.array([10, 10, 10, 1, 10.0]), np.array([0, -0.436, -10, -1, 5.0])
    feeds = feeds_along(lengths, rises, CUTTING)
    assert feeds == pytest.approx([400, 200, 80, 80, 400])


@pytest.mark.parametrize("diameter", [2.5, 4.0, 5.0, 7.0, 12.0])
def test_helices_of_a_hole_are_never_so_far_apart_that_a_core_stays(diameter):
    radii = [abs(strand.points[0, 0] - 50) for strand in bored("hole", (50, 60), diameter, SETUP)]
    assert radii[-1] == pytest.approx(diameter / 2 - 1)
    assert np.diff([0, *radii]).max() <= 0.9 + 1e-9


def test_a_helix_goes_down_no_steeper_than_the_ramp_and_ends_in_a_level_lap():
    for strand in bored("hole", (50, 60), 7.0, SETUP):
        radius = strand.points[0, 0] - 50
        fall = -np.diff(strand.points[:, 2])
        assert fall[:-2].max() <= math.pi * radius * math.tan(CUTTING.ramp_angle) + 1e-9
        assert fall[-2:] == pytest.approx([0, 0])
        assert strand.points[-1, 2] == pytest.approx(-3.3)


def test_a_hole_that_the_bit_does_not_fit_into_is_not_bored():
    assert bored("hole", (50, 60), 2.0, SETUP) == ()


def test_tabs_spread_evenly_where_every_place_is_as_good():
    found = np.sort(spread_round(np.zeros(120), Gaps(4, 10, 60)))
    assert np.diff(found).tolist() == [30, 30, 30]


def test_tabs_keep_off_dear_places_and_within_their_longest_gap():
    costs = np.where(np.arange(100) % 25 < 20, 100.0, 0.0)
    found = np.sort(spread_round(costs, Gaps(4, 10, 30)))
    assert (costs[found] == 0).all()
    assert np.diff([*found, found[0] + 100]).max() <= 30


def test_gaps_that_cannot_close_the_round_give_no_tabs():
    assert spread_round(np.zeros(100), Gaps(2, 10, 40)).size == 0


def test_tabs_among_some_places_share_them():
    assert spread_among(np.zeros(50), np.arange(10, 30), 2).tolist() == [10, 20]


def test_rings_cover_their_piece_and_the_last_is_its_edge():
    piece = Region(rectangle(0, 0, 16, 9))
    assert deepest_mm(piece) == pytest.approx(4.5, abs=0.01)
    loops = rings(piece, 1.0)
    depths = sorted(loop.bounds()[0] for loop in loops)
    assert loops[-1] is piece.outer
    assert np.diff(depths).max() <= 0.9 + 1e-6
    assert 4.5 - depths[-1] <= 0.91


def test_waste_is_milled_when_small_and_held_when_large():
    def is_milled(*box):
        part = (Region(rectangle(0, 0, 90, 90), (rectangle(*box).reversed(),)),)
        return [waste.is_milled for waste in loose_waste(part, SETUP)]

    assert is_milled(10, 10, 29, 29) == [True]  # 361 mm2
    assert is_milled(10, 10, 31, 31) == [False]  # 441 mm2
    assert is_milled(10, 10, 85, 15.9) == [True]  # under three bits wide
    assert is_milled(10, 10, 85, 13.9) == []  # the slots meet: nothing stays


def test_what_milling_a_hanging_piece_cuts_off_the_frame_is_milled_too():
    """A bay so sharp that its tip stays when the rest, hanging by a thread, is milled away."""
    mouth, bay = ((33, 0), (33, 3)), ((38, 3), (30, 38), (22, 3))
    part = (
        Region(
            polygon((0, 0), (27, 0), (27, 3), *reversed(bay), *reversed(mouth), (60, 0), (60, 60), (0, 60))
        ),
    )
    wastes = loose_waste(part, SETUP)
    assert [waste.is_milled for waste in wastes] == [True, True]
    swept = [solid(part).buffer(2.2), *(solid((waste.piece,)).buffer(1.0) for waste in wastes)]
    assert not shapely.union_all(swept).interiors


def test_where_the_passes_leave_no_allowance_the_slot_is_no_wider_than_the_bit():
    part = (Region(rectangle(0, 0, 90, 90), (rectangle(20, 20, 24.3, 24.3).reversed(),)),)
    assert loose_waste(part, SETUP) == ()
    assert len(loose_waste(part, SETUP, is_tight=True)) == 1


def test_a_move_down_with_hardly_any_way_aside_is_fed_as_a_plunge():
    feeds = feeds_along(np.hypot([0.001, 0.02], 0.0055), np.array([-0.0055, -0.0055]), CUTTING)
    assert feeds[0] == CUTTING.plunge_mm_min < feeds[1]


def test_the_clearance_lap_goes_round_what_the_edge_of_the_bit_sweeps_and_never_below_the_safe_height():
    _, made = planned((Region(rectangle(30, 30, 110, 130)),), layout=sheet(marks=()))
    lap = clearance_lap(made.toolpath, SETUP)
    assert (lap.ends[:, 2] == made.safe_z_mm).all()
    assert lap.ends[:, 0].max() == pytest.approx(made.extents.x_max + 1)
    assert lap.ends[:, 1].min() == pytest.approx(made.extents.y_min - 1)
    assert tuple(lap.ends[-1, :2]) == (0.0, 0.0)
    assert set(lap.motions.tolist()) == {int(Motion.FEED)}


def test_only_the_first_descent_gives_the_spindle_its_slow_seconds():
    _, made = planned((Region(rectangle(30, 30, 110, 130)),))
    path = made.toolpath
    flat = np.hypot(*(path.ends - path.starts())[:, :2].T)
    descents = (path.motions == Motion.FEED) & (flat < 1e-9) & (path.ends[:, 2] < path.starts()[:, 2])
    feeds = path.feeds[descents]
    assert feeds[0] == 120.0
    assert (feeds[1:] == 400.0).all()


def test_a_place_is_firm_where_one_thing_stands_behind_all_of_the_lift():
    behind = np.array([FRAME] * 6 + [NOTHING] * 4 + [0] * 5 + [FRAME] * 5)
    grid = Grid(20.0, np.arange(20.0), np.zeros(20), behind, np.zeros(20, bool), 2)
    assert np.flatnonzero(grid.stands(FRAME)).tolist() == [0, 1, 2, 3, 17, 18, 19]
    assert np.flatnonzero(grid.stands(0)).tolist() == [12]
    assert (grid.costs(0) < 1.0).nonzero()[0].tolist() == [12]
