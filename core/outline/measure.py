"""Where points lie against Loops and Regions: inside or not, and how far from the edge; exact for arcs.

A flattening within LOOK_TOLERANCE finds, by a tree, the few segments that can be nearest to a point;
the exact formulas of curve.py decide among them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Self

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from core.errors import BadShape
from core.outline.curve import Flags, cross, distances_between, equations_at, joined, picked
from core.outline.loop import Loop
from core.outline.polygon import to_polygon, without_crossings
from core.outline.region import Regions
from core.outline.segments import Floats, Segments

#: mm; a point nearer to an edge than twice this is judged by the exact curve. Coarse enough to be quick.
LOOK_TOLERANCE = 1e-3
#: points by segments held in memory at once
CHUNK = 1 << 20


def segments_of(loops: Sequence[Loop]) -> Segments:
    """The segments of all Loops, one after another."""
    return joined([loop.segments() for loop in loops])


def all_loops(regions: Regions) -> tuple[Loop, ...]:
    """Outer Loops and openings of all Regions."""
    return tuple(loop for region in regions for loop in region.loops())


@dataclass(frozen=True, eq=False)
class Nearest:
    """Loops made ready to be asked again and again how far they are; BadShape when there is none."""

    segments: Segments
    lines: NDArray[np.object_]
    tree: shapely.STRtree

    @classmethod
    def of(cls, loops: Sequence[Loop]) -> Self:
        """Of at least one Loop."""
        if not loops:
            raise BadShape("there is no distance to nothing")
        segments = segments_of(loops)
        lines = _flat_lines(segments)
        return cls(segments, lines, shapely.STRtree(lines))

    def distances(self, points: Floats) -> Floats:
        """(n,) mm, unsigned, from each of points (n, 2) to the nearest place of any Loop; exact for arcs."""
        spots = np.asarray(shapely.points(points))
        (which, near) = self.tree.query_nearest(spots, all_matches=False)
        limits = np.empty(len(points))
        limits[which] = shapely.distance(spots[which], self.lines[near])
        rows, found = self.tree.query(spots, predicate="dwithin", distance=limits + 2.0 * LOOK_TOLERANCE)
        exact = distances_between(picked(self.segments, found), points[rows])
        answer = np.full(len(points), np.inf)
        np.minimum.at(answer, rows, exact)
        return answer


def distances(loops: Sequence[Loop], points: Floats) -> Floats:
    """(n,) mm, unsigned, from each of points (n, 2) to the nearest place of any Loop; exact for arcs.

    BadShape when there is no Loop.
    """
    return Nearest.of(loops).distances(points)


def _flat_lines(segments: Segments) -> np.ndarray:
    counts = segments.steps(LOOK_TOLERANCE)
    rows = np.repeat(np.arange(len(segments)), counts + 1)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts + 1) - counts - 1, counts + 1)
    corners = picked(segments, rows).points_at(within / counts[rows])
    return np.asarray(shapely.linestrings(corners, indices=rows))


@dataclass(frozen=True, eq=False)
class Inside:
    """Regions made ready to be asked again and again: flattened once; of each its box, mm, and segments."""

    solid: BaseGeometry
    edge: BaseGeometry
    boxes: Floats
    segments: tuple[Segments, ...]

    @classmethod
    def of(cls, regions: Regions) -> Self:
        """Of any Regions, of none too."""
        if not regions:
            return cls(shapely.Polygon(), shapely.Polygon(), np.empty((0, 4)), ())
        parts = np.asarray(shapely.get_parts(to_polygon(regions, LOOK_TOLERANCE)))
        solid = shapely.union_all(without_crossings(parts))
        edge = shapely.boundary(solid)
        shapely.prepare([solid, edge])
        boxes = np.array([region.outer.bounds() for region in regions])
        return cls(solid, edge, boxes, tuple(segments_of(region.loops()) for region in regions))

    def holds(self, points: Floats) -> Flags:
        """(n,) whether each of points (n, 2) lies inside a Region, exact for arcs; on the edge either."""
        if not self.segments or not len(points):
            return np.zeros(len(points), dtype=np.bool_)
        answer = shapely.contains_xy(self.solid, points[:, 0], points[:, 1])
        close = np.flatnonzero(shapely.dwithin(self.edge, shapely.points(points), 2.0 * LOOK_TOLERANCE))
        answer[close] = False
        for box, segments in zip(self.boxes, self.segments, strict=True):
            own = close[((points[close] >= box[:2]) & (points[close] <= box[2:])).all(axis=1)]
            answer[own] |= _wound(segments, points[own])
        return np.asarray(answer)


def contains(regions: Regions, points: Floats) -> Flags:
    """(n,) whether each of points (n, 2) lies inside a Region, exact for arcs; on the edge either."""
    return Inside.of(regions if len(points) else ()).holds(points)


def _wound(segments: Segments, points: Floats) -> Flags:
    """(n,) whether the segments, closed Loops all, wind round each of points (n, 2)."""
    size = max(CHUNK // max(len(segments), 1), 1)
    parts = [_wound_at_once(segments, points[at : at + size]) for at in range(0, len(points), size)]
    return np.concatenate(parts) if parts else np.zeros(0, dtype=np.bool_)


def _wound_at_once(segments: Segments, points: Floats) -> Flags:
    """Crossings of a ray to +x with the chords, and a turn more for every cap that holds the point."""
    rows = np.tile(np.arange(len(segments)), len(points))
    each = picked(segments, rows)
    at = np.repeat(points, len(segments), axis=0)
    left = cross(each.chords(), at - each.starts)
    up = (each.starts[:, 1] <= at[:, 1]) & (each.ends[:, 1] > at[:, 1]) & (left > 0.0)
    down = (each.starts[:, 1] > at[:, 1]) & (each.ends[:, 1] <= at[:, 1]) & (left < 0.0)
    inner = equations_at(each, at)
    cap = np.where((each.bulges > 0.0) & (left <= 0.0) & (inner > 0.0), 1, 0)
    cap -= np.where((each.bulges < 0.0) & (left >= 0.0) & (inner < 0.0), 1, 0)
    turns = (up.astype(np.int64) - down + cap).reshape(len(points), len(segments)).sum(axis=1)
    return np.asarray(turns > 0)


def signed_distances(regions: Regions, points: Floats) -> Floats:
    """(n,) mm from each of points (n, 2) to the nearest edge, positive inside; BadShape without Regions."""
    far = distances(all_loops(regions), points)
    return np.asarray(np.where(contains(regions, points), far, -far))
