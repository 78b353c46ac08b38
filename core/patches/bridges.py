"""Bridges between the pieces of a part: as few and as short as will do, each on ground that bears it.

Plot: the pairs of pieces wait in the order of their gaps (Kruskal's shortest tree) -> for a pair, places
along one edge and the nearest on the other, each a bar that goes into both pieces until its whole width
does -> the shortest that is sound: it fills one gap only -> the tree takes the pair if it still joins two
that are apart -> union, then feet rounded.
"""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from core.findings import Point
from core.outline.chain import Chain
from core.outline.curve import lefts
from core.outline.fillet import rounded, turns
from core.outline.loop import Loop
from core.outline.polygon import to_polygon
from core.outline.region import Region, Regions
from core.outline.segments import Floats

#: mm; polygons that are only looked at stray by this.
FLATNESS = 0.01
#: Share of the width between two places that are tried, and how deep, in widths, a bar may go into a piece.
SPACING, DEEPEST = 0.25, 2.0
#: Depths that are tried, up to the deepest.
DEPTHS = 9
#: Widths by which a bar may be longer than another and still be as short.
TIE = 0.05
#: Bars that are looked at closely for one pair of pieces.
MOST_TRIED = 200
#: The same where two bridges of one piece are looked for, on sides that lie apart.
MOST_SIDES_TRIED = 600
#: mm; corners this near to a bar's long side are its feet.
ON_SIDE = 1e-6
#: rad; a joint that turns less needs no rounding.
LEAST_TURN = np.radians(5.0)
#: How often a foot's radius is halved where it finds no room.
HALVINGS = 3


@dataclass(frozen=True)
class Bridge:
    """A bar from start to end, mm, its flat ends within the pieces; gap_mm is what it spans of nothing."""

    start: Point
    end: Point
    width_mm: float
    gap_mm: float
    is_sound: bool

    @property
    def middle(self) -> Point:
        """Half-way along."""
        return (self.start[0] + self.end[0]) / 2.0, (self.start[1] + self.end[1]) / 2.0

    def corners(self) -> Floats:
        """(4, 2) mm, counter-clockwise."""
        tail, head = np.array(self.start), np.array(self.end)
        aside = _left_of(head - tail) * self.width_mm / 2.0
        return np.array([tail - aside, head - aside, head + aside, tail + aside])

    def bar(self) -> Region:
        """The bar as a Region."""
        return Region(Loop(self.corners(), np.zeros(4)))


def _left_of(way: Floats) -> Floats:
    return np.asarray(np.array([-way[1], way[0]]) / np.hypot(*way))


@dataclass(frozen=True, eq=False)
class Ground:
    """The pieces as polygons, and how wide bridges are."""

    solids: list[shapely.Geometry]
    width: float

    @cached_property
    def edges(self) -> list[Floats]:
        """For every piece places along its edge."""
        return [
            shapely.get_coordinates(shapely.segmentize(shapely.boundary(solid), SPACING * self.width))
            for solid in self.solids
        ]


def bridges_between(part: Regions, width_mm: float) -> tuple[Bridge, ...]:
    """One less than there are pieces, so that all hang together."""
    solids: list[shapely.Geometry] = [shapely.make_valid(to_polygon((region,), FLATNESS)) for region in part]
    ground = Ground(solids, width_mm)
    lead = list(range(len(solids)))
    waiting: list[tuple[float, int, int, Bridge | None]] = [
        (float(shapely.distance(solids[a], solids[b])), a, b, None)
        for a in range(len(solids))
        for b in range(a)
    ]
    heapq.heapify(waiting)
    found: list[Bridge] = []
    while waiting and len(found) < len(solids) - 1:
        _, a, b, bridge = heapq.heappop(waiting)
        if _root(lead, a) == _root(lead, b):
            continue
        if bridge is None:
            bridge = best_bridge(ground, a, b)
            heapq.heappush(waiting, (_weight(bridge), a, b, bridge))
            continue
        lead[_root(lead, a)] = _root(lead, b)
        found.append(bridge)
    return tuple(found)


def _weight(bridge: Bridge) -> float:
    """Mm; any sound bridge before one that is not."""
    return bridge.gap_mm if bridge.is_sound else 1e6 + bridge.gap_mm


def _root(lead: list[int], item: int) -> int:
    while lead[item] != item:
        item = lead[item]
    return item


def best_bridge(ground: Ground, a: int, b: int) -> Bridge:
    """The shortest sound bridge between two pieces, or the shortest of all where none is sound.

    What counts is its whole length, with what is let into the pieces: that keeps it off tips.
    """
    spans, deep, gaps = _tried(ground, a, b)
    sound = next(_sound(ground, a, b, (spans, deep), MOST_TRIED), None)
    if sound is not None:
        return sound
    row = int(np.argmin(gaps))
    shallow = np.full(2, DEEPEST * ground.width / 4.0)
    return _bridge(ground, spans[row], np.where(np.isfinite(deep[row]), deep[row], shallow), is_sound=False)


def sound_bridges(ground: Ground, a: int, b: int) -> list[Bridge]:
    """The sound bridges between two pieces, the best first, of those that are looked at closely."""
    spans, deep, _ = _tried(ground, a, b)
    return list(_sound(ground, a, b, (spans, deep), MOST_SIDES_TRIED))


def _tried(ground: Ground, a: int, b: int) -> tuple[Floats, Floats, Floats]:
    """(n, 2, 2) spans, (n, 2) how deep each goes into the pieces, (n,) gaps; mm."""
    spans = _spans(ground, a, b)
    gaps = np.hypot(*(spans[:, 1] - spans[:, 0]).T)
    ahead = (spans[:, 1] - spans[:, 0]) / gaps[:, None]
    deep = np.column_stack(
        (
            _depths(ground.solids[a], spans[:, 0], -ahead, ground.width),
            _depths(ground.solids[b], spans[:, 1], ahead, ground.width),
        )
    )
    return spans, deep, np.asarray(gaps)


def _sound(ground: Ground, a: int, b: int, tried: tuple[Floats, Floats], most: int) -> Iterator[Bridge]:
    """The sound ones among the first so many, the best first; tried: spans, and how deep each goes in."""
    spans, deep = tried
    whole = np.hypot(*(spans[:, 1] - spans[:, 0]).T) + deep.sum(axis=1)
    if not len(whole):
        return
    for row in _best_first(spans.mean(axis=1), whole, TIE * ground.width)[:most]:
        if np.isfinite(whole[row]):
            bridge = _bridge(ground, spans[row], deep[row], is_sound=True)
            if _is_clear(ground, a, b, bridge):
                yield bridge


def _best_first(middles: Floats, whole: Floats, tie: float) -> list[int]:
    """The rows from short to long, but of those that are hardly longer than the shortest the middlemost."""
    tied = whole <= whole.min() + tie  # all of them where none is sound
    off = np.hypot(*(middles - middles[tied].mean(axis=0)).T)
    return [int(row) for row in np.lexsort((np.where(tied, off, whole), ~tied))]


def _bridge(ground: Ground, span: Floats, deep: Floats, *, is_sound: bool) -> Bridge:
    gap = float(np.hypot(*(span[1] - span[0])))
    ahead = (span[1] - span[0]) / gap
    tail, head = (span[0] - ahead * deep[0]).tolist(), (span[1] + ahead * deep[1]).tolist()
    return Bridge((tail[0], tail[1]), (head[0], head[1]), ground.width, gap, is_sound)


def _spans(ground: Ground, a: int, b: int) -> Floats:
    """(n, 2, 2) mm: places on the edge of one piece and the nearest on the other's, from a to b."""
    spans = []
    for one, other in ((a, b), (b, a)):
        edge = shapely.boundary(ground.solids[other])
        lines = shapely.shortest_line(shapely.points(ground.edges[one]), edge)
        ends = shapely.get_coordinates(lines).reshape(-1, 2, 2)
        spans.append(ends if one == a else ends[:, ::-1])
    every = np.concatenate(spans)
    return np.asarray(every[np.hypot(*(every[:, 1] - every[:, 0]).T) > FLATNESS])


def _depths(solid: shapely.Geometry, at: Floats, inward: Floats, width: float) -> Floats:
    """(n,) mm: how deep each bar's end must go so that its whole width is in the piece; else infinite."""
    aside = lefts(inward)[:, None] * width / 2.0
    depths = np.linspace(0.0, DEEPEST, DEPTHS)[1:] * width
    middles = at[:, None] + depths[None, :, None] * inward[:, None]
    ends = shapely.linestrings(np.stack((middles - aside, middles + aside), axis=2))
    shapely.prepare(solid)
    within = np.asarray(shapely.contains_properly(solid, ends))
    return np.asarray(np.where(within.any(axis=1), depths[np.argmax(within, axis=1)], np.inf))


def _is_clear(ground: Ground, a: int, b: int, bridge: Bridge) -> bool:
    """Whether the bar fills one gap only and touches no third piece.

    It stays within the shape's box by itself: both its ends lie in pieces, and a box has no dents.
    """
    bar = shapely.Polygon(bridge.corners())
    others = [solid for k, solid in enumerate(ground.solids) if k not in (a, b)]
    if others and bool(shapely.intersects(shapely.GeometryCollection(others), bar)):
        return False
    left = shapely.difference(bar, shapely.union(ground.solids[a], ground.solids[b]))
    pieces = [piece for piece in shapely.get_parts(left) if shapely.area(piece) > FLATNESS * bridge.width_mm]
    return len(pieces) == 1


def with_feet(part: Regions, bridge: Bridge, radius_mm: float) -> Regions:
    """The part with the inside corners at a bridge's feet rounded, as far as there is room."""
    if radius_mm <= 0.0:
        return part
    return tuple(
        Region(
            _footed(region.outer, bridge, radius_mm),
            tuple(_footed(opening, bridge, radius_mm) for opening in region.openings),
        )
        for region in part
    )


def _footed(loop: Loop, bridge: Bridge, radius_mm: float) -> Loop:
    chain = Chain(np.vstack((loop.points, loop.points[:1])), loop.bulges, 1, 0)
    for foot in loop.points[_feet(chain, bridge)]:
        chain = _rounded_at(chain, foot, radius_mm)
    return Loop(chain.points[:-1], chain.bulges)


def _feet(chain: Chain, bridge: Bridge) -> Floats:
    """(n,) whether each point is an inside corner on a long side of the bar."""
    points = chain.points[:-1]
    tail, way = np.array(bridge.start), np.array(bridge.end) - np.array(bridge.start)
    length = np.hypot(*way)
    along = (points - tail) @ way / length
    aside = np.abs((points - tail) @ _left_of(way))
    on_side = (np.abs(aside - bridge.width_mm / 2.0) < ON_SIDE) & (along > 0.0) & (along < length)
    return np.asarray(on_side & (turns(chain.segments()) < -LEAST_TURN))


def _rounded_at(chain: Chain, foot: Floats, radius_mm: float) -> Chain:
    joint = int(np.argmin(np.hypot(*(chain.points[:-1] - foot).T)))
    for halving in range(HALVINGS + 1):
        made = rounded(chain, joint, radius_mm / 2**halving)
        if made is not None:
            return made
    return chain
