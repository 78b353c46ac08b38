"""A correction and its machine together do nothing; a second gauge corrects what the first left."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.gauge.feature import NEUTRAL, SCALE_X, SCALE_Y, SKEW, WIDTH
from core.gauge.put_right import put_right, width_put_right
from core.sheet.correction import Correction

SCALES, SKEWS = st.floats(0.98, 1.02), st.floats(-0.02, 0.02)
POINTS = np.array([[0.0, 0.0], [118.0, 3.0], [-40.0, 90.0], [7.0, -250.0]])


def machine(scale_x, scale_y, skew):
    """Where the machine goes for (n, 2) mm, and its errors (6,)."""
    errors = NEUTRAL.copy()
    errors[[SCALE_X, SCALE_Y, SKEW]] = scale_x, scale_y, skew

    def goes(points):
        y = scale_y * points[:, 1]
        return np.column_stack((scale_x * points[:, 0] + np.tan(skew) * y, y))

    return goes, errors


@given(SCALES, SCALES, SKEWS)
def test_a_machine_told_its_correction_goes_where_it_is_meant_to(scale_x, scale_y, skew):
    goes, errors = machine(scale_x, scale_y, skew)
    assert goes(put_right(errors, Correction()).of(POINTS)) == pytest.approx(POINTS, abs=1e-9)


@given(SCALES, SCALES, SKEWS, SCALES, SCALES, SKEWS)
def test_a_gauge_cut_with_a_correction_tells_what_is_left(scale_x, scale_y, skew, first_x, first_y, lean):
    goes, _ = machine(scale_x, scale_y, skew)
    first = Correction(first_x, first_y, lean)
    # What machine and first correction do together is again two scales and a skew.
    corners = goes(first.of(np.array([[1.0, 0.0], [0.0, 1.0]])))
    errors = NEUTRAL.copy()
    errors[[SCALE_X, SCALE_Y]] = corners[0, 0], corners[1, 1]
    errors[SKEW] = np.arctan(corners[1, 0] / corners[1, 1])
    assert goes(put_right(errors, first).of(POINTS)) == pytest.approx(POINTS, abs=1e-8)


def test_the_same_gauge_read_twice_gives_the_same_and_a_true_one_keeps_what_it_was_cut_with():
    first = Correction(1.01, 0.99, 0.004)
    kept = put_right(NEUTRAL, first)
    assert (kept.scale_x, kept.scale_y, kept.skew) == pytest.approx((1.01, 0.99, 0.004))
    errors = NEUTRAL.copy()
    errors[WIDTH] = 0.05
    assert width_put_right(errors, 0.1) == pytest.approx(0.15)
