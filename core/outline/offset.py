"""Regions grown and shrunk by a disc, as lines and arcs: A + disc and A - disc of Minkowski.

1. Every segment is moved sideways (a line stays a line, an arc gets another radius; one that would turn
   inside out vanishes), every corner that gapes gets a join arc about it: the candidates. All of the result's
   edge lies on candidates (H. Federer, Geometric Measure Theory, 1969: Steiner's formula counts the same).
2. The candidates are cut where they meet (noding.py).
3. Between each segment and its candidate lies a band, between corner and join arc a sector; flattened along
   the pieces, shapely adds them to the Regions, or takes them off.
4. The rings it gives are told again as lines and arcs (knit.py).
"""

from dataclasses import dataclass

import numpy as np
import shapely

from core.errors import BadShape
from core.outline.crossing import SNAP
from core.outline.curve import Ints, curvatures, joined, lefts, picked
from core.outline.knit import knitted
from core.outline.noding import flat_lines, noded
from core.outline.polygon import without_crossings
from core.outline.region import Regions
from core.outline.segments import Floats, Segments
from core.outline.weave import FLAT, Cloth

#: rad; a turn of nearly pi is a spike or a slit: a crumb of an edge can turn one into the other, so both get
#: a join arc. That of a slit does no harm, all of it is within reach of the corner.
SPIKE = 0.05

#: Corners that a band has at least; with fewer there is nothing between a source and its candidate.
LEAST_CORNERS = 3


def grown(regions: Regions, distance_mm: float) -> Regions:
    """The Regions and all within distance_mm (>= 0, else BadShape) of them: outside corners become arcs."""
    if not distance_mm >= 0.0:
        raise BadShape(f"a distance to grow by is not below 0: {distance_mm}")
    if distance_mm == 0.0 or not regions:
        return regions
    fringe = Fringe.of(regions, -distance_mm)
    return knitted(shapely.union_all([*fringe.solids(regions), *fringe.bands()]), fringe.cloth)


def shrunk(regions: Regions, distance_mm: float) -> Regions:
    """What of the Regions is at least distance_mm (>= 0, else BadShape) from all outside them."""
    if not distance_mm >= 0.0:
        raise BadShape(f"a distance to shrink by is not below 0: {distance_mm}")
    if distance_mm == 0.0 or not regions:
        return regions
    fringe = Fringe.of(regions, distance_mm)
    inside = shapely.union_all(fringe.solids(regions))
    return knitted(shapely.difference(inside, shapely.union_all(fringe.bands())), fringe.cloth)


@dataclass(frozen=True, eq=False)
class Corners:
    """The corner at the start of each segment: which comes before it, and the turn there, rad in -pi..pi."""

    before: Ints
    turns: Floats


def corners_of(regions: Regions, segments: Segments) -> Corners:
    """The corners of all Loops, in the order of their segments."""
    sizes = [len(loop.bulges) for region in regions for loop in region.loops()]
    index = np.arange(len(segments))
    firsts = np.cumsum(sizes) - sizes
    before = index - 1
    before[firsts] = firsts + sizes - 1
    unit = np.ones(len(segments))
    leaving, arriving = segments.headings_at(0.0 * unit), segments.headings_at(unit)[before]
    return Corners(before, (leaving - arriving + np.pi) % (2.0 * np.pi) - np.pi)


def moved(segments: Segments, left: float) -> tuple[Segments, Floats]:
    """Each segment moved left mm to its left (right where negative), and its new chord, mm.

    A chord below 0 is that of an arc that turns inside out.

    An arc of curvature k keeps its sweep and gets 1 - k left times its radius.
    """
    unit = np.ones(len(segments))
    starts = segments.starts + left * _normals(segments.headings_at(0.0 * unit))
    ends = segments.ends + left * _normals(segments.headings_at(unit))
    size = (1.0 - curvatures(segments) * left) * segments.chord_lengths()
    return Segments(starts, ends, segments.bulges), np.asarray(size)


def _normals(headings: Floats) -> Floats:
    return np.asarray(lefts(np.column_stack((np.cos(headings), np.sin(headings)))))


def past_centres(segments: Segments, left: float) -> Floats:
    """(n, 2) mm: beyond the centre of each arc, half as far as the disc reaches, so that bands overlap.

    Of arcs that turn inside out; all that it adds is within abs(left) of the arc's ends.
    """
    middles, centres = segments.midpoints(), segments.centres()
    share = 1.0 + (np.abs(left * curvatures(segments)) - 1.0) / 2.0
    return np.asarray(middles + share[:, None] * (centres - middles))


def _snapped(points: Floats, nodes: Floats) -> Floats:
    """Each of points (n, 2) moved onto a node (m, 2) within SNAP if there is one."""
    if not (len(points) and len(nodes)):
        return points
    tree = shapely.STRtree(np.asarray(shapely.points(nodes)))
    rows, found = tree.query_nearest(
        np.asarray(shapely.points(points)), max_distance=2.0 * SNAP, all_matches=False
    )
    moved_on = points.copy()
    moved_on[rows] = nodes[found]
    return moved_on


def join_arcs(segments: Segments, corners: Corners, left: float) -> tuple[Segments, Ints]:
    """Arcs about the corners that gape on that side, and the segment each stands before."""
    outward = corners.turns * -np.sign(left)  # the right gapes at a left turn, the left at a right turn
    gapes = np.flatnonzero((outward > 0.0) | (outward < SPIKE - np.pi))
    turn = outward[gapes] % (2.0 * np.pi) * -np.sign(left)
    shifted, _ = moved(segments, left)
    starts, ends = shifted.ends[corners.before[gapes]], shifted.starts[gapes]
    return Segments(starts, ends, np.tan(turn / 4.0)), gapes


@dataclass(frozen=True, eq=False)
class Fringe:
    """Sources of one side, their candidates as cloth, and what each candidate is the far edge of."""

    segments: Segments
    left: float
    kept: Ints
    corners: Ints
    cloth: Cloth
    lines: list[Floats]

    @classmethod
    def of(cls, regions: Regions, left: float) -> "Fringe":
        """The fringe left mm to the left of every edge of the Regions."""
        segments = joined([loop.segments() for region in regions for loop in region.loops()])
        shifted, size = moved(segments, left)
        kept = np.flatnonzero(size > SNAP)
        joins, corners = join_arcs(segments, corners_of(regions, segments), left)
        wide = np.flatnonzero(joins.chord_lengths() > SNAP)
        candidates = joined([picked(shifted, kept), picked(joins, wide)])
        cloth = Cloth.of(candidates, noded(candidates))
        return cls(segments, left, kept, corners[wide], cloth, flat_lines(segments, FLAT))

    def bands(self) -> list[shapely.Geometry]:
        """Polygons between each segment or corner and its candidate."""
        lines, first = self.lines, len(self.kept)
        rings = [
            *((lines[k], self.cloth.way(at)[::-1]) for at, k in enumerate(self.kept.tolist())),
            *((lines[k], tip[None, :]) for k, tip in self._tips()),
            *(
                (self.segments.starts[k : k + 1], self.cloth.way(first + at))
                for at, k in enumerate(self.corners.tolist())
            ),
        ]
        return without_crossings(_polygons([ring for ring in map(np.concatenate, rings) if _is_wide(ring)]))

    def _tips(self) -> list[tuple[int, Floats]]:
        """Segments without candidate, and the point on which their band closes."""
        gone = np.setdiff1d(np.arange(len(self.segments)), self.kept)
        segments = picked(self.segments, gone)
        shifted, size = moved(segments, self.left)
        ends = np.vstack((self.cloth.pieces.segments.starts, self.cloth.pieces.segments.ends))
        tips = np.where(
            (size < -SNAP)[:, None], past_centres(segments, self.left), _snapped(shifted.starts, ends)
        )
        return list(zip(gone.tolist(), tips, strict=True))

    def solids(self, regions: Regions) -> list[shapely.Geometry]:
        """The Regions, flattened as the bands are."""
        first = 0
        found = []
        for region in regions:
            rings = []
            for loop in region.loops():
                rings.append(
                    np.concatenate([line[:-1] for line in self.lines[first : first + len(loop.bulges)]])
                )
                first += len(loop.bulges)
            found.append(shapely.Polygon(rings[0], rings[1:]))
        return without_crossings(np.array(found))


def _is_wide(ring: Floats) -> bool:
    """Whether a band covers anything: one whose candidate has shrunk to a point in the noding does not."""
    return len(ring) >= LEAST_CORNERS


def _polygons(rings: list[Floats]) -> np.ndarray:
    sizes = [len(ring) for ring in rings]
    rows = np.repeat(np.arange(len(sizes)), sizes)
    return np.asarray(shapely.polygons(shapely.linearrings(np.concatenate(rings), indices=rows)))
