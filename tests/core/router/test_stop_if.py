"""What to change when a cut goes wrong: one number, the right way, inside the usual limits."""

from dataclasses import replace
from math import radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.router.bit import Bit
from core.router.cutting import Cutting, Direction
from core.router.feeds import chip_load_mm
from core.router.judged import judged
from core.router.machine import Machine
from core.router.starting_values import starting_values
from core.router.stop_if import Number, Trouble, stop_ifs
from core.sheet.material import MATERIALS

MACHINE = Machine((300.0, 200.0, 50.0), 1000.0, 50.0, 30.0, 0.01, "program", 5.0)
#: The choice's field in a cut.
FIELDS = {
    Number.SPEED: "spindle_rpm", Number.FEED: "feed_mm_min", Number.DEPTH: "depth_per_pass_mm",
    Number.PLUNGE: "plunge_mm_min",
}  # fmt: skip


def cut(material=MATERIALS[0], bit=None, rpm=10_000.0, **changed):
    start = starting_values(material, bit or Bit(2.0, 1, 6.0), rpm, MACHINE.top_feed_mm_min)
    made = Cutting(
        rpm, start.feed_mm_min, start.plunge_mm_min, start.depth_mm, start.ramp_angle, 0.3, 5.0,
        Direction.CLIMB, has_last_lap=True, allowance_mm=0.2, material=material,
    )  # fmt: skip
    return replace(made, **changed)


def first(trouble, cutting=None, machine=MACHINE):
    told = {one.trouble: one for one in stop_ifs(cutting or cut(), Bit(2.0, 1, 6.0), machine)}
    return told[trouble].changes[0]


def applied(cutting, change):
    return replace(cutting, **{FIELDS[change.number]: change.then})


def test_the_values_of_the_starting_cut():
    """Reckoned by hand from 400 mm/min, 10 000 rpm, one flute, 0.7 mm, 80 mm/min."""
    melts, chips, chatters, lifts = (
        first(one) for one in (Trouble.MELTS, Trouble.CHIPS, Trouble.CHATTERS, Trouble.LIFTS)
    )
    assert (melts.number, melts.then, melts.chip_mm) == (Number.SPEED, 8000.0, pytest.approx(0.05))
    assert (chips.number, chips.then, chips.chip_mm) == (Number.FEED, 320.0, pytest.approx(0.032))
    assert (chatters.number, chatters.then, chatters.chip_mm) == (Number.DEPTH, 0.5, pytest.approx(0.04))
    assert (lifts.number, lifts.then) == (Number.PLUNGE, 55.0)


def test_a_spindle_with_one_speed_is_not_asked_for_another():
    switch = replace(MACHINE, spindle="switch")
    assert first(Trouble.MELTS, machine=switch).number is Number.FEED
    numbers = {c.number for one in stop_ifs(cut(), Bit(2.0, 1, 6.0), switch) for c in one.changes}
    assert Number.SPEED not in numbers


def test_a_feed_at_the_machines_most_is_not_raised():
    full = replace(MACHINE, spindle="switch", top_feed_mm_min=400.0)
    assert first(Trouble.MELTS, machine=full).number is Number.DEPTH


BITS = st.builds(Bit, st.floats(0.8, 6.0), st.integers(1, 3), st.floats(4.0, 12.0))
CHANGED = st.fixed_dictionaries(
    {
        "feed_mm_min": st.floats(30, 1000), "depth_per_pass_mm": st.floats(0.05, 3),
        "plunge_mm_min": st.floats(10, 400), "ramp_angle": st.just(radians(3.0)),
    }
)  # fmt: skip
MACHINES = st.sampled_from(["program", "knob", "switch"]).map(lambda one: replace(MACHINE, spindle=one))


@given(st.sampled_from(MATERIALS), BITS, st.floats(5_000, 30_000), CHANGED, MACHINES)
def test_every_change_goes_the_right_way_and_leaves_no_limit(material, bit, rpm, changed, machine):
    cutting = cut(material, bit, rpm, **changed)
    told = stop_ifs(cutting, bit, machine)
    assert [one.trouble for one in told] == list(Trouble)
    for one in told:
        for change in one.changes:
            after = applied(cutting, change)
            assert change.then != change.now
            assert change.chip_mm == chip_load_mm(after, bit.flutes)
            assert after.feed_mm_min <= machine.top_feed_mm_min
            for was, comes in zip(judged(cutting, bit), judged(after, bit), strict=True):
                assert not comes.is_low or (was.is_low and comes.value >= was.value)
                assert not comes.is_high or (was.is_high and comes.value <= was.value)
            if one.trouble in {Trouble.MELTS, Trouble.SQUEALS} and change.number is not Number.DEPTH:
                assert change.chip_mm > chip_load_mm(cutting, bit.flutes)
            if one.trouble is Trouble.CHIPS and change.number is Number.FEED:
                assert change.chip_mm < chip_load_mm(cutting, bit.flutes)
            if one.trouble is Trouble.BENDS:
                assert change.bend_mm < judged(cutting, bit)[6].value
