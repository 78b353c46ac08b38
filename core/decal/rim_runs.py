"""Where a film has a rim: a dark line along the part's edge, with bare part on its inner side.

A point of the film's inner edge belongs to a rim where, on the shortest way out to the part's edge, all is
film and no more than twice the widest rim, and where it runs along that edge. Runs of such points are a rim
when their middle width is no more than the widest one.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians

import numpy as np
import shapely

from core.findings import Point
from core.outline.curve import Flags, Ints, part_between, picked
from core.outline.loop import Loop
from core.outline.polygon import to_solid
from core.outline.region import Region, Regions
from core.outline.segments import Floats, Segments

#: mm between two places that are looked at along an edge; a run's end is found to half of it.
STEP_MM = 0.2
#: mm that polygons stray from arcs, and within which another film adjoins.
FLATNESS_MM, ADJOINING_MM = 0.002, 0.02
#: mm; an edge nearer to the part's is that edge. Thinner lines are dragged by any blade.
LEAST_WIDTH_MM = 0.1
#: mm2; a piece of edge whose square is less is a point.
NO_LENGTH_MM2 = 1e-18
#: The inner edge runs along the part's within 45 degrees.
ALONG = cos(radians(45.0))
#: A run is a rim where it is longer than so many of its widths; shorter ones are ends of lines.
LEAST_LENGTHS = 2.0
#: Times the widest rim that one place of a rim may be wide.
WIDEST_TIMES = 2.0


@dataclass(frozen=True)
class RimRun:
    """A stretch of a film's edge, the film on its left, from start to end; frame, mm.

    start and end are one where it is a ring; width_mm is the rim's middle width.
    """

    start: Point
    end: Point
    width_mm: float
    length_mm: float


@dataclass(frozen=True, eq=False)
class RimFound:
    """A film's patch, its edge cut where runs of the rim begin and end, and these runs.

    chosen (n,) has one word for each segment of each Loop, in their order.
    """

    patch: Regions
    chosen: Flags
    runs: tuple[RimRun, ...]


@dataclass(frozen=True, eq=False)
class Ground:
    """What a rim is looked for on: the film's patch, the part's edge, and each other film, as polygons.

    Films are a little larger than they are, so that what runs along their edge lies in them.
    """

    film: shapely.Geometry
    edge: shapely.Geometry
    others: tuple[shapely.Geometry, ...]
    widest_mm: float

    def widths(self, points: Floats, headings: Floats) -> Floats:
        """(n,) mm: how wide the rim is at each place of the film's edge, travelled so; inf for no rim."""
        widths = np.full(len(points), np.inf)
        # Most edges adjoin other films, and the way out from there need not be looked for.
        adjoins = [shapely.intersects_xy(other, points[:, 0], points[:, 1]) for other in self.others]
        free = np.flatnonzero(~np.any(adjoins, axis=0)) if adjoins else np.arange(len(points))
        if not len(free):
            return widths
        points, headings, feet = points[free], headings[free], feet_on(self.edge, points[free])
        inward = points - feet
        wide = np.hypot(*inward.T)
        outward = np.column_stack((np.sin(headings), -np.cos(headings)))  # of the film, so into the part
        along = (inward * outward).sum(axis=1) >= ALONG * wide
        near = (wide >= LEAST_WIDTH_MM) & (wide <= WIDEST_TIMES * self.widest_mm) & along
        rows = np.flatnonzero(near)
        ways = shapely.linestrings(np.stack((points[rows], feet[rows]), axis=1))
        sound = rows[shapely.covers(self.film, ways)]
        widths[free[sound]] = wide[sound]
        return widths


def _solid(regions: Regions) -> shapely.Geometry:
    return to_solid(regions, FLATNESS_MM)


def feet_on(edge: shapely.Geometry, points: Floats) -> Floats:
    """(n, 2) mm: the place of an edge of straight pieces that is nearest to each of points (n, 2)."""
    corners, rings = shapely.get_coordinates(shapely.get_parts(edge), return_index=True)
    inside = rings[1:] == rings[:-1]
    starts, ends = corners[:-1][inside], corners[1:][inside]
    tree = shapely.STRtree(np.asarray(shapely.linestrings(np.stack((starts, ends), axis=1))))
    rows, found = tree.query_nearest(shapely.points(points), all_matches=False)
    start, way = starts[found], ends[found] - starts[found]
    share = ((points[rows] - start) * way).sum(axis=1) / np.maximum((way**2).sum(axis=1), NO_LENGTH_MM2)
    return np.asarray(start + np.clip(share, 0.0, 1.0)[:, None] * way)


def grounds(patches: Sequence[Regions], part: Regions, widest_mm: float) -> tuple[Ground, ...]:
    """Of each film's patch what its rim is looked for on, made ready to be asked often."""
    films = [shapely.buffer(_solid(patch), ADJOINING_MM, quad_segs=2) for patch in patches]
    edge = shapely.boundary(_solid(part))
    shapely.prepare(films)
    return tuple(
        Ground(film, edge, (*films[:place], *films[place + 1 :]), widest_mm)
        for place, film in enumerate(films)
    )


def rim_of(patch: Regions, part: Regions, others: Sequence[Regions], widest_mm: float) -> RimFound:
    """The rim of a film's patch on a part beside other films' patches, all in one frame, mm."""
    return rim_on(patch, grounds([patch, *others], part, widest_mm)[0])


def rim_on(patch: Regions, ground: Ground) -> RimFound:
    """The same where its ground is known."""
    if not patch or shapely.is_empty(ground.edge):
        return RimFound(patch, np.zeros(sum(_count(region) for region in patch), dtype=np.bool_), ())
    loops = [loop for region in patch for loop in region.loops()]
    steps = [_Steps.of(loop) for loop in loops]
    places, headings = (np.concatenate(each) for each in zip(*(one.places() for one in steps), strict=True))
    ends = np.cumsum([len(one.rows) for one in steps])[:-1]
    widths = np.split(ground.widths(places, headings), ends)
    found = [_of_loop(*one, ground.widest_mm) for one in zip(loops, steps, widths, strict=True)]
    runs = tuple(run for one in found for run in one.runs)
    chosen = np.concatenate([one.chosen for one in found])
    return RimFound(_as_before(patch, [one.loop for one in found]), chosen, runs)


def _as_before(patch: Regions, loops: Sequence[Loop]) -> Regions:
    """The Regions with these Loops, in their order."""
    regions, first = [], 0
    for region in patch:
        outer, *openings = loops[first : first + 1 + len(region.openings)]
        regions.append(Region(outer, tuple(openings)))
        first += 1 + len(region.openings)
    return tuple(regions)


def _count(region: Region) -> int:
    return sum(len(loop.bulges) for loop in region.loops())


@dataclass(frozen=True, eq=False)
class _OfLoop:
    loop: Loop
    chosen: Flags
    runs: tuple[RimRun, ...]


@dataclass(frozen=True, eq=False)
class _Steps:
    """A Loop's segments in steps: of each its segment, its place among that one's, and how many those are."""

    segments: Segments
    rows: Ints
    within: Ints
    counts: Ints

    @classmethod
    def of(cls, loop: Loop) -> "_Steps":
        segments = loop.segments()
        counts = np.maximum(np.ceil(segments.lengths() / STEP_MM), 1.0).astype(np.int64)
        rows = np.repeat(np.arange(len(segments)), counts)
        within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
        return cls(segments, rows, within, counts[rows])

    def places(self) -> tuple[Floats, Floats]:
        """The middle of each step, mm, and which way the edge runs there, rad."""
        each, middles = picked(self.segments, self.rows), (self.within + 0.5) / self.counts
        return each.points_at(middles), each.headings_at(middles)


def _of_loop(loop: Loop, steps: _Steps, widths: Floats, widest_mm: float) -> _OfLoop:
    """Steps in one run are joined again, so that a segment is cut once or twice."""
    segments, rows, within, counts = steps.segments, steps.rows, steps.within, steps.counts
    if not np.isfinite(widths).any():
        return _OfLoop(loop, np.zeros(len(segments), dtype=np.bool_), ())
    each = picked(segments, rows)
    lengths = each.lengths() / counts
    kept = [run for run in _runs(np.isfinite(widths)) if _is_rim(widths[run], lengths[run], widest_mm)]
    is_in = np.zeros(rows.size, dtype=np.bool_)
    for run in kept:
        is_in[run] = True
    starts = np.flatnonzero((within == 0) | (is_in != np.roll(is_in, 1)))
    cut, chosen = _cut(segments, rows[starts], within[starts] / counts[starts]), is_in[starts]
    at = each.points_at(within / counts)
    told = tuple(
        RimRun(
            _point(at[run[0]]),
            _point(at[(run[-1] + 1) % rows.size]),
            _middle(widths[run], lengths[run]),
            float(lengths[run].sum()),
        )
        for run in kept
    )
    return _OfLoop(cut if kept else loop, chosen if kept else np.zeros(len(segments), dtype=np.bool_), told)


def _runs(flags: Flags) -> list[np.ndarray]:
    """The rows of each run of True, round the ring."""
    if flags.all():
        return [np.arange(flags.size)]
    begin = int(np.flatnonzero(~flags)[0])
    order = np.roll(np.arange(flags.size), -begin)
    turned = flags[order].astype(np.int8)
    edges = np.diff(np.concatenate((turned, [0])), prepend=0)
    return [
        order[low:high]
        for low, high in zip(np.flatnonzero(edges == 1), np.flatnonzero(edges == -1), strict=True)
    ]


def _is_rim(widths: Floats, lengths: Floats, widest_mm: float) -> bool:
    wide = _middle(widths, lengths)
    return wide <= widest_mm and float(lengths.sum()) >= LEAST_LENGTHS * wide


def _middle(widths: Floats, lengths: Floats) -> float:
    """The width that half of the run's length is narrower than, mm."""
    order = np.argsort(widths)
    passed = np.cumsum(lengths[order])
    return float(widths[order][np.searchsorted(passed, passed[-1] / 2.0)])


def _cut(segments: Segments, rows: np.ndarray, shares: Floats) -> Loop:
    """The Loop with points at these shares of its segments; each segment's own start is among them."""
    ends = np.where(np.roll(shares, -1) == 0.0, 1.0, np.roll(shares, -1))
    each = picked(segments, rows)
    points = np.where((shares == 0.0)[:, None], each.starts, each.points_at(shares))
    whole = (shares == 0.0) & (ends == 1.0)
    return Loop(points, np.where(whole, each.bulges, part_between(each, shares, ends)))


def _point(at: Floats) -> Point:
    return float(at[0]), float(at[1])
