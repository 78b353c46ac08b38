"""The gauge's arithmetic against worked values of common calibration pages, recomputed by hand.

Sources: step-per-millimetre calculator pages (new = old x commanded / measured; 40 x 508 / 511.175; 80 with
100 commanded and 150 measured); a page on the law of cosines on a parallelogram
(AC^2 - BD^2 = 4 a b cos(alpha)).
The other values follow from these two and were derived by hand.
"""

import numpy as np
import pytest

from core.gauge.feature import LOST_X, LOST_Y, NEUTRAL, SCALE_X, SCALE_Y, SKEW, WIDTH, Feature, Side, expected
from core.gauge.put_right import put_right
from core.gauge.solve import Reading, solve
from core.sheet.correction import Correction

SD = 0.05
#: mm: the sides of the rhombus with diagonals of 141.9 and 141.0, AC^2 + BD^2 = 2 (a^2 + b^2).
SIDE = np.sqrt((141.9**2 + 141.0**2) / 4.0)


def lengths(*pairs, side=Side.CENTRES):
    return [Reading(str(row), Feature((meant, 0.0), side), read) for row, (meant, read) in enumerate(pairs)]


@pytest.mark.parametrize(
    ("steps", "commanded", "measured", "wanted"),
    [(40.0, 508.0, 511.175, 39.752), (80.0, 100.0, 150.0, 53.3333), (80.0, 100.0, 99.2, 80.645161)],
)
def test_steps_and_commands_grow_by_commanded_over_measured(steps, commanded, measured, wanted):
    solved = solve(lengths((commanded, measured)), SD)
    correction = put_right(solved.errors, Correction())
    assert steps * correction.scale_x == pytest.approx(wanted, abs=0.0005)


def test_too_few_steps_make_a_part_too_small():
    solved = solve(lengths((100.0, 95.0)), SD)
    assert solved.errors[SCALE_X] == pytest.approx(0.95)
    assert put_right(solved.errors, Correction()).scale_x == pytest.approx(100.0 / 95.0)


def test_several_lengths_give_one_scale_by_least_squares():
    solved = solve(lengths((50.0, 49.80), (100.0, 99.65), (150.0, 149.40)), SD)
    assert solved.errors[SCALE_X] == pytest.approx(0.996142857, abs=5e-10)


def test_the_longest_distance_tells_a_scale_best():
    for meant, share in ((100.0, 0.0005), (300.0, 0.00017)):
        assert solve(lengths((meant, meant)), SD).deviations[SCALE_X] == pytest.approx(share, abs=5e-6)


def test_an_outer_and_an_inner_distance_tell_scale_from_cutting_width():
    pair = [
        Reading("out", Feature((80.0, 0.0), Side.OUTER), 79.70),
        Reading("in", Feature((40.0, 0.0), Side.INNER), 40.05),
    ]
    solved = solve(pair, SD)
    assert solved.errors[SCALE_X] == pytest.approx(0.997916667, abs=5e-10)
    assert solved.errors[WIDTH] == pytest.approx(0.133333, abs=5e-7)
    assert solved.errors[WIDTH] / 2.0 == pytest.approx(0.066667, abs=5e-7)
    assert not solved.told[[LOST_X, LOST_Y]].any()


@pytest.mark.parametrize(
    ("a", "b", "degrees", "ac", "bd"),
    [
        (100, 100, 0.1, 141.544716, 141.297889),
        (100, 100, 0.25, 141.729553, 141.112486),
        (200, 150, 0.1, 250.209352, 249.790473),
        (300, 300, 0.05, 424.449148, 424.078908),
    ],
)
def test_diagonals_of_a_rectangle_whose_y_leans(a, b, degrees, ac, bd):
    # The pages' rectangle keeps its sides when it leans, so its y is the shorter by the cosine.
    errors = NEUTRAL.copy()
    errors[SKEW], errors[SCALE_Y] = np.radians(degrees), np.cos(np.radians(degrees))
    diagonals = [Feature((a, b), Side.CENTRES), Feature((a, -b), Side.CENTRES)]
    assert expected(diagonals, errors) == pytest.approx([ac, bd], abs=5e-7)
    sides = [Feature((a, 0.0), Side.CENTRES), Feature((0.0, b), Side.CENTRES)]
    read = [
        Reading(str(row), one, mm)
        for row, (one, mm) in enumerate(zip([*diagonals, *sides], (ac, bd, a, b), strict=True))
    ]
    solved = solve(read, SD)
    assert np.degrees(solved.errors[SKEW]) == pytest.approx(degrees, abs=1e-6)


def test_two_diagonals_alone_on_a_square_give_its_lean():
    diagonals = [(100.0, 100.0), (100.0, -100.0)]
    read = [
        Reading(str(row), Feature(along, Side.CENTRES), mm)
        for row, (along, mm) in enumerate(zip(diagonals, (141.9, 141.0), strict=True))
    ]
    sides = [
        Reading("a", Feature((100.0, 0.0), Side.CENTRES), SIDE),
        Reading("b", Feature((0.0, 100.0), Side.CENTRES), SIDE),
    ]
    solved = solve([*read, *sides], SD)
    # sin(lean) = (AC^2 - BD^2) / (4 a b): 0.364704 degrees with sides of 100.
    assert np.degrees(solved.errors[SKEW]) == pytest.approx(0.364704 * (100.0 / SIDE) ** 2, abs=2e-6)
    # With these sides the diagonals carry no error.
    assert solved.rms_mm == pytest.approx(0.0, abs=1e-5)


def test_a_diagonal_read_to_five_hundredths_tells_square_to_a_fiftieth_of_a_degree():
    errors = NEUTRAL.copy()
    ac = expected([Feature((100.0, 100.0), Side.CENTRES)], errors)[0]
    lean = np.degrees(np.arcsin(((ac + 0.05) ** 2 - ac**2) / 4e4))
    assert lean == pytest.approx(0.0203, abs=5e-5)
    assert np.radians(lean) * 100.0 == pytest.approx(0.035, abs=5e-4)


def test_what_is_wanted_is_written_by_the_inverse():
    # x = (x_w - k y_w) / sx, y = y_w / sy: scale first, then skew.
    errors = NEUTRAL.copy()
    errors[[SCALE_X, SCALE_Y, SKEW]] = 0.995, 1.004, np.radians(0.3)
    wanted = np.array([[10.0, 20.0], [-35.0, 70.0]])
    k = np.tan(errors[SKEW])
    by_hand = np.column_stack(((wanted[:, 0] - k * wanted[:, 1]) / 0.995, wanted[:, 1] / 1.004))
    assert put_right(errors, Correction()).of(wanted) == pytest.approx(by_hand, abs=1e-12)
