"""Places along the outer edges of parts, and the runs of edge that are fit to be touched or sighted along.

A run is even: no corner in it, bent no tighter than it is told, clear of tabs, with room before it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.findings import Point
from core.outline.loop import Loop
from core.outline.measure import all_loops, distances
from core.outline.region import Regions
from core.outline.segments import Floats, Segments

#: mm between two places, about; a part of a stall is some 500 mm round.
STEP_MM = 1.0
#: Share of the room asked for that a place must have at least: an edge that bends away has all of it.
ROOM_SHARE = 0.98
#: Places of one piece of edge, however short it is.
LEAST_PLACES = 12

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class EdgePlaces:
    """Evenly along one outer edge, counter-clockwise: points (n, 2) mm, normals (n, 2) pointing outward.

    turns (n,) rad: how far the edge turns from each place to the next; step mm: how far they are apart.
    """

    points: Floats
    normals: Floats
    turns: Floats
    step: float

    @classmethod
    def of(cls, loop: Loop) -> "EdgePlaces":
        """Along a counter-clockwise Loop."""
        segments = loop.segments()
        begins = np.concatenate(([0.0], np.cumsum(segments.lengths())))
        count = max(LEAST_PLACES, int(np.ceil(begins[-1] / STEP_MM)))
        along = (np.arange(count) + 0.5) * begins[-1] / count
        rows = np.clip(np.searchsorted(begins, along, side="right") - 1, 0, len(segments) - 1)
        shares = np.clip((along - begins[rows]) / np.diff(begins)[rows], 0.0, 1.0)
        chosen = Segments(segments.starts[rows], segments.ends[rows], segments.bulges[rows])
        headings = chosen.headings_at(shares)
        turns = np.angle(np.exp(1j * (np.roll(headings, -1) - headings)))
        normals = np.column_stack((np.sin(headings), -np.cos(headings)))
        return cls(chosen.points_at(shares), normals, np.asarray(turns), float(begins[-1] / count))

    @property
    def length(self) -> float:
        """Of the whole edge, mm."""
        return self.step * len(self.points)

    def half(self, length_mm: float) -> int:
        """How many places a run of this length reaches to each side of its middle."""
        return max(1, int(np.ceil(length_mm / 2.0 / self.step - 1e-9)))

    def window(self, middle: int, length_mm: float) -> Ints:
        """The places of the run with its middle at this place, in order."""
        half = self.half(length_mm)
        return np.asarray(np.arange(middle - half, middle + half + 1) % len(self.points))


@dataclass(frozen=True)
class RunRule:
    """What a run is to be: its length, how tight a bend may be, the room before it; mm.

    tabs: the middle of each tab on the wall, and how far a run stays from it.
    """

    length_mm: float
    least_radius_mm: float
    room_mm: float
    tabs: tuple[tuple[Point, float], ...] = ()


def middles_of_runs(places: EdgePlaces, parts: Regions, rule: RunRule) -> Ints:
    """Places at which a run may have its middle; parts: all that lies there."""
    good = np.abs(places.turns) <= places.step / rule.least_radius_mm
    good &= np.roll(good, 1)
    good &= _has_room(places, parts, rule.room_mm)
    for at, away in rule.tabs:
        good &= np.hypot(*(places.points - np.array(at)).T) >= away
    return np.flatnonzero(_all_along(good, places.half(rule.length_mm)))


def _has_room(places: EdgePlaces, parts: Regions, room_mm: float) -> Flags:
    before = places.points + room_mm * places.normals
    return np.asarray(distances(all_loops(parts), before) >= ROOM_SHARE * room_mm)


def _all_along(good: Flags, half: int) -> Flags:
    """(n,) whether all places up to half of them to each side are good, round and round."""
    if 2 * half + 1 > good.size:
        return np.zeros(good.size, dtype=bool)
    held = good.copy()
    for shift in range(1, half + 1):
        held &= np.roll(good, shift) & np.roll(good, -shift)
    return held
