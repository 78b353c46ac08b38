"""A closed path unrolled: what lies at a distance along it, lap after lap."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Self

import numpy as np

from core.findings import Point
from core.outline.loop import Loop
from core.outline.segments import Floats, Segments

#: mm; no move is made shorter. Small controllers turn a shorter arc into a whole circle (NISTIR 6556
#: allows it; public controller sources do it), and what is dropped moves the path by less than this.
SHORTEST_MM = 2e-3

#: mm; a segment of a part that is shorter says nothing about its shape, but its direction misleads an offset
#: by thousands of times its length. A tenth of the promise of one outline.
SPECK_MM = 1e-3

#: mm; an arc that bellies out by less is a line: its radius would be more than a controller's numbers hold.
FLATTEST_MM = 1e-4


@dataclass(frozen=True, eq=False)
class Places:
    """points (n, 2) mm, headings (n,) rad of travel, curvatures (n,) 1/mm, positive to the left."""

    points: Floats
    headings: Floats
    curvatures: Floats

    def to_left(self, distance: float) -> Floats:
        """(n, 2) mm: the same places moved to the left of travel."""
        normals = np.column_stack((-np.sin(self.headings), np.cos(self.headings)))
        return np.asarray(self.points + distance * normals)


@dataclass(frozen=True, eq=False)
class Trail:
    """Where a run along the path goes: distances (n + 1,) mm, points (n + 1, 2) mm, bulges (n,)."""

    distances: Floats
    points: Floats
    bulges: Floats


def tidied(loop: Loop) -> Loop:
    """No arc beyond a half turn or all but straight, no segment shorter than SHORTEST_MM.

    Moves the edge by less than SHORTEST_MM.
    """
    segments = _straightened(loop.segments())
    wide = np.abs(segments.bulges) > 1.0
    middles = segments.midpoints()
    half = np.tan(np.arctan(segments.bulges) / 2.0)
    counts = np.where(wide, 2, 1)
    rows = np.repeat(np.arange(len(segments)), counts)
    second = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts) == 1
    points = np.where(second[:, None], middles[rows], loop.points[rows])
    bulges = np.where(wide[rows], half[rows], segments.bulges[rows])
    return _without_crumbs(points, bulges, SHORTEST_MM)


def without_specks(loop: Loop) -> Loop:
    """The Loop without segments shorter than SPECK_MM, which moves its edge by less; mostly itself."""
    return (
        loop
        if loop.segments().chord_lengths().min() >= SPECK_MM
        else _without_crumbs(loop.points, loop.bulges, SPECK_MM)
    )


def _straightened(segments: Segments) -> Segments:
    bellies = np.abs(segments.bulges) * segments.chord_lengths() / 2.0
    return Segments(segments.starts, segments.ends, np.where(bellies < FLATTEST_MM, 0.0, segments.bulges))


def _without_crumbs(points: Floats, bulges: Floats, least: float) -> Loop:
    chords = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    if (chords >= least).all():
        return Loop(points, bulges)
    kept: list[int] = []
    for index in range(len(points)):
        far = not kept or np.hypot(*(points[index] - points[kept[-1]])) >= least
        if far:
            kept.append(index)
    while len(kept) > 2 and np.hypot(*(points[kept[-1]] - points[kept[0]])) < least:
        kept.pop()
    if len(kept) < 2:
        return Loop(points, bulges)
    spans = pairwise([*kept, len(points)])
    longest = [first + int(np.argmax(chords[first:following])) for first, following in spans]
    return Loop(points[kept], bulges[longest])


@dataclass(frozen=True, eq=False)
class Unrolled:
    """A tidied Loop with the distance (n + 1,) mm at which each of its segments begins, and its length."""

    loop: Loop
    segments: Segments
    begins: Floats
    length: float

    @classmethod
    def of(cls, loop: Loop) -> Self:
        """Unrolled from the Loop's first point."""
        tidy = tidied(loop)
        segments = tidy.segments()
        begins = np.concatenate(([0.0], np.cumsum(segments.lengths())))
        return cls(tidy, segments, begins, float(begins[-1]))

    def reversed(self) -> "Unrolled":
        """The same path run the other way; its first point stays first."""
        return Unrolled.of(self.loop.reversed())

    def _rows(self, distances: Floats) -> tuple[Segments, Floats]:
        within = np.mod(distances, self.length)
        rows = np.clip(np.searchsorted(self.begins, within, side="right") - 1, 0, len(self.segments) - 1)
        spans = np.diff(self.begins)[rows]
        fractions = np.clip((within - self.begins[rows]) / spans, 0.0, 1.0)
        base = self.segments
        return Segments(base.starts[rows], base.ends[rows], base.bulges[rows]), fractions

    def at(self, distances: Floats) -> Places:
        """The places at distances (n,) mm from the first point, on any lap."""
        segments, fractions = self._rows(np.asarray(distances, dtype=np.float64))
        curvatures = 2.0 * np.sin(segments.half_sweeps()) / segments.chord_lengths()
        return Places(segments.points_at(fractions), segments.headings_at(fractions), curvatures)

    def points_at(self, distances: Floats) -> Floats:
        """The points (n, 2) mm alone at distances (n,) mm from the first one, on any lap."""
        segments, fractions = self._rows(distances)
        return segments.points_at(fractions)

    def snapped(self, distances: Floats) -> Floats:
        """Distances (n,) mm, those within SHORTEST_MM of a segment's end moved onto it."""
        laps = np.floor(distances / self.length)
        within = distances - laps * self.length
        after = np.clip(np.searchsorted(self.begins, within), 1, len(self.begins) - 1)
        low, high = self.begins[after - 1], self.begins[after]
        nearest = np.where(within - low < high - within, low, high)
        near = np.abs(nearest - within) < SHORTEST_MM
        return np.where(near, nearest + laps * self.length, distances)

    def trail(self, distances: Floats) -> Trail:
        """The run through all of distances (m,) mm, rising, cut at each of them and at segment ends."""
        first, last = float(distances[0]), float(distances[-1])
        laps = np.arange(np.floor(first / self.length), np.floor(last / self.length) + 1.0)
        ends = (laps[:, None] * self.length + self.begins[None, :-1]).ravel()
        inner = ends[(ends > first + SHORTEST_MM) & (ends < last - SHORTEST_MM)]
        knots = _apart(np.sort(np.concatenate((self.snapped(distances[1:-1]), inner))), first, last)
        middles = (knots[:-1] + knots[1:]) / 2.0
        segments, _ = self._rows(middles)
        shares = np.diff(knots) / segments.lengths()
        bulges = np.tan(np.arctan(segments.bulges) * shares)
        return Trail(knots, self.at(knots).points, bulges)

    def nearest(self, point: Point) -> float:
        """The distance along the path, mm, of its place nearest to point."""
        return float(self.nearest_to(np.array([point], dtype=np.float64))[0])

    def nearest_to(self, points: Floats) -> Floats:
        """(m,) mm: the distances along the path of its places nearest to points (m, 2) mm."""
        if not len(points):
            return np.empty(0)
        count, base = len(self.segments), self.segments
        rows = np.tile(np.arange(count), len(points))
        each = Segments(base.starts[rows], base.ends[rows], base.bulges[rows])
        places = np.repeat(points, count, axis=0)
        fractions = _nearest_fractions(each, places)
        off = each.points_at(fractions) - places
        gaps = np.hypot(off[:, 0], off[:, 1]).reshape(len(points), count)
        row = np.argmin(gaps, axis=1)
        share = fractions.reshape(len(points), count)[np.arange(len(points)), row]
        return np.asarray((self.begins[row] + share * np.diff(self.begins)[row]) % self.length)


def _apart(knots: Floats, first: float, last: float) -> Floats:
    """First, the knots at least SHORTEST_MM from each other and from both ends, last."""
    kept = [first]
    for knot in knots.tolist():
        if knot - kept[-1] >= SHORTEST_MM / 2.0 and last - knot >= SHORTEST_MM / 2.0:
            kept.append(knot)
    return np.array([*kept, last])


def _nearest_fractions(segments: Segments, place: Floats) -> Floats:
    """(n,) the share of each segment at its place nearest to place (n, 2) mm."""
    chords = segments.chords()
    straight = ((place - segments.starts) * chords).sum(axis=1) / (chords**2).sum(axis=1)
    half = segments.half_sweeps()
    curved = segments.bulges != 0.0
    with np.errstate(divide="ignore", invalid="ignore"):
        centres = segments.centres()
        out, start = place - centres, segments.starts - centres
        turn = np.arctan2(start[:, 0] * out[:, 1] - start[:, 1] * out[:, 0], (start * out).sum(axis=1))
        # Angles are taken about the arc's middle, so that what lies off the arc clips to its nearer end.
        off = (turn - half + np.pi) % (2.0 * np.pi) - np.pi
        along = 0.5 + off / (2.0 * half)
    return np.asarray(np.clip(np.where(curved, along, straight), 0.0, 1.0))
