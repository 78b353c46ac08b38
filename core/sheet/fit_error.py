"""How far off film and part will come to lie, and the inset that follows from it.

Three things make a film miss: an eye that lays each mark a little beside its place, a cutter whose scale
differs from the router's, and axes that are not square. Each is taken as normal with the stated standard
deviation (the eye's on both coordinates of every mark); the film is laid where its marks fit best. The worst
of the places asked for is then looked at in many layings drawn by a fixed seed, so that the same numbers
always give the same forecast.

Check: three marks at (-10, 128) (104, 128) (24, -10) round a part of 94 x 118 mm; eye 0.15 mm, scale 0.1 %,
skew 0.05 % give 0.20 in the middle and 0.35 in 95 of 100; eye 0.30, 0.2 %, 0.1 % give 0.41 and 0.70. That is
one scale for both axes; where each axis has its own, as after a gauge, it is a little more.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
import shapely
from numpy.typing import NDArray

from core.findings import Finding, Level, Point
from core.outline.segments import Floats

Complexes = NDArray[np.complex128]

#: Layings drawn: the share below a claim of 95 in 100 is then known to 0.15 of 100.
LAYINGS = 20_000
#: The share of layings that a claim holds for.
CLAIM = 0.95
#: mm; insets are told in these steps.
INSET_STEP_MM = 0.1
#: Any number: it makes the draw, and so the forecast, the same every time.
SEED = 20_251


@dataclass(frozen=True)
class Doubts:
    """Standard deviations: of an eye at a mark, mm; of one scale against the other, of the skew, rad.

    has_own_axes: x and y are off each by itself, as gauges leave them; else both by the same.
    """

    eye_mm: float
    scale: float
    skew: float
    has_own_axes: bool = False


@dataclass(frozen=True)
class FitForecast:
    """By how much the worst place is off in half of all layings, and in 95 of 100; the inset proposed; mm."""

    median_mm: float
    claim_mm: float
    inset_mm: float


def forecast(
    marks: Sequence[Point], places: Sequence[Point], doubts: Doubts, play_mm: float = 0.0
) -> FitForecast | None:
    """For a film with these marks, at the worst of these places; None where two marks do not fix it.

    play_mm: how far the part itself may be off, in any direction and by any part of it, as in a nest.
    """
    if len(marks) < 2 or not places:
        return None
    rng = np.random.default_rng(SEED)
    return told_by(layings(marks, outermost(places), doubts, LAYINGS, rng, play_mm))


def told_by(worst: Floats) -> FitForecast:
    """What layings (n,) mm, each off by so much at its worst place, come to."""
    claim = float(np.quantile(worst, CLAIM))
    return FitForecast(float(np.median(worst)), claim, inset_for(claim))


def inset_for(off_mm: float) -> float:
    """The inset, mm, that keeps film off the part's edge although it lies so far off."""
    return round(ceil(off_mm / INSET_STEP_MM - 1e-9) * INSET_STEP_MM, 6)


def outermost(places: Sequence[Point]) -> Sequence[Point]:
    """The corners of the hull: a miss is the length of a linear map, which is greatest at one of them."""
    corners = shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(places))).tolist()
    return [(float(x), float(y)) for x, y in dict.fromkeys(map(tuple, corners))]


def layings(
    marks: Sequence[Point],
    places: Sequence[Point],
    doubts: Doubts,
    count: int,
    rng: np.random.Generator,
    play_mm: float = 0.0,
) -> Floats:
    """(count,) mm: how far off the worst place is in so many layings."""
    meant, wanted = _complex(marks), _complex(places)
    eye = doubts.eye_mm * rng.standard_normal((count, 2, meant.size))
    scale = 1.0 + doubts.scale * rng.standard_normal((count, 1))
    skew = doubts.skew * rng.standard_normal((count, 1))
    scale_y = 1.0 + doubts.scale * rng.standard_normal((count, 1)) if doubts.has_own_axes else scale
    seen = meant + eye[:, 0] + 1j * eye[:, 1]
    own = _bent(meant, scale, scale_y, skew)
    middle, found = own.mean(axis=1, keepdims=True), seen.mean(axis=1, keepdims=True)
    turn = np.sum(np.conj(own - middle) * (seen - found), axis=1, keepdims=True)
    laid = (_bent(wanted, scale, scale_y, skew) - middle) * (turn / np.abs(turn)) + found
    if play_mm > 0.0:
        laid = laid + play_mm * rng.random((count, 1)) * np.exp(2j * np.pi * rng.random((count, 1)))
    return np.asarray(np.abs(laid - wanted).max(axis=1))


def _bent(points: Complexes, scale_x: Floats, scale_y: Floats, skew: Floats) -> Complexes:
    """(count, n) the points as a cutter of these scales and skew has them."""
    return np.asarray(scale_x * points.real + (1j * scale_y + skew) * points.imag)


def _complex(points: Sequence[Point]) -> Complexes:
    return np.array([complex(x, y) for x, y in points], dtype=complex)


def forecast_findings(found: FitForecast | None, inset_mm: float) -> tuple[Finding, ...]:
    """What the fit will come to, and a caution when the inset is less than that."""
    if found is None:
        return ()
    told = (
        f"Film and part will lie within {found.claim_mm:.2f} mm of each other at the worst place in 95 of "
        f"100 layings, within {found.median_mm:.2f} in half of them"
    )
    if inset_mm < found.claim_mm:
        return (
            Finding(
                Level.CAUTION,
                "inset-below-forecast",
                f"{told}; the inset of {inset_mm:g} mm is less, so film may come over the edge.",
                f"Take an inset of {found.inset_mm:g} mm, or calibrate both machines and say so.",
            ),
        )
    text = f"{told}; an inset of {found.inset_mm:g} mm would do."
    return (Finding(Level.NOTE, "fit-forecast", text, "Calibrate both machines for a smaller inset."),)
