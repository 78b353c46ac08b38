"""The cut by the clock against closed forms, against the motion model, and against itself."""

from dataclasses import replace
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.outline.region import Region
from core.router.feeds import CHIP_FLOOR_MM
from core.router.motion import timed
from core.router.played import FLATNESS_MM, Chip, played
from core.router.setup import Setup
from core.router.toolpath import Motion, Operation, Toolpath
from core.router.true_chip import true_chip
from tests.core.router.sheet_after import BIT, CUTTING, MACHINE, TABS, planned, rectangle, sheet

SETUP = Setup(sheet(), BIT, replace(CUTTING, spindle_rpm=10_000.0, feed_mm_min=600.0), TABS, MACHINE)


def along(*ends, start=(0.0, 0.0, -1.0), feed=600.0, bulges=None, motion=Motion.FEED):
    ends = np.array(ends, dtype=float)
    count, bulges = len(ends), np.zeros(len(ends)) if bulges is None else np.array(bulges, dtype=float)
    motions = np.full(count, int(motion))
    names = (Operation("edge"),)
    return Toolpath(np.array(start), ends, bulges, motions, np.full(count, feed), np.zeros(count), names)


@cache
def a_cut():
    """A rectangle with a hole, planned, and its cut by the clock."""
    part = (Region(rectangle(30, 30, 110, 130), (rectangle(60, 70, 80, 90).reversed(),)),)
    path = planned(part)[1].toolpath
    setup = Setup(sheet(), BIT, CUTTING, TABS, MACHINE)
    return path, setup, played(path, setup)


def test_one_long_move_speeds_up_runs_and_brakes():
    run = played(along((40, 0, -1)), SETUP)  # 10 mm/s, 50 mm/s2: 0.2 s and 1 mm of ramp at either end
    assert run.total() == pytest.approx(4.2)
    for second, x, mm_s in ((0.1, 0.25, 5.0), (0.2, 1.0, 10.0), (2.1, 20.0, 10.0), (4.1, 39.75, 5.0)):
        stand = run.stand(second)
        assert (stand.at[0], stand.mm_s) == pytest.approx((x, mm_s))


def test_before_the_start_and_after_the_end_the_bit_rests():
    run = played(along((40, 0, -1)), SETUP)
    assert run.stand(-1.0).at == (0.0, 0.0, -1.0)
    assert run.stand(99.0).at == pytest.approx((40.0, 0.0, -1.0))


def test_it_takes_as_long_as_the_motion_model_says_and_ends_every_move_when_that_does():
    path, setup, run = a_cut()
    rapid = path.motions == Motion.RAPID
    timing = timed(path.starts(), path.ends, path.bulges, path.feeds, rapid, setup.machine)
    assert run.total() == pytest.approx(timing.total())
    ends = [run.seconds[np.flatnonzero(run.moves == move)[-1] + 1] for move in np.unique(run.moves)]
    assert ends == pytest.approx(np.cumsum(timing.seconds)[np.unique(run.moves)].tolist())


def test_what_is_drawn_lies_on_the_path():
    arc = along((0, 20, -1), bulges=[1.0])  # half a circle round (0, 10)
    run = played(arc, SETUP)
    middles = (run.points[:-1, :2] + run.points[1:, :2]) / 2.0
    assert np.hypot(run.points[:, 0], run.points[:, 1] - 10.0) == pytest.approx(
        np.full(len(run.points), 10.0)
    )
    assert (np.hypot(middles[:, 0], middles[:, 1] - 10.0) >= 10.0 - FLATNESS_MM).all()


@given(st.floats(0.0, 1.0))
def test_a_second_gives_a_place_and_the_place_gives_the_second(share):
    run = a_cut()[2]
    second = share * run.total()
    stand = run.stand(second)
    start, end = run.points[stand.piece], run.points[stand.piece + 1]
    gone = np.linalg.norm(np.array(stand.at) - start) / np.linalg.norm(end - start)
    assert run.second_at(stand.piece, float(gone)) == pytest.approx(second, abs=1e-6)


@given(st.floats(0.0, 1.0), st.floats(1e-4, 0.5))
def test_the_bit_never_runs_faster_than_it_may(share, step):
    path, setup, run = a_cut()
    second = share * run.total()
    gone = np.linalg.norm(np.array(run.stand(second + step).at) - np.array(run.stand(second).at))
    assert gone <= setup.machine.top_feed_mm_min / 60.0 * step + 1e-9
    assert run.stand(second).mm_s <= setup.machine.top_feed_mm_min / 60.0 + 1e-9
    del path


def test_the_chip_rubs_as_far_as_the_finding_says():
    slow = replace(SETUP, machine=replace(MACHINE, acceleration_mm_s2=10.0))
    path = along((30, 0, -1), (30, 30, -1), (0, 30, -1), (0, 0, -1))
    run = played(path, slow)
    spans = np.linalg.norm(np.diff(run.points, axis=0), axis=1)
    assert spans[run.kinds == Chip.RUBS].sum() == pytest.approx(true_chip(path, slow).thin_mm.sum(), rel=1e-6)
    assert spans[run.kinds == Chip.THIN].sum() > 0.0
    assert spans.sum() == pytest.approx(120.0)


def test_slower_than_the_floor_rubs_all_the_way_and_air_and_ramps_are_told_apart():
    floor = CHIP_FLOOR_MM * 10_000.0
    assert set(played(along((30, 0, -1), feed=0.9 * floor), SETUP).kinds) == {Chip.RUBS}
    assert set(played(along((30, 0, 5), start=(0, 0, 5)), SETUP).kinds) == {Chip.AIR}
    assert set(played(along((30, 0, -1), motion=Motion.RAPID), SETUP).kinds) == {Chip.AIR}
    assert set(played(along((30, 0, -2)), SETUP).kinds) == {Chip.DOWN}


def test_a_place_on_the_path_is_passed_once_for_each_pass():
    path, setup, run = a_cut()
    seconds = run.seconds_near((29.0, 81.0), 0.6)
    assert len(seconds) >= 3  # passes, and the last lap
    assert all(one < other for one, other in pairwise(seconds))
    for second in seconds:
        x, y, _ = run.stand(second).at
        assert np.hypot(x - 29.0, y - 81.0) <= 0.6
    assert run.seconds_near((70.0, 110.0), 0.6) == ()
    del path, setup


def test_a_path_without_a_move_stands_still():
    none = Toolpath(np.zeros(3), np.zeros((0, 3)), np.zeros(0), np.zeros(0), np.zeros(0), np.zeros(0), ())
    run = played(none, SETUP)
    assert (run.total(), run.stand(1.0).at) == (0.0, (0.0, 0.0, 0.0))
