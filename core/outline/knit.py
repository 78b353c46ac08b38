"""From polygons that shapely made of flattened Pieces back to the lines and arcs they came from.

1. Every ring becomes a row of Spans (spans.py): a Piece, and from where to where the ring goes along it.
2. A Span that ends at a corner that no Piece has is cut at the place nearest to that corner.
3. Neighbouring Spans of one source are one segment again; a source that is covered whole keeps its ends
   and its bulge to the last bit.
"""

from dataclasses import dataclass

import numpy as np
import shapely

from core.outline.curve import fractions_of, part_between, picked
from core.outline.loop import Loop
from core.outline.region import Region, Regions
from core.outline.segments import Floats, Segments
from core.outline.spans import Ring, Span, is_whole, mended, piece_end, piece_start, spans_of
from core.outline.weave import FLAT, Cloth, Weave


def knitted(flat: shapely.Geometry, cloth: Cloth) -> Regions:
    """Regions of exact lines and arcs from what shapely made of the flattened Pieces of cloth."""
    parts = [part for part in shapely.get_parts(flat) if part.geom_type == "Polygon" and not _is_sliver(part)]
    if not (parts and cloth.lines):
        return ()
    weave = cloth.weave
    return tuple(
        region for part in shapely.orient_polygons(parts) if (region := _region(part, weave)) is not None
    )


def _is_sliver(shape: shapely.Geometry) -> bool:
    """Whether a polygon is thinner than the flattening: its area less than FLAT along half its edge."""
    return bool(shapely.area(shape) <= FLAT * shapely.length(shape) / 2.0)


def _region(part: shapely.Polygon, weave: Weave) -> Region | None:
    outer = _loop(shapely.get_coordinates(part.exterior), weave)
    if outer is None or outer.signed_area() <= 0.0:
        return None
    rings = [ring for ring in part.interiors if not _is_sliver(shapely.Polygon(ring))]
    openings = [_loop(shapely.get_coordinates(ring), weave) for ring in rings]
    return Region(outer, tuple(each for each in openings if each is not None and each.signed_area() < 0.0))


def _loop(corners: Floats, weave: Weave) -> Loop | None:
    ring = Ring.of(corners, weave)
    spans = mended(spans_of(ring), ring)
    return _joined_up(spans, ring) if len(spans) > 1 else None


@dataclass(frozen=True)
class Stretch:
    """Part of one source, from one fraction of its sweep to another; back to front where last < first."""

    source: int
    first: float
    last: float

    def followed_by(self, other: "Stretch") -> bool:
        """Whether the other goes on along the same source, the same way."""
        onward = (self.last > self.first) == (other.last > other.first)
        return onward and self.source == other.source and self.last == other.first


def _joined_up(spans: list[Span], ring: Ring) -> Loop | None:
    """The Loop of the Spans, those of one source joined."""
    places = _places(spans, ring)
    choices = [
        _stretches(span, places[k], places[(k + 1) % len(spans)], ring) for k, span in enumerate(spans)
    ]
    turn = next((k for k in range(len(spans)) if not joint(choices[k - 1], choices[k])), 0)
    points: list[Floats] = []
    found: list[Stretch] = []
    open_ones: list[Stretch] = []
    for k in [*range(turn, len(spans)), *range(turn)]:
        longer = joint(open_ones, choices[k])
        if not longer:
            found.extend(best(open_ones))
            points.append(places[k])
            longer = choices[k]
        open_ones = longer
    found.extend(best(open_ones))
    return _loop_of(points, found, ring.weave)


def joint(before: list[Stretch], after: list[Stretch]) -> list[Stretch]:
    """The stretches that run through both."""
    return [
        Stretch(one.source, one.first, other.last)
        for one in before
        for other in after
        if one.followed_by(other)
    ]


def best(choices: list[Stretch]) -> list[Stretch]:
    """One of the stretches that say the same: a whole source if there is one."""
    whole = [each for each in choices if {each.first, each.last} == {0.0, 1.0}]
    return (whole or choices)[:1]


def _loop_of(points: list[Floats], stretches: list[Stretch], weave: Weave) -> Loop | None:
    if len(points) < 2:
        return None
    return Loop(np.vstack(points), bulges_of(stretches, weave.cloth.sources))


def bulges_of(stretches: list[Stretch], sources: Segments) -> Floats:
    """(n,) the bulge of each stretch of the sources; a whole source keeps its own to the last bit."""
    rows = np.array([each.source for each in stretches])
    firsts = np.array([each.first for each in stretches])
    lasts = np.array([each.last for each in stretches])
    whole = picked(sources, rows)
    bulges = part_between(whole, firsts, lasts)
    bulges = np.where((firsts == 0.0) & (lasts == 1.0), whole.bulges, bulges)
    return np.asarray(np.where((firsts == 1.0) & (lasts == 0.0), -whole.bulges, bulges))


def _places(spans: list[Span], ring: Ring) -> list[Floats]:
    """Where each Span begins: a node, or for a new corner the middle of the nearest places on both Pieces."""
    return [
        _between(spans[k - 1], span, ring)
        if span.start < 0 or spans[k - 1].end != span.start
        else ring.place(span.start)
        for k, span in enumerate(spans)
    ]


def _between(before: Span, after: Span, ring: Ring) -> Floats:
    rows = np.array([before.piece, after.piece])
    segments = picked(ring.weave.cloth.pieces.segments, rows)
    corner = np.vstack((ring.place(after.start), ring.place(after.start)))
    shares = np.clip(fractions_of(segments, corner), 0.0, 1.0)
    return np.asarray(segments.points_at(shares).mean(axis=0))


def _stretches(span: Span, start: Floats, end: Floats, ring: Ring) -> list[Stretch]:
    """The Span as parts of the sources that share its Piece."""
    weave = ring.weave
    along = (1.0, 0.0) if span.is_against else (0.0, 1.0)
    if is_whole(span, weave):
        return [_stretch(row, *along, weave.cloth) for row in weave.rows_of(span.piece)]
    whole = picked(weave.cloth.pieces.segments, np.array([span.piece, span.piece]))
    low, high = np.clip(fractions_of(whole, np.vstack((start, end))), 0.0, 1.0).tolist()
    low = along[0] if span.start == piece_start(span, weave) else low
    high = along[1] if span.end == piece_end(span, weave) else high
    return [_stretch(row, low, high, weave.cloth) for row in weave.rows_of(span.piece)]


def _stretch(row: int, low: float, high: float, cloth: Cloth) -> Stretch:
    pieces = cloth.pieces
    first, last = float(pieces.firsts[row]), float(pieces.lasts[row])
    if pieces.is_against[row]:
        first, last = last, first
    return Stretch(int(pieces.sources[row]), _part(first, last, low), _part(first, last, high))


def _part(first: float, last: float, share: float) -> float:
    if share in (0.0, 1.0):
        return last if share else first
    return first + (last - first) * share
