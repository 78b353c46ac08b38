"""Where the tip of a dragged knife goes when its shaft runs along a plot: a simulator of a trailing blade.

The tip trails the shaft by the offset e. While the shaft runs straight, the angle psi between knife and
travel dies away by tan(psi / 2) = tan(psi0 / 2) exp(-s / e) over a way s (the tractrix), and the tip is e
behind the shaft. A lifted knife keeps its direction. A run of arcs is a run of chords here.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import atan, exp, hypot, pi, tan

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]

#: Offsets between two places where the tip is looked at; a chord between them cuts off 0.00125 e.
STEP_OFFSETS = 0.1
#: mm; a tip that lies no farther beside the shaft's way is on a straight way for all that can be seen.
STRAIGHT_MM = 0.004


@dataclass(frozen=True)
class Blade:
    """offset_mm (> 0) from the shaft's axis to the tip; heading: where the knife points at first, rad."""

    offset_mm: float
    heading: float = 0.0


def tips_along(runs: Iterable[Points], blade: Blade) -> list[Points]:
    """For each run (n, 2) mm of the lowered shaft the way (m, 2) mm of the tip, from where it is set down."""
    tips, heading = [], blade.heading
    for run in runs:
        tip, heading = _tip_along(run, blade.offset_mm, heading)
        tips.append(tip)
    return tips


def _tip_along(run: Points, offset: float, heading: float) -> tuple[Points, float]:
    """The tip's way, and where the knife points at the end."""
    ways = np.diff(run, axis=0)
    travels = np.arctan2(ways[:, 1], ways[:, 0])
    lengths = np.hypot(ways[:, 0], ways[:, 1])
    off = np.array(_angles(travels.tolist(), lengths.tolist(), offset, heading))
    is_straight = (np.cos(off[:-1]) > 0.0) & (np.abs(np.sin(off[:-1])) * offset < STRAIGHT_MM)
    steps = np.maximum(np.ceil(lengths / (STEP_OFFSETS * offset)), 1.0)
    counts = np.where(is_straight, 1.0, steps).astype(np.int64)
    rows = np.repeat(np.arange(len(counts)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts) + 1
    gone = lengths[rows] * within / counts[rows]
    psi = 2.0 * np.arctan(np.tan(off[rows] / 2.0) * np.exp(-gone / offset))
    shaft = run[rows] + gone[:, None] * np.column_stack((np.cos(travels[rows]), np.sin(travels[rows])))
    pointing = travels[rows] + psi
    tips = shaft - offset * np.column_stack((np.cos(pointing), np.sin(pointing)))
    first = run[0] - offset * np.array([np.cos(heading), np.sin(heading)])
    return np.vstack((first, tips)), float(pointing[-1])


def _angles(travels: Sequence[float], lengths: Sequence[float], offset: float, heading: float) -> list[float]:
    """(n + 1,) rad between knife and travel at the start of each move, and at the end of the last."""
    angles, psi = [], 0.0
    for travel, length in zip(travels, lengths, strict=True):
        psi = (heading - travel + pi) % (2.0 * pi) - pi
        angles.append(psi)
        psi = 2.0 * atan(tan(psi / 2.0) * exp(-length / offset))
        heading = travel + psi
    return [*angles, psi]


def closed_tip(tip: Points, overcut_mm: float, slack_mm: float) -> Points:
    """The tip's way once round, to where it comes nearest to its start in what is left at the end.

    The overcut may be shorter than stated, never longer by more than slack_mm.
    """
    steps = np.hypot(*np.diff(tip, axis=0).T)
    left = np.concatenate((np.cumsum(steps[::-1])[::-1], [0.0]))
    ending = np.flatnonzero(left <= min(overcut_mm + slack_mm, left[0] / 2.0))
    if ending[0] > 0:
        ending = np.append(ending[0] - 1, ending)
    feet = [_foot(tip[0], tip[row], tip[min(row + 1, len(tip) - 1)]) for row in ending.tolist()]
    nearest = int(np.argmin([hypot(*(foot - tip[0])) for foot in feet]))
    return np.vstack((tip[: ending[nearest] + 1], feet[nearest]))


def _foot(place: Points, start: Points, end: Points) -> Points:
    """The point of a straight piece that is nearest to a place."""
    way = end - start
    squared = float(way @ way)
    share = min(max(float((place - start) @ way) / squared, 0.0), 1.0) if squared else 0.0
    return np.asarray(start + share * way)
