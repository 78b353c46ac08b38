"""Places along a Loop by their distance from its first point: a place, another first point, pieces."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.errors import BadShape
from core.outline.curve import part_between, picked
from core.outline.loop import Loop, frozen_copy
from core.outline.segments import Floats, Segments

#: mm; a cut nearer to a corner than this falls on it, so that no piece is shorter than rounding can tell.
ON_CORNER = 1e-9


@dataclass(frozen=True)
class Place:
    """A point, mm, and the direction of travel there, rad."""

    point: tuple[float, float]
    heading: float


@dataclass(frozen=True, eq=False)
class Run:
    """An open piece of a Loop: points (n + 1, 2) mm, bulges (n,), read-only copies."""

    points: Floats
    bulges: Floats

    def __post_init__(self) -> None:
        object.__setattr__(self, "points", frozen_copy(self.points))
        object.__setattr__(self, "bulges", frozen_copy(self.bulges))

    def segments(self) -> Segments:
        """The segments as arrays."""
        return Segments.along(self.points, self.bulges)

    def length(self) -> float:
        """Length of the whole piece, mm."""
        return float(self.segments().lengths().sum())


def place_at(loop: Loop, s_mm: float) -> Place:
    """The place s_mm along the Loop from its first point, round and round; at a corner the way it leaves."""
    segments = loop.segments()
    index, fraction = _found(segments, s_mm)
    here = picked(segments, np.array([index]))
    x, y = here.points_at(np.array([fraction]))[0]
    return Place((float(x), float(y)), float(here.headings_at(np.array([fraction]))[0]))


def _found(segments: Segments, s_mm: float) -> tuple[int, float]:
    """The segment and the fraction of it at s_mm; never the very end of a segment."""
    ends = np.cumsum(segments.lengths())
    way = s_mm % ends[-1]
    index = int(np.searchsorted(ends, way + ON_CORNER, side="right"))
    if index == len(segments):
        return 0, 0.0
    start = float(ends[index - 1]) if index else 0.0
    past = way - start
    return index, 0.0 if past <= ON_CORNER else float(past / (ends[index] - start))


def started_at(loop: Loop, s_mm: float) -> Loop:
    """The same shape with its first point s_mm along; every other corner is kept to the last bit."""
    index, fraction = _found(loop.segments(), s_mm)
    if fraction == 0.0:
        return Loop(np.roll(loop.points, -index, axis=0), np.roll(loop.bulges, -index))
    first, last = _halves(loop.segments(), index, fraction)
    points = np.vstack((first.ends, np.roll(loop.points, -index - 1, axis=0)))
    others = np.roll(loop.bulges, -index - 1)[:-1]
    return Loop(points, np.concatenate((last.bulges, others, first.bulges)))


def _halves(segments: Segments, index: int, fraction: float) -> tuple[Segments, Segments]:
    whole = picked(segments, np.array([index]))
    cut = np.array([fraction])
    point = whole.points_at(cut)
    first = Segments(whole.starts, point, part_between(whole, 0.0 * cut, cut))
    return first, Segments(point, whole.ends, part_between(whole, cut, 0.0 * cut + 1.0))


def pieces(loop: Loop, cuts: Sequence[float]) -> tuple[Run, ...]:
    """The Loop cut at rising places (mm from its first point, within one round): from each cut to the next.

    The last piece runs on to the first cut; no cut gives the whole Loop as one closed Run.
    BadShape when the cuts do not rise or span more than one round.
    """
    ways = np.asarray(cuts, dtype=np.float64)
    if np.any(np.diff(ways) <= 0.0) or (ways.size and ways[-1] - ways[0] >= loop.length()):
        raise BadShape("cuts along a Loop rise, within one round")
    turned = started_at(loop, float(ways[0])) if ways.size else loop
    ring = Run(np.vstack((turned.points, turned.points[:1])), turned.bulges)
    found = []
    for way in np.flip(ways[1:] - ways[0] if ways.size else ways):
        ring, tail = _cut(ring, float(way))
        found.append(tail)
    return (ring, *reversed(found))


def _cut(run: Run, way: float) -> tuple[Run, Run]:
    segments = run.segments()
    index, fraction = _found(segments, way)
    if fraction == 0.0:
        return (
            Run(run.points[: index + 1], run.bulges[:index]),
            Run(run.points[index:], run.bulges[index:]),
        )
    first, last = _halves(segments, index, fraction)
    before = Run(
        np.vstack((run.points[: index + 1], first.ends)), np.append(run.bulges[:index], first.bulges)
    )
    after = Run(
        np.vstack((last.starts, run.points[index + 1 :])), np.append(last.bulges, run.bulges[index + 1 :])
    )
    return before, after
