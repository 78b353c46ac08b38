"""Straight ways out of a part's slot: from where its passes run to the stock's edge or to the next part's.

Each is laid along an axis of the stock, from the outermost place of the part on its line; what it meets first
is where it ends. A direction is one of four; points are turned so that it becomes the first axis.
"""

from dataclasses import dataclass
from enum import Enum

import numpy as np

from core.findings import Point
from core.outline.segments import Floats
from core.sheet.setting import Side

#: Places tried across the part for each direction, and the share of its width at both ends that is not.
PLACES, MARGIN = 21, 0.08


class Way(Enum):
    """A direction by the side of the stock it leads to; its matrix is its own inverse."""

    LEFT = (Side.LEFT, ((-1.0, 0.0), (0.0, 1.0)))
    RIGHT = (Side.RIGHT, ((1.0, 0.0), (0.0, 1.0)))
    NEAR = (Side.NEAR, ((0.0, -1.0), (-1.0, 0.0)))
    FAR = (Side.FAR, ((0.0, 1.0), (1.0, 0.0)))

    def turned(self, points: Floats) -> Floats:
        """(n, 2) mm with this direction as the first axis; turned twice they are what they were."""
        return np.asarray(points @ np.array(self.value[1]))


#: Ways that together lead right across the sheet.
ACROSS = ((Way.LEFT, Way.RIGHT), (Way.NEAR, Way.FAR))


@dataclass(frozen=True)
class Ray:
    """From part `own` to part `other` (-1: the stock's edge), mm in the frame."""

    own: int
    other: int
    start: Point
    end: Point

    @property
    def length_mm(self) -> float:
        """How far it runs, mm."""
        return float(np.hypot(self.end[0] - self.start[0], self.end[1] - self.start[1]))


@dataclass(frozen=True, eq=False)
class Field:
    """rings: the passes' way round each part, closed (k + 1, 2) mm; size: the stock's, mm."""

    rings: tuple[Floats, ...]
    size: tuple[float, float]

    def rays(self, own: int, way: Way) -> tuple[Ray, ...]:
        """Every ray tried from this part in this direction, from one side of it to the other."""
        rings = [way.turned(ring) for ring in self.rings]
        low, high = float(rings[own][:, 1].min()), float(rings[own][:, 1].max())
        beside = low + (high - low) * np.linspace(MARGIN, 1.0 - MARGIN, PLACES)
        starts = _crossings(rings[own], beside)[1]
        edge = float(np.max(way.turned(np.array([(0.0, 0.0), self.size]))[:, 0]))
        ends, others = np.full(PLACES, edge), np.full(PLACES, -1)
        for index, ring in enumerate(rings):
            if index == own or ring[:, 0].max() < starts.min() or _misses(ring[:, 1], low, high):
                continue
            first, last = _crossings(ring, beside)
            meets = (last > starts) & (first < ends)
            ends, others = np.where(meets, first, ends), np.where(meets, index, others)
        made = zip(starts, ends, others.tolist(), beside, strict=True)
        return tuple(
            Ray(own, other, _point(way, start, place), _point(way, end, place))
            for start, end, other, place in made
            if end > start
        )


def _misses(beside: Floats, low: float, high: float) -> bool:
    return bool(beside.max() < low or beside.min() > high)


def _crossings(ring: Floats, beside: Floats) -> tuple[Floats, Floats]:
    """(n,) mm: the first and the last place along the first axis where the ring crosses each line.

    inf and -inf where it does not.
    """
    one, other = ring[:-1], ring[1:]
    above, after = one[:, 1] > beside[:, None], other[:, 1] > beside[:, None]
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (beside[:, None] - one[:, 1]) / (other[:, 1] - one[:, 1])
    along = one[:, 0] + share * (other[:, 0] - one[:, 0])
    crosses = above != after
    return np.where(crosses, along, np.inf).min(axis=1), np.where(crosses, along, -np.inf).max(axis=1)


def _point(way: Way, along: float, beside: float) -> Point:
    x, y = way.turned(np.array([(along, beside)]))[0].tolist()
    return float(x) + 0.0, float(y) + 0.0
