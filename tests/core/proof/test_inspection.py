import numpy as np
import pytest

from core.proof.inspection import inspect
from tests.core.program.programs import read

LINES = ("G0 X0 Y0", "G1 Z-1 F100", "X30 F400", "G3 X30 Y20 I0 J10", "G1 Z-2 F100", "X0 F400")


def test_the_summary_says_how_far_how_deep_how_fast_and_how_long():
    seen = inspect(read(*LINES), lambda motion: float(len(motion.feeds)))
    assert seen.every is not None
    assert seen.cutting is not None
    np.testing.assert_allclose((*seen.every.low, *seen.every.high), [0, 0, -2, 40, 20, 5], atol=1e-3)
    np.testing.assert_allclose((*seen.cutting.low, *seen.cutting.high), [0, 0, -2, 40, 20, -1], atol=1e-3)
    assert seen.levels == (-1.0, -2.0)
    assert seen.feeds == (100.0, 400.0)
    assert seen.speeds == (0.0, 10000.0)
    assert seen.cut_length_mm == pytest.approx(1 + 30 + 10 * np.pi + 1 + 30, abs=2e-3)
    assert seen.feed_time_s == pytest.approx((60 + 10 * np.pi) / 400 * 60 + 7 / 100 * 60)
    assert (seen.dwell_s, seen.move_count, seen.arc_count) == (5.0, 8, 1)
    assert seen.motion_s == 7.0  # the two moves from an unknown place left out, the arc cut in two
    assert seen.rules.broken == ()


def test_a_rapid_below_the_stocks_top_is_seen_without_a_job():
    codes = {broken.code for broken in inspect(read(*LINES, "G0 X5")).rules.broken}
    assert codes == {"rapid-in-stock"}


def test_a_program_that_only_lifts_has_no_extents():
    seen = inspect(read())
    assert seen.every is None
    assert seen.cutting is None
    assert seen.motion_s is None
