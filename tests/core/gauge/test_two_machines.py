"""Part against film from two simulated machines, before their gauges were read and after."""

import numpy as np
import pytest

from core.gauge.feature import NEUTRAL, SKEW, expected
from core.gauge.plate import measured
from core.gauge.put_right import put_right_by
from core.gauge.solve import Reading, solve
from core.sheet.correction import Correction
from core.sheet.fit_error import Doubts, forecast

MARKS = np.array([[-10.0, 128.0], [104.0, 128.0], [24.0, -10.0]])
PLACES = np.array([[0.0, 0.0], [94.0, 0.0], [94.0, 118.0], [0.0, 118.0], [47.0, 118.0], [47.0, 0.0]])
EYE = 0.1
READ = {"router": 0.05, "cutter": 0.1}


def goes(errors, points):
    """Where a machine with these errors goes for (n, 2) mm."""
    y = errors[1] * points[:, 1]
    return np.column_stack((errors[0] * points[:, 0] + np.tan(errors[SKEW]) * y, y))


def gauged(errors, deviation, rng):
    features = [one.feature for one in measured()]
    read = expected(features, errors) + rng.normal(0.0, deviation, len(features))
    readings = [Reading(str(row), *one) for row, one in enumerate(zip(features, read, strict=True))]
    return put_right_by(solve(readings, deviation), Correction())


def miss(part, film, rng):
    """mm at the worst place when a film is laid by eye, its marks over those of the part (rigid best fit)."""
    marks, seen = film(MARKS), part(MARKS) + rng.normal(0.0, EYE, MARKS.shape)
    a, b = (points @ np.array([1.0, 1.0j]) for points in (marks, seen))
    turn = np.vdot(a - a.mean(), b - b.mean())
    laid = (film(PLACES) @ np.array([1.0, 1.0j]) - a.mean()) * turn / abs(turn) + b.mean()
    return np.abs(laid - part(PLACES) @ np.array([1.0, 1.0j])).max()


def one_pair(rng):
    """The miss before and after, and what is claimed for 95 of 100."""
    machines, rights = {}, {}
    for name, deviation in READ.items():
        off = np.array([0.01, 0.01, np.radians(0.5), 0.2, 0.0, 0.0]) * rng.uniform(-1.0, 1.0, 6)
        machines[name] = NEUTRAL + off
        rights[name] = gauged(machines[name], deviation, rng)
    before = miss(*(lambda at, m=machine: goes(m, at) for machine in machines.values()), rng)
    corrected = [
        lambda at, m=machines[name], c=rights[name].correction: goes(m, c.of(at)) for name in machines
    ]
    after = miss(*corrected, rng)
    scale, skew = (
        np.hypot(*(getattr(right, doubt) for right in rights.values()))
        for doubt in ("scale_doubt", "skew_doubt")
    )
    claim = forecast(
        [tuple(mark) for mark in MARKS],
        [tuple(place) for place in PLACES],
        Doubts(EYE, scale, skew, has_own_axes=True),
    )
    return before, after, claim.claim_mm


def test_after_the_gauge_the_miss_keeps_to_the_forecast_and_before_it_did_not(whole):
    rng = np.random.default_rng(3)
    before, after, claims = np.array([one_pair(rng) for _ in range(1000 if whole else 250)]).T
    assert (after <= claims).mean() >= 0.95 - 2.0 * np.sqrt(0.95 * 0.05 / len(after))
    assert np.median(after) < 0.35 * np.median(before)
    assert claims.max() < 0.45
    assert (before <= claims).mean() < 0.3


def test_the_doubts_of_a_gauge_are_less_than_those_without_one():
    rng = np.random.default_rng(1)
    right = gauged(NEUTRAL, 0.05, rng)
    assert right.scale_doubt == pytest.approx(0.00023, abs=3e-5)
    assert right.skew_doubt < 0.0005
