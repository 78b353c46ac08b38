"""A machine's stated correction undone, on what was read of its files: drawings and programs.

The proof has its own arithmetic for it. Arcs are first cut so short that what the map does to them is far
below what the proof must see; each is then the arc through its mapped ends and middle.
"""

from dataclasses import dataclass, replace
from math import radians, tan

import numpy as np
from numpy.typing import NDArray

from core.program.read.program import Program
from core.proof.sweeps import places_at, sweeps_of

Points = NDArray[np.float64]

#: rad of an arc in one piece: half a percent of stretch on a radius of 100 mm leaves 0.0006 mm.
SHORT = 0.1


@dataclass(frozen=True)
class CorrectionClaim:
    """A point (x, y) was written as (scale_x x + tan(skew) scale_y y, scale_y y)."""

    scale_x: float
    scale_y: float
    skew_deg: float

    def undone(self, points: Points) -> Points:
        """(n, 2) mm: the points that were written as these."""
        x, y = points[:, 0], points[:, 1]
        return np.column_stack(((x - tan(radians(self.skew_deg)) * y) / self.scale_x, y / self.scale_y))


def undone_contour(
    points: Points, bulges: Points, correction: CorrectionClaim, *, is_closed: bool
) -> tuple[Points, Points]:
    """Corners (n, 2) and bulges of a contour before it was corrected; arcs in short pieces."""
    ends = np.roll(points, -1, axis=0) if is_closed else points[1:]
    starts = points if is_closed else points[:-1]
    sweeps = 4.0 * np.arctan(bulges[: len(starts)])
    counts = np.maximum(np.ceil(np.abs(sweeps) / SHORT), 1.0).astype(np.int64)
    rows = np.repeat(np.arange(counts.size), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    places = [
        correction.undone(_on_arc(starts[rows], ends[rows], sweeps[rows], (within + more) / counts[rows]))
        for more in (0.0, 0.5, 1.0)
    ]
    bent = np.where(sweeps[rows] == 0.0, 0.0, _bulges(*places))
    corners = places[0] if is_closed else np.vstack((places[0], places[2][-1:]))
    return corners, bent


def _on_arc(starts: Points, ends: Points, sweeps: Points, share: Points) -> Points:
    """(n, 2) the place at a share of each arc: start + chord sin(t h) / sin h, turned by (t - 1) h."""
    chords = (ends - starts) @ np.array([1.0, 1.0j])
    half = sweeps / 2.0
    safe = np.where(half == 0.0, 1.0, half)
    along = np.where(half == 0.0, share, np.sin(share * safe) / np.sin(safe))
    moved = chords * along * np.exp(1j * (share - 1.0) * half)
    return np.asarray(starts + np.column_stack((moved.real, moved.imag)))


def _bulges(starts: Points, middles: Points, ends: Points) -> Points:
    """(n,) of the arcs through three points: the turn at the middle is half the sweep (inscribed angle)."""
    one = (middles - starts) @ np.array([1.0, 1.0j])
    other = (ends - middles) @ np.array([1.0, 1.0j])
    return np.asarray(np.tan(np.angle(other * np.conj(one)) / 2.0))


def undone_program(program: Program, correction: CorrectionClaim | None) -> Program:
    """The moves before they were corrected, arcs in short pieces; itself where nothing was corrected."""
    if correction is None:
        return program
    sweeps = np.nan_to_num(sweeps_of(program))
    counts = np.maximum(np.ceil(np.abs(sweeps) / SHORT), 1.0).astype(np.int64)
    rows = np.repeat(np.arange(counts.size), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    first, middle, last = (_places(program, rows, (within + more) / counts[rows]) for more in (0.0, 0.5, 1.0))
    flat = [correction.undone(place[:, :2]) for place in (first, middle, last)]
    is_arc = program.turns[rows] != 0
    centres = np.where(is_arc[:, None], _centres(*flat), np.nan)
    return replace(
        program,
        starts=np.column_stack((flat[0], first[:, 2])),
        ends=np.column_stack((flat[2], last[:, 2])),
        centres=centres,
        turns=program.turns[rows],
        is_rapid=program.is_rapid[rows],
        feeds=program.feeds[rows],
        rpm=program.rpm[rows],
        lines=program.lines[rows],
    )


def _places(program: Program, rows: NDArray[np.int64], share: Points) -> Points:
    """(m, 3) places on the moves; ends as they are told, since a start may be unknown."""
    places = places_at(program, rows, share)
    return np.where((share == 1.0)[:, None], program.ends[rows], places)


def _centres(starts: Points, middles: Points, ends: Points) -> Points:
    """(n, 2) of the circles through three points (perpendicular bisectors)."""
    a, b = middles - starts, ends - starts
    with np.errstate(invalid="ignore", divide="ignore"):
        twice = 2.0 * (a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
        a2, b2 = (a**2).sum(axis=1), (b**2).sum(axis=1)
        x = (b[:, 1] * a2 - a[:, 1] * b2) / twice
        y = (a[:, 0] * b2 - b[:, 0] * a2) / twice
    return np.asarray(starts + np.column_stack((x, y)))
