"""What a machine does wrong, from what was read on its gauge plate: least squares with their uncertainty.

The distances are all but linear in the six errors, so that a few steps of Gauss and Newton end at the least
squares; their covariance is sd^2 (J'J)^-1 for readings of one standard deviation. An error that the readings
taken do not tell apart from those before it stays neutral and is not told. A reading that fits so badly that
one sound one in ten thousand would is left out, worst first, and named: another number was read than the
plate has.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.errors import BadValue
from core.gauge.feature import LOST_X, LOST_Y, NEUTRAL, Feature, expected

Floats = NDArray[np.float64]

#: Standard deviations beyond which a reading is left out: 1 in 16,000 sound ones (normal distribution).
DOUBTFUL = 4.0
#: Standard deviations on either side of an estimate that hold 95 of 100 (normal distribution).
SURE = 1.959964
#: An error is told when the readings show this share of it after the other errors did what they can.
LEAST_SHOWN = 1e-6
#: Steps by which the six errors are tried, in their own units; the residual is then below 1e-9 mm.
STEP = 1e-6
#: The model is so nearly linear that three steps leave less than 1e-9.
ROUNDS = 6


@dataclass(frozen=True)
class Reading:
    """What was read, mm, its name, and what it is a reading of."""

    name: str
    feature: Feature
    mm: float


@dataclass(frozen=True)
class Doubtful:
    """A reading left out, and by how much it differs from what the others say, mm."""

    name: str
    off_mm: float


@dataclass(frozen=True, eq=False)
class Solved:
    """errors and deviations (6,) as in feature.py; told (6,) whether each could be told; what was left out.

    deviations are standard ones; SURE times as much on either side holds 95 of 100. rms_mm is how far the
    readings are from the fit, in relation to which the stated deviation is judged.
    """

    errors: Floats
    deviations: Floats
    told: NDArray[np.bool_]
    doubtful: tuple[Doubtful, ...]
    rms_mm: float
    spare: int


def solve(readings: Sequence[Reading], deviation_mm: float) -> Solved:
    """The errors of the machine. Raises BadValue for no readings, or a deviation that is not above 0."""
    if not deviation_mm > 0.0:
        raise BadValue(f"how well was read is a length above 0, not {deviation_mm:g} mm")
    kept, left_out = list(readings), []
    while True:
        if not kept:
            raise BadValue("there is no reading to go by")
        fitted = _fitted(kept, deviation_mm)
        worst = int(np.argmax(np.abs(fitted.standardised)))
        if not abs(fitted.standardised[worst]) > DOUBTFUL:
            break
        bad = kept.pop(worst)
        left_out.append(bad)
    off = np.array([one.mm for one in left_out]) - (
        expected([one.feature for one in left_out], fitted.errors) if left_out else 0.0
    )
    doubtful = tuple(Doubtful(one.name, float(by)) for one, by in zip(left_out, off, strict=True))
    return Solved(
        fitted.errors,
        fitted.deviations,
        fitted.told,
        doubtful,
        fitted.rms_mm,
        len(kept) - int(fitted.told.sum()),
    )


@dataclass(frozen=True, eq=False)
class _Fitted:
    errors: Floats
    deviations: Floats
    told: NDArray[np.bool_]
    standardised: Floats
    rms_mm: float


def _fitted(readings: Sequence[Reading], deviation_mm: float) -> _Fitted:
    features, read = [one.feature for one in readings], np.array([one.mm for one in readings])
    told = _told(features)
    errors = NEUTRAL.copy()
    for _ in range(ROUNDS):
        slopes = _slopes(features, errors)[:, told]
        errors[told] += np.linalg.lstsq(slopes, read - expected(features, errors), rcond=None)[0]
    slopes = _slopes(features, errors)[:, told]
    inverse = np.linalg.inv(slopes.T @ slopes)
    deviations = np.full(NEUTRAL.shape, np.inf)
    deviations[told] = deviation_mm * np.sqrt(np.diag(inverse))
    left = read - expected(features, errors)
    free = np.clip(1.0 - np.einsum("ij,jk,ik->i", slopes, inverse, slopes), 0.0, 1.0)
    # A reading that alone tells an error fits it always, and says nothing of how well it was read.
    judged = free > LEAST_SHOWN
    standardised = np.where(judged, left / (deviation_mm * np.sqrt(np.where(judged, free, 1.0))), 0.0)
    return _Fitted(errors, deviations, told, standardised, float(np.sqrt(np.mean(left**2))))


def _slopes(features: Sequence[Feature], errors: Floats) -> Floats:
    """(n, 6): how each distance changes with each error."""
    steps = STEP * np.eye(len(errors))
    ahead = [expected(features, errors + step) for step in steps]
    behind = [expected(features, errors - step) for step in steps]
    return (np.array(ahead) - np.array(behind)).T / (2.0 * STEP)


def _told(features: Sequence[Feature]) -> NDArray[np.bool_]:
    """(6,) which errors these distances tell, each beside the ones before it."""
    slopes = _slopes(features, NEUTRAL)
    told = np.zeros(len(NEUTRAL), dtype=np.bool_)
    for row in range(len(NEUTRAL)):
        column = slopes[:, row]
        known = slopes[:, told]
        rest = column - known @ np.linalg.lstsq(known, column, rcond=None)[0] if told.any() else column
        told[row] = np.linalg.norm(rest) > LEAST_SHOWN * max(1.0, float(np.linalg.norm(column)))
    return told


def is_lost_motion_shown(solved: Solved) -> tuple[bool, bool]:
    """Whether lost motion in x and in y is more than its uncertainty: a hint that something has play."""
    shown = np.abs(solved.errors) > SURE * solved.deviations
    return bool(shown[LOST_X]), bool(shown[LOST_Y])
