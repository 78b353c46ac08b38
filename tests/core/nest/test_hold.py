"""Walls hold a part, or it is said that they do not: closed forms."""

import numpy as np
import pytest

from core.nest.contacts import Beside, Others, contacts_of
from core.nest.hold import chosen_walls, farthest_move, free_corners, wrenches
from core.outline.loop import Loop
from core.outline.region import Region
from tests.support.shapes import rectangle, regular

GAP = 0.15
ALONE = Beside((), np.empty((0, 2)), 0.0, Others())


def box_walls(width, depth, at):
    """Two walls on each side of a box about the origin, so far from its middle."""
    x, y = width / 2.0, depth / 2.0
    ones = (-1, 1)
    points = [(s * x, t * at) for s in ones for t in ones] + [(t * at, s * y) for s in ones for t in ones]
    normals = [(s, 0) for s in (-1, 1) for _ in (-1, 1)] + [(0, s) for s in (-1, 1) for _ in (-1, 1)]
    return wrenches(np.array(points, float), np.array(normals, float), np.zeros(2), 1.0)


def test_a_box_between_walls_moves_by_the_gap_each_way_and_turns_by_the_gap_over_the_arm():
    corners = free_corners(box_walls(40.0, 60.0, 10.0), GAP)
    assert np.abs(corners[:, :2]).max() == pytest.approx(GAP)
    assert np.abs(corners[:, 2]).max() == pytest.approx(GAP / 10.0)
    middle = farthest_move(corners, np.zeros((1, 2)), np.zeros(2), 1.0)
    assert middle == pytest.approx(GAP * np.sqrt(2.0))


def test_walls_on_three_sides_hold_nothing():
    assert free_corners(box_walls(40.0, 60.0, 10.0)[:6], GAP) is None


def test_walls_that_all_point_at_one_middle_let_the_part_turn():
    angles = np.linspace(0.0, 2.0 * np.pi, 8, endpoint=False)
    normals = np.column_stack((np.cos(angles), np.sin(angles)))
    assert free_corners(wrenches(20.0 * normals, normals, np.zeros(2), 20.0), GAP) is None


def test_the_walls_chosen_keep_their_distance_and_hold():
    walls = np.stack([box_walls(40.0, 60.0, at) for at in (2.0, 8.0, 14.0)]).reshape(-1, 1, 3)
    apart = ~np.eye(len(walls), dtype=bool)
    picks = chosen_walls(walls, apart, 8)
    assert len(picks) == len(set(picks)) == 8
    assert free_corners(walls[picks, 0], GAP) is not None


@pytest.mark.parametrize("outer", [rectangle(60.0, 40.0), regular(3, 60.0), regular(6, 40.0)])
def test_plates_are_held_with_two_notches_for_fingers(outer):
    found = contacts_of(outer, (Region(outer),), ALONE)
    assert 6 <= len(found.runs) <= 8
    assert len(found.notches) == 2
    assert found.play_mm < 0.6


def test_a_disc_has_no_up_and_is_not_held():
    disc = Loop.circle((0.0, 0.0), 30.0)
    assert contacts_of(disc, (Region(disc),), ALONE).play_mm is None


def test_nothing_touches_where_a_tab_left_its_stub():
    outer = rectangle(60.0, 40.0)
    stub = Beside((((30.0, 0.0), 3.5),), np.empty((0, 2)), 0.0, Others())
    found = contacts_of(outer, (Region(outer),), stub)
    assert min(np.hypot(*(run.points - (30.0, 0.0)).T).min() for run in found.runs) >= 3.5
