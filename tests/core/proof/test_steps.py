from dataclasses import replace

import numpy as np
import pytest

from core.program.read.read import read_program
from core.proof.limits import Limits
from core.proof.steps import Places, answered_in_cell, step_rule, unanswered

HEAD = "G21 G90 G94 G17\nG0 Z5\nS10000 M3\nG4 P5\nX0 Y0\n"
LIMITS = Limits(5.0, 0.0, -3.3, bit_mm=2.0, depth_per_pass_mm=0.7, ramp_above_mm=0.3)


def judged(text, limits=LIMITS):
    return step_rule(read_program(f"{HEAD}{text}G0 Z5\nM5\nM2\n".encode()), limits)


def passes(*levels, wide=30.0, at=0.0):
    """Round a square at each level, straight down at its corner."""
    text = f"G0 Z5\nX{at} Y{at}\nG1 Z0 F80\n"
    end = at + wide
    for z in levels:
        text += f"G1 Z{z}\nX{end} F400\nY{end}\nX{at}\nY{at}\n"
    return text


def test_passes_no_deeper_than_one_step_break_nothing():
    looked = judged(passes(-0.7, -1.4, -2.1))
    assert looked.checked > 0
    assert looked.broken == ()


@pytest.mark.parametrize("levels", [(-0.75,), (-0.7, -1.45), (-0.7, -1.4, -2.2), (-0.7, -2.1, -1.4)])
def test_a_step_too_deep_is_told_with_its_line(levels):
    broken = judged(passes(*levels)).broken
    assert {one.code for one in broken} == {"step-too-deep"}
    assert min(one.line for one in broken) >= 8


def test_without_a_stated_depth_nothing_is_asked():
    assert judged(passes(-3.0), replace(LIMITS, depth_per_pass_mm=None)).checked == 0


def test_a_spiral_down_a_bore_is_as_deep_as_it_falls_in_a_turn():
    def bore(a_turn, radius):
        turns = int(3.0 / a_turn)
        rounds = "".join(
            f"G3 X{-radius} Y0 Z{-(i + 0.5) * a_turn:.4f} I{-radius} J0\n"
            f"X{radius} Y0 Z{-(i + 1) * a_turn:.4f} I{radius} J0\n"
            for i in range(turns)
        )
        return f"G0 X{radius} Y0\nG1 Z0 F80\n{rounds}"

    assert judged(bore(0.6, 3.0)).broken == ()
    assert judged(bore(1.5, 3.0)).broken != ()
    assert judged(bore(0.1, 0.3)).broken == ()


def test_a_gentle_spiral_in_short_chords_is_a_slope_as_its_arcs_are():
    """Begun 0.3 mm above the stock, its first round falls 0.9 mm, by less than a thousandth at each chord."""
    turn = np.linspace(0.0, 4.0 * np.pi, 4001)
    x, y, z = 10.0 * np.cos(turn), 10.0 * np.sin(turn), 0.2 - 0.9 * turn / (2.0 * np.pi)
    rounds = "".join(f"G1 X{a:.4f} Y{b:.4f} Z{c:.4f}\n" for a, b, c in zip(x, y, z, strict=True))
    assert judged(f"G0 X10 Y0\nG1 Z0.3 F80\n{rounds}").broken == ()
    deeper = rounds.replace("Z-", "Z-1")
    assert judged(f"G0 X10 Y0\nG1 Z0.3 F80\n{deeper}").broken != ()


def test_a_last_lap_at_full_depth_beside_the_passes_takes_no_step_of_its_own():
    levels = (-0.7, -1.4, -2.1, -2.8)
    beside = passes(-2.8, wide=30.4, at=-0.2)
    assert judged(passes(*levels) + beside).broken == ()
    assert judged(passes(*levels) + passes(-2.8, wide=32.4, at=-1.2)).broken != ()


def test_the_pass_behind_a_first_ramp_may_take_as_much_more_as_the_ramp_began_above():
    ramp = "G1 X20 Z-0.7 F80\nX30 F400\nX0\nX20 Z{deep} F80\nX30\n"
    assert judged("G0 Z5\nX0 Y0\nG1 Z0.3 F80\n" + ramp.format(deep=-1.4)).broken == ()
    assert judged("G0 Z5\nX0 Y0\nG1 Z0.3 F80\n" + ramp.format(deep=-1.8)).broken != ()


def test_what_is_found_does_not_hang_on_where_the_work_lies():
    far = judged(passes(-0.7, -1.6, at=211.37)).broken
    here = judged(passes(-0.7, -1.6)).broken
    assert [one.line for one in far] == [one.line for one in here]
    assert np.isfinite([one.at for one in far]).all()


@pytest.mark.parametrize("seed", range(20))
def test_places_answered_within_a_cell_are_among_those_that_all_pairs_answer_and_most_of_them(seed):
    """Every pair held against every other, one by one, is the same rule without any cells."""
    random = np.random.default_rng(seed)
    at = np.column_stack((random.integers(-9, 9, (300, 2)) * 0.1, random.uniform(-3, 0, 300)))
    places = Places(np.arange(300), at, np.cumsum(random.uniform(0, 1, 300)), at[:, 2] - 0.7)
    asks = random.permutation(300)[:200]
    near = np.hypot(*(at[asks, None, :2] - at[None, :, :2]).T).T <= 0.3
    earlier = places.along[None, :] < places.along[asks, None] - 0.9
    answers = near & earlier & (places.lowest[None, :] <= at[asks, None, 2])
    in_cell = answered_in_cell(asks, places, 0.3 / np.sqrt(2), 0.9)
    assert not (in_cell & ~answers.any(axis=1)).any()
    assert in_cell.sum() > 20
    assert np.array_equal(np.sort(unanswered(asks, places, 0.3, 0.9)), np.sort(asks[~answers.any(axis=1)]))


@pytest.mark.parametrize("bit", [0.5, 1.0, 2.0, 6.0])
def test_a_cut_too_deep_at_once_is_told_whatever_the_bit_and_its_own_cut_is_no_answer(bit):
    limits = replace(LIMITS, bit_mm=bit)
    assert judged(passes(-1.4), limits).broken != ()
    assert judged("G0 Z5\nX0 Y0\nG1 Z0 F80\nZ-1.4\nX40 F400\n", limits).broken != ()
    assert judged(passes(-0.7, -1.4), limits).broken == ()


@pytest.mark.parametrize("bit", [0.5, 1.0, 3.0])
def test_a_lap_may_take_most_of_half_its_bit_to_the_side_at_full_depth_and_no_more(bit):
    limits, levels = replace(LIMITS, bit_mm=bit), (-0.7, -1.4, -2.1, -2.8)
    for share, is_fine in ((0.3, True), (0.6, True), (1.1, False)):
        side = share * bit / 2.0
        lap = passes(-2.8, wide=30.0 + 2.0 * side, at=-side)
        assert (judged(passes(*levels) + lap, limits).broken == ()) == is_fine


@pytest.mark.parametrize("bit", [0.5, 1.0, 3.0])
@pytest.mark.parametrize(("share", "is_fine"), [(0.85, True), (0.95, False)])
def test_a_straight_lap_takes_no_more_to_its_side_than_the_bit_may(bit, share, is_fine):
    lap = f"G0 Z5\nX5 Y{-share * bit / 2.0:.4f}\nG1 Z-2.8 F80\nX25 F400\n"
    found = judged(passes(-0.7, -1.4, -2.1, -2.8) + lap, replace(LIMITS, bit_mm=bit))
    assert (found.broken == ()) == is_fine
