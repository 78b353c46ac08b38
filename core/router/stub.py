"""The stub that a tab leaves on the part's wall, beside the run of the path that is lifted over it.

A centre path with the part on its left, at the bit's radius r from the wall. Beside d mm of path of
curvature k (positive to the left) lies d (1 - k r) of wall: as much beside a line, none beside the path's
turn about a corner of the part. Where the path itself has a corner to the right, by an angle a, the bit's
round has left r a of wall; a corner to the left by a, as where short arcs are written as lines, takes
r tan(a / 2) from the wall on each of its sides. All of it from the parallel curve of a curve (Steiner 1840).
"""

from dataclasses import dataclass

import numpy as np

from core.findings import Point
from core.outline.segments import Floats, Segments
from core.router.unrolled import Unrolled

#: rad; a turn by nearly pi is a spike, whose tangent is no length.
MOST_TURN = 3.0


@dataclass(frozen=True)
class Stub:
    """Its middle on the wall and its length along the wall, mm."""

    at: Point
    length_mm: float


@dataclass(frozen=True, eq=False)
class _Steps:
    """The wall in steps, each beside a piece of path or round one of its corners.

    lengths (n,) mm; path: the pieces, one for each even step; turns (m - 1,) rad at the corners between.
    """

    lengths: Floats
    path: Segments
    turns: Floats


def stub_beside(path: Unrolled, first: float, last: float, radius_mm: float) -> Stub:
    """The wall beside path between the distances first < last, mm; radius_mm: from the path to the wall."""
    steps = _steps(path, first, last, radius_mm)
    ends = np.cumsum(steps.lengths)
    total = float(ends[-1])
    row = min(int(np.searchsorted(ends, total / 2.0)), ends.size - 1)
    length = float(steps.lengths[row])
    share = (total / 2.0 - float(ends[row]) + length) / length if length > 0.0 else 0.5
    return Stub(_foot(steps, row, share, radius_mm), total)


def _steps(path: Unrolled, first: float, last: float, radius_mm: float) -> _Steps:
    trail = path.trail(np.array([first, last]))
    pieces = Segments(trail.points[:-1], trail.points[1:], trail.bulges)
    ones = np.ones(len(pieces))
    turns = pieces.headings_at(0.0 * ones)[1:] - pieces.headings_at(ones)[:-1]
    turns = (turns + np.pi) % (2.0 * np.pi) - np.pi
    taken = radius_mm * np.tan(np.clip(turns, 0.0, MOST_TURN) / 2.0)
    beside = pieces.lengths() - 2.0 * pieces.half_sweeps() * radius_mm
    beside -= np.append(taken, 0.0) + np.append(0.0, taken)
    lengths = np.zeros(2 * len(pieces) - 1)
    lengths[0::2] = np.maximum(beside, 0.0)
    lengths[1::2] = np.maximum(-turns, 0.0) * radius_mm
    return _Steps(lengths, pieces, turns)


def _foot(steps: _Steps, row: int, share: float, radius_mm: float) -> Point:
    """The place of the wall at a share of one step."""
    piece, at_corner = divmod(row, 2)
    along = np.full(len(steps.path), 1.0 if at_corner else share)
    heading = float(steps.path.headings_at(along)[piece])
    if at_corner:
        heading += share * float(steps.turns[piece])
    x, y = steps.path.points_at(along)[piece].tolist()
    return x - radius_mm * float(np.sin(heading)), y + radius_mm * float(np.cos(heading))
