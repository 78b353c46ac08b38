from dataclasses import replace

import numpy as np
import pytest

from core.program.read.leniency import LENIENT
from core.program.read.read import read_program
from core.proof.limits import Limits, Zone
from core.proof.rules import RULES, judge
from tests.core.program.programs import START, read, text_of

LIMITS = Limits(
    safe_z_mm=5.0,
    stock_top_z_mm=0.0,
    bottom_z_mm=-3.3,
    travel_mm=(300.0, 200.0, 50.0),
    spindle_rpm=10_000.0,
    spin_up_s=5.0,
    feed_mm_min=400.0,
    plunge_mm_min=100.0,
    top_feed_mm_min=1000.0,
    zones=(Zone(60.0, 0.0, 70.0, 20.0, 4.0),),
    bit_mm=2.0,
    line_limit=70,
)
GOOD = ("G0 X0 Y0", "G1 Z0.5 F120", "Z-1 F100", "X30 Z-2 F400", "G3 X30 Y20 Z-3.3 I0 J10", "G1 Y0")


def codes(program, limits=LIMITS):
    return {broken.code for broken in judge(program, limits).broken}


def changed(old, new, lines=GOOD):
    """The good program with one text of it changed, wherever it stands."""
    data = text_of(*lines).decode()
    assert data.count(old) == 1
    return read_program(data.replace(old, new).encode(), leniency=LENIENT)


def test_a_good_program_breaks_nothing_and_much_was_looked_at():
    report = judge(read(*GOOD), LIMITS)
    assert report.broken == ()
    assert report.checked > 8 * len(GOOD)


BREACHES = {
    "a rapid through the stock": ("X30 Z-2 F400", "G0 X30 Z-2", "rapid-in-stock"),
    "a rapid down to the stock": ("G1 Z0.5 F120", "G0 Z0.5\nG1 F120", "rapid-in-stock"),
    "sideways before the lift": ("G0 Z5\nS10000", "G0 X1 Y1\nG0 Z5\nS10000", "no-first-lift"),
    "a lift that is too low": ("G0 Z5\nS10000", "G0 Z1\nS10000", "no-first-lift"),
    "no lift at all": ("G0 Z5\nS10000", "S10000", "no-first-lift"),
    "the spindle never on": ("S10000 M3", "S10000", "spindle-off"),
    "the spindle backwards": ("S10000 M3", "S10000 M4", "spindle-off"),
    "the spindle at no speed": ("S10000 M3", "M3", "spindle-off"),
    "the spindle too slow": ("S10000 M3", "S1000 M3", "spindle-speed"),
    "the spindle stopped in the cut": ("X30 Z-2 F400", "M5\nX30 Z-2 F400", "spindle-off"),
    "no time to spin up": ("G4 P5", "G4 P0.5", "no-spin-up"),
    "a dwell before the spindle": ("S10000 M3\nG4 P5", "G4 P5\nS10000 M3", "no-spin-up"),
    "too deep": ("Z-3.3 I0", "Z-3.4 I0", "too-deep"),
    "too far": ("G1 Y0", "G1 Y-190", "outside-travel"),
    "a plunge too fast": ("Z-1 F100", "Z-1 F120", "plunge-too-fast"),
    "a feed above the machine's": ("Z0.5 F120", "Z0.5 F1200", "feed-over-machine"),
    "a feed above what was stated": ("Z-2 F400", "Z-2 F900", "feed-over-stated"),
    "into a clamp": ("G1 Y0", "G1 X59.5 Y10", "in-clamp"),
    "no unit": ("G21\n", "", "mode-not-set"),
    "absolute not said": ("G90\n", "", "mode-not-set"),
    "no feed mode": ("G94\n", "", "mode-not-set"),
    "no plane": ("G17\n", "", "mode-not-set"),
    "inches": ("G21\n", "G20\n", "too-deep"),
    "the bit left down": ("Y0\nG0 Z5", "Y0\nG0 Z-3", "bit-left-down"),
    "the spindle left on": ("M5\nM2", "M2", "spindle-left-on"),
    "no end": ("M5\nM2", "M5", "no-end"),
    "another bit": ("G0 X0 Y0", "T2 M6\nG0 X0 Y0", "bit-changed"),
    "no feed": ("G1 Z0.5 F120\nZ-1 F100", "G1 Z0.5\nZ-1 F100", "no-feed"),
    "a line too long": ("G4 P5", "G4 P5 (" + "a" * 70 + ")", "line-too-long"),
}


@pytest.mark.parametrize(("old", "new", "code"), BREACHES.values(), ids=BREACHES)
def test_each_rule_sees_its_breach(old, new, code):
    assert code in codes(changed(old, new))


def test_a_breach_names_line_and_place():
    (broken,) = judge(changed("Z-3.3 I0", "Z-3.4 I0"), replace(LIMITS, bottom_z_mm=-3.35)).broken[:1]
    assert (broken.code, broken.line, broken.at) == ("too-deep", len(START) + 5, (30.0, 20.0, -3.4))


def test_a_cut_from_a_place_never_told_is_a_breach():
    data = text_of("G1 Z-1 F100", "X5 Y5")
    assert "unknown-start" in codes(read_program(data))


def test_the_dwell_is_taken_in_the_stated_unit():
    ms = replace(LIMITS, dwell_unit="ms")
    assert codes(read(*GOOD), ms) == {"no-spin-up"}
    assert codes(changed("G4 P5", "G4 P5000"), ms) == set()


def test_a_slow_descent_in_air_is_time_to_spin_up_that_no_controller_misreads():
    slow = ("G0 X0 Y0", "G1 Z-1 F60", "X30 F400")
    without = changed("G4 P5\n", "", slow)
    assert codes(without) == set()
    assert codes(without, replace(LIMITS, spin_up_s=5.1)) == {"no-spin-up"}
    assert codes(changed("G4 P5\n", "", GOOD)) == {"no-spin-up"}


def test_a_rapid_straight_up_out_of_the_stock_is_no_breach():
    assert codes(read(*GOOD, "G0 Z0", "Z5")) == set()


def test_a_bulge_of_an_arc_counts_as_travel():
    wide = ("G0 X0 Y0", "G1 Z-1 F100", "G3 X0 Y20 I0 J10 F400")
    assert codes(read(*wide), replace(LIMITS, travel_mm=(9.9, 200, 50))) == {"outside-travel"}
    assert codes(read(*wide), replace(LIMITS, travel_mm=(10.1, 200, 50))) == set()


def test_a_clamp_is_passed_above_its_top():
    over = ("G0 X0 Y0", "G1 Z-1 F100", "G0 Z5", "X65 Y10")
    assert codes(read(*over)) == set()
    assert codes(read(*over), replace(LIMITS, zones=(Zone(60, 0, 70, 20, 5.5),))) == {"in-clamp"}


class TestLap:
    LIMITS = Limits(safe_z_mm=5.0, stock_top_z_mm=0.0, bottom_z_mm=5.0, spindle_rpm=0.0)
    LINES = "G21\nG90\nG94\nG17\nG0 Z5\nM5\nX0 Y0\nG1 X10 F500\nG0 Z5\nM2\n"

    def test_a_lap_with_the_spindle_off_breaks_nothing(self):
        assert codes(read_program(self.LINES.encode()), self.LIMITS) == set()

    @pytest.mark.parametrize(
        ("old", "new", "code"), [("M5", "S100 M3", "spindle-on"), ("X10", "X10 Z4.9", "too-deep")]
    )
    def test_a_lap_that_spins_or_sinks_is_a_breach(self, old, new, code):
        assert code in codes(read_program(self.LINES.replace(old, new).encode()), self.LIMITS)


def test_an_empty_program_is_judged_without_a_word_about_its_moves():
    report = judge(read_program(b"G21\nG90\nG94\nG17\nM2\n"), LIMITS)
    assert report.broken == ()
    assert len(RULES) == 15


def test_breaches_are_listed_in_the_order_of_the_file():
    lines = [broken.line for broken in judge(changed("G21\n", "G20\n"), LIMITS).broken]
    assert lines == sorted(lines)
    assert np.unique(lines).size > 1
