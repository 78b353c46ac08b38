"""The true chip: where the machine brakes, each tooth takes less."""

from dataclasses import replace

import numpy as np
import pytest

from core.router.feeds import CHIP_FLOOR_MM
from core.router.motion import Timing, timed
from core.router.setup import Setup
from core.router.toolpath import Motion, Operation, Toolpath
from core.router.true_chip import chip_findings, slower_mm, true_chip
from core.sheet.material import material_named
from tests.core.router.sheet_after import BIT, CUTTING, MACHINE, TABS, sheet

SLOW = replace(MACHINE, acceleration_mm_s2=10.0)
SETUP = Setup(sheet(), BIT, replace(CUTTING, spindle_rpm=10_000.0, feed_mm_min=400.0), TABS, SLOW)


def square(side=40.0, z=-1.0, feed=400.0):
    corners = np.array([(side, 0), (side, side), (0, side), (0, 0)], dtype=float)
    ends = np.column_stack((corners, np.full(4, z)))
    ones = np.ones(4, dtype=np.int64)
    return Toolpath(
        np.array([0.0, 0.0, z]), ends, np.zeros(4), ones * int(Motion.FEED), np.full(4, feed), ones * 0,
        (Operation("edge"),),
    )  # fmt: skip


def test_a_square_rubs_as_far_as_braking_takes():
    path = square()
    floor = CHIP_FLOOR_MM * 10_000.0 / 60.0
    # a right angle is taken at sqrt(a d 2.414214) mm/s; from there to v: (v2 - v0^2) / 2a on either side
    corner = np.sqrt(10.0 * SLOW.corner_deviation_mm * 2.414214)
    ends = floor**2 / 20.0 * 2 + 6 * (floor**2 - corner**2) / 20.0
    chip = true_chip(path, SETUP)
    assert chip.cut_mm == pytest.approx(160.0)
    assert chip.thin_mm.sum() == pytest.approx(ends, rel=1e-5)


def test_slower_parts_of_a_move_agree_with_walking_along_it():
    path = square(side=3.0)
    rapid = np.zeros(4, dtype=bool)
    timing = timed(path.starts(), path.ends, path.bulges, path.feeds, rapid, SLOW)
    for speed in (0.2, 1.0, 3.0, 9.0):
        assert slower_mm(timing, speed) == pytest.approx(walked(timing, speed), abs=2e-3)


def walked(timing: Timing, speed: float):
    at = np.linspace(0.0, timing.lengths, 4001)
    rise = timing.entry**2 + 2.0 * timing.accelerations * at
    fall = timing.exit**2 + 2.0 * timing.accelerations * (timing.lengths - at)
    squares = np.minimum(np.minimum(rise, fall), timing.peak**2)
    return (squares < speed**2).mean(axis=0) * timing.lengths


def test_moves_in_the_air_and_moves_asked_to_be_slow_do_not_count():
    assert true_chip(square(z=3.0), SETUP).cut_mm == 0.0
    assert true_chip(square(feed=200.0), SETUP).thin_mm.sum() == 0.0


def test_it_is_said_where_it_matters_and_only_of_what_melts():
    assert [found.level for found in chip_findings(square(side=8.0), SETUP)] == ["caution"]
    assert [found.level for found in chip_findings(square(side=400.0), SETUP)] == ["note"]
    wood = replace(SETUP, cutting=replace(SETUP.cutting, material=material_named("MDF")))
    assert chip_findings(square(side=8.0), wood) == ()
