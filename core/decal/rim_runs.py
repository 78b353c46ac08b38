"""Where a film has a rim: a dark line along the part's edge, with bare part on its inner side.

A point of the film's inner edge belongs to a rim where, on the shortest way out to the part's edge, all is
film and no more than twice the widest rim, and where it runs along that edge. Runs of such points are a rim
when their middle width is no more than the widest one.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, cos, radians

import numpy as np
import shapely

from core.findings import Point
from core.outline.curve import Flags, part_between, picked
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
    """What a rim is looked for on: the film's patch, the part's edge, and the other films, as polygons."""

    film: shapely.Geometry
    edge: shapely.Geometry
    others: shapely.Geometry
    widest_mm: float

    @classmethod
    def of(cls, patch: Regions, part: Regions, others: Sequence[Regions], widest_mm: float) -> "Ground":
        """Made ready to be asked again and again."""
        film = shapely.buffer(_solid(patch), ADJOINING_MM)
        beside: shapely.Geometry = shapely.union_all([_solid(other) for other in others])
        edge = shapely.boundary(_solid(part))
        shapely.prepare([film, beside])
        return cls(film, edge, beside, widest_mm)

    def widths(self, points: Floats, headings: Floats) -> Floats:
        """(n,) mm: how wide the rim is at each place of the film's edge, travelled so; inf for no rim."""
        spots = np.asarray(shapely.points(points))
        ways = np.asarray(shapely.shortest_line(spots, self.edge))
        inward = points - shapely.get_coordinates(ways).reshape(-1, 2, 2)[:, 1]
        wide = np.hypot(*inward.T)
        outward = np.column_stack((np.sin(headings), -np.cos(headings)))  # of the film, so into the part
        along = (inward * outward).sum(axis=1) >= ALONG * wide
        near = (wide >= LEAST_WIDTH_MM) & (wide <= WIDEST_TIMES * self.widest_mm) & along
        rows = np.flatnonzero(near)
        sound = shapely.covers(self.film, ways[rows]) & ~shapely.dwithin(
            spots[rows], self.others, ADJOINING_MM
        )
        widths = np.full(len(points), np.inf)
        widths[rows[sound]] = wide[rows[sound]]
        return widths


def _solid(regions: Regions) -> shapely.Geometry:
    return to_solid(regions, FLATNESS_MM)


def rim_of(patch: Regions, part: Regions, others: Sequence[Regions], widest_mm: float) -> RimFound:
    """The rim of a film's patch on a part beside other films' patches, all in one frame, mm."""
    if not patch or not part:
        return RimFound(patch, np.zeros(sum(_count(region) for region in patch), dtype=np.bool_), ())
    ground = Ground.of(patch, part, others, widest_mm)
    regions, chosen, runs = [], [], []
    for region in patch:
        found = [_of_loop(loop, ground) for loop in region.loops()]
        regions.append(Region(found[0].loop, tuple(one.loop for one in found[1:])))
        chosen += [one.chosen for one in found]
        runs += [run for one in found for run in one.runs]
    return RimFound(tuple(regions), np.concatenate(chosen), tuple(runs))


def _count(region: Region) -> int:
    return sum(len(loop.bulges) for loop in region.loops())


@dataclass(frozen=True, eq=False)
class _OfLoop:
    loop: Loop
    chosen: Flags
    runs: tuple[RimRun, ...]


def _of_loop(loop: Loop, ground: Ground) -> _OfLoop:
    """Every segment in steps; steps in one run are joined again, so that a segment is cut once or twice."""
    segments = loop.segments()
    counts = np.array([ceil(length / STEP_MM) for length in np.maximum(segments.lengths(), 1e-9)])
    rows = np.repeat(np.arange(len(segments)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    each, middles = picked(segments, rows), (within + 0.5) / counts[rows]
    widths = ground.widths(each.points_at(middles), each.headings_at(middles))
    lengths = each.lengths() / counts[rows]
    kept = [run for run in _runs(np.isfinite(widths)) if _is_rim(widths[run], lengths[run], ground.widest_mm)]
    is_in = np.zeros(rows.size, dtype=np.bool_)
    for run in kept:
        is_in[run] = True
    starts = np.flatnonzero((within == 0) | (is_in != np.roll(is_in, 1)))
    cut, chosen = _cut(segments, rows[starts], within[starts] / counts[rows[starts]]), is_in[starts]
    at = each.points_at(within / counts[rows])
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
