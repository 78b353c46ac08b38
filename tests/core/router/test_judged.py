"""The numbers of a cut, their limits and their reasons, against worked values."""

import math
from dataclasses import replace

import pytest

from core.router.bit import Bit
from core.router.checks import checked
from core.router.forces import forces_of, stiffness
from core.router.judged import chip_window, judged
from core.router.setup import Setup
from core.router.starting_values import starting_values
from core.sheet.material import CAST_ACRYLIC, MATERIALS, material_named
from tests.core.router.sheet_after import BIT, CUTTING, MACHINE, TABS, sheet

BITS = [Bit(diameter, 1, 8.0) for diameter in (1.0, 1.5, 2.0, 3.175)]


def started(material, bit, rpm=10_000.0):
    values = starting_values(material, bit, rpm, 1e6)
    return replace(
        CUTTING,
        spindle_rpm=rpm,
        feed_mm_min=values.feed_mm_min,
        plunge_mm_min=values.plunge_mm_min,
        depth_per_pass_mm=values.depth_mm,
        ramp_angle=values.ramp_angle,
        material=material,
    )


def codes(cutting, bit=BIT, tabs=TABS):
    return {found.code for found in checked(Setup(sheet(), bit, cutting, tabs, MACHINE))}


@pytest.mark.parametrize("material", MATERIALS, ids=lambda material: material.name)
@pytest.mark.parametrize("bit", BITS, ids=lambda bit: f"{bit.diameter_mm:g}mm")
def test_what_the_program_proposes_is_inside_its_own_limits(material, bit):
    outside = [one.name for one in judged(started(material, bit), bit) if one.is_high or one.is_low]
    # a plunge of 150 mm/min in wood and HDPE is more than half the careful feed of a thin bit
    assert set(outside) <= {"chip load", "plunge"}
    chip = judged(started(material, bit), bit)[0]
    assert not chip.is_high
    assert chip.value >= min(0.02, chip.low)


def test_the_feed_keeps_the_chip_when_speed_or_flutes_change():
    slow, fast = (starting_values(CAST_ACRYLIC, BITS[2], rpm, 1e6).feed_mm_min for rpm in (10_000, 20_000))
    two = starting_values(CAST_ACRYLIC, replace(BITS[2], flutes=2), 10_000, 1e6).feed_mm_min
    assert fast == pytest.approx(2.0 * slow)
    assert two == pytest.approx(2.0 * slow)


def test_two_millimetres_at_eight_a_second_is_a_chip_inside_the_window():
    cutting = replace(CUTTING, spindle_rpm=10_000.0, feed_mm_min=480.0, depth_per_pass_mm=0.7)
    chip = judged(cutting, Bit(2.0, 1, 6.0))[0]
    assert chip.value == pytest.approx(0.048)
    low, high = chip_window(CAST_ACRYLIC, 2.0, 0.7)
    assert (low, high) == pytest.approx((0.048, 0.080), abs=5e-5)
    assert not chip.is_low
    assert not chip.is_high


@pytest.mark.parametrize(("depths", "share"), [(0.5, 1.0), (1.0, 1.0), (2.0, 0.75), (3.0, 0.5), (5.0, 0.5)])
def test_a_deep_pass_takes_a_thinner_chip_as_the_chart_says(depths, share):
    assert chip_window(CAST_ACRYLIC, 3.175, depths * 3.175)[1] == pytest.approx(0.1270 * share)


def test_force_power_and_bending_follow_their_formulas():
    # acrylic 3.175 mm, 1.5 mm deep, 900 mm/min, one flute, 10 000 rpm: 20.25 N and 10.716 W (derived)
    cutting = replace(CUTTING, spindle_rpm=10_000.0, feed_mm_min=900.0, depth_per_pass_mm=1.5)
    forces = forces_of(cutting, Bit(3.175, 1, 11.0, 15.0))
    assert forces.peak_n == pytest.approx(20.25)
    assert forces.power_w == pytest.approx(10.716, abs=5e-4)
    assert forces.bend_mm == pytest.approx(20.25 / 1089.691, rel=1e-5)
    assert forces.stress == pytest.approx(32 * 20.25 * 15 / (math.pi * (0.8 * 3.175) ** 3))


@pytest.mark.parametrize(
    ("size", "out", "newtons"),
    [(1, 4, 565.487), (1, 6, 167.552), (2, 8, 1130.973), (2, 12, 335.103), (3.175, 20, 459.714)],
)
def test_a_fluted_bit_is_as_stiff_as_a_beam_of_four_fifths(size, out, newtons):
    assert stiffness(size, out) == pytest.approx(newtons, abs=1e-3)


def test_what_the_maker_sets_is_kept_and_judged():
    assert "chip-too-thin" in codes(replace(CUTTING, feed_mm_min=100.0))
    assert "chip-too-thick" in codes(replace(CUTTING, feed_mm_min=3000.0))
    assert "deep-pass" in codes(replace(CUTTING, depth_per_pass_mm=1.2))
    assert "plunge-too-fast" in codes(replace(CUTTING, plunge_mm_min=400.0))
    assert "steep-ramp" in codes(replace(CUTTING, ramp_angle=math.radians(8.0)))
    assert "bit-bends" in codes(CUTTING, Bit(1.0, 1, 6.0, 20.0))
    assert "bit-may-snap" in codes(replace(CUTTING, depth_per_pass_mm=3.0), Bit(0.8, 1, 8.0, 20.0))


def test_four_tabs_of_five_by_one_and_a_half_hold_a_palm_sized_part_of_acrylic():
    # common practice, no source
    assert "tabs-weak" not in codes(CUTTING, tabs=replace(TABS, neck_mm=5.0, height_mm=1.5, least_count=4))


def test_tabs_that_do_not_bear_five_times_the_force_are_said():
    thread = replace(TABS, neck_mm=0.5, height_mm=0.2, least_count=2)
    wood = replace(CUTTING, material=material_named("MDF"))
    assert "tabs-weak" in codes(wood, tabs=thread)
    assert "tabs-low" in codes(CUTTING, tabs=thread)
