"""Pieces too small to weed joined to their neighbour, and openings too small to weed filled, when asked.

A piece is joined to the nearest other piece of its film by a straight bridge. Where that would cross another
film, or leave the face, nothing is done and it is told.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Self

import numpy as np
import shapely

from core.decal.change import NO_AREA, Change, Polygon
from core.decal.thin import is_small
from core.findings import Finding, Level, Point

#: mm2: smaller openings (the counters of letters) tear out with the waste (common practice, no source).
TINY_OPENING_MM2 = 2.0
#: mm2 of a bridge that may lie on another film, or beyond the face: what flattening leaves.
NOTHING_MM2 = 0.01
#: mm by which what fills an opening goes into the film round it, whose edge is an arc.
INTO_MM = 0.05
#: mm; a shorter line has no direction.
NO_LENGTH_MM = 1e-9
#: mm; longer bridges change how the work looks more than a lost piece does.
LONGEST_BRIDGE_MM = 10.0


@dataclass(frozen=True)
class IslandWish:
    """Pieces and openings pointed at (frame, mm), or all small ones; bridges are bridge_mm wide."""

    joined: tuple[Point, ...] = ()
    filled: tuple[Point, ...] = ()
    joins_all: bool = False
    fills_all: bool = False
    bridge_mm: float = 1.0

    @property
    def is_nothing(self) -> bool:
        """Whether every piece and opening stays."""
        return not (self.joined or self.filled or self.joins_all or self.fills_all)


AS_CUT = IslandWish()


@dataclass(frozen=True)
class Bridge:
    """A strip from one point to another (frame, mm), flat at both ends."""

    start: Point
    end: Point
    width_mm: float

    @classmethod
    def between(cls, piece: Polygon, others: Polygon, width_mm: float) -> Self:
        """The shortest one, going half its width into both; from the middle of a small piece."""
        line = shapely.shortest_line(piece, others)
        middle = shapely.shortest_line(shapely.point_on_surface(piece), others)
        is_small_piece = shapely.length(middle) < shapely.length(line) + 2.0 * width_mm
        ends = shapely.get_coordinates(middle if is_small_piece else line)
        ahead = ends[1] - ends[0]
        ahead *= width_mm / 2.0 / max(float(np.hypot(*ahead)), NO_LENGTH_MM)
        start = ends[0] if is_small_piece else ends[0] - ahead
        (x0, y0), (x1, y1) = start.tolist(), (ends[1] + ahead).tolist()
        return cls((x0, y0), (x1, y1), width_mm)

    def area(self) -> Polygon:
        """The strip."""
        line = shapely.LineString((self.start, self.end))
        return shapely.buffer(line, self.width_mm / 2.0, cap_style="flat")


@dataclass(frozen=True)
class FilledOpening:
    """An opening of a film that was filled: a point inside it (frame, mm), and its area."""

    at: Point
    area_mm2: float


@dataclass(frozen=True, eq=False)
class Islands:
    """The change of all films; of each its bridges and filled openings; what was not possible."""

    change: Change
    bridges: tuple[tuple[Bridge, ...], ...]
    filled: tuple[tuple[FilledOpening, ...], ...]
    findings: tuple[Finding, ...]


def islands_changed(films: Sequence[Polygon], face: Polygon, wish: IslandWish) -> Islands:
    """How films (polygons, the lowest first) are to be changed so that no small island is left."""
    gains, bridges, filled = [], [], []
    findings: list[Finding] = []
    for place, film in enumerate(films):
        others = shapely.union_all([other for row, other in enumerate(films) if row != place])
        holes = _openings(film, others, face, wish)
        laid = _bridges(film, others, face, wish, findings)
        plugs = [shapely.buffer(hole, INTO_MM, join_style="mitre") for hole in holes]
        gains.append(shapely.union_all([*plugs, *(bridge.area() for bridge in laid)]))
        bridges.append(tuple(laid))
        filled.append(tuple(map(_filled, holes)))
    change = Change.of_areas(gains, [NO_AREA] * len(films))
    return Islands(change, tuple(bridges), tuple(filled), tuple(findings))


def tiny_openings(film: Polygon, others: Sequence[Polygon], face: Polygon) -> list[Polygon]:
    """Openings of a film on the face that are too small to weed and in which no other film shows."""
    return [
        hole
        for hole in _holes(film)
        if shapely.area(hole) < TINY_OPENING_MM2 and _is_bare(hole, others, face)
    ]


def _holes(film: Polygon) -> list[Polygon]:
    rings = [ring for part in shapely.get_parts(film) for ring in getattr(part, "interiors", ())]
    return [shapely.Polygon(ring) for ring in rings]


def _is_bare(hole: Polygon, others: Sequence[Polygon], face: Polygon) -> bool:
    """Whether an opening may be filled: no other film shows in it, nor does the part end there."""
    beyond = shapely.area(shapely.difference(hole, face))
    return bool(beyond < NOTHING_MM2 and all(_overlap(hole, other) < NOTHING_MM2 for other in others))


def _openings(film: Polygon, others: Polygon, face: Polygon, wish: IslandWish) -> list[Polygon]:
    """The openings of a film that are to be filled."""
    points = [shapely.Point(at) for at in wish.filled]
    asked = [
        hole
        for hole in _holes(film)
        if (wish.fills_all and shapely.area(hole) < TINY_OPENING_MM2)
        or (points and shapely.intersects(hole, points).any())
    ]
    return [hole for hole in asked if _is_bare(hole, [others], face)]


def _filled(hole: Polygon) -> FilledOpening:
    at = shapely.point_on_surface(hole)
    return FilledOpening((float(at.x), float(at.y)), float(shapely.area(hole)))


def _bridges(
    film: Polygon, others: Polygon, face: Polygon, wish: IslandWish, findings: list[Finding]
) -> list[Bridge]:
    """A bridge for each piece that is asked for; why there is none is added to the findings."""
    parts = [part for part in shapely.get_parts(film) if shapely.area(part) > 0.0]
    points = [shapely.Point(at) for at in wish.joined]
    laid = []
    for place, part in enumerate(parts):
        is_asked = bool(points) and bool(shapely.intersects(part, points).any())
        if not is_asked and not (wish.joins_all and is_small(part)):
            continue
        rest = [other for row, other in enumerate(parts) if row != place]
        bridge = Bridge.between(part, shapely.union_all(rest), wish.bridge_mm) if rest else None
        if bridge is None or not _may_lie(bridge, others, face):
            findings.append(_not_joined(part))
        else:
            laid.append(bridge)
    return laid


def _may_lie(bridge: Bridge, others: Polygon, face: Polygon) -> bool:
    strip = bridge.area()
    is_short = shapely.length(shapely.LineString((bridge.start, bridge.end))) <= LONGEST_BRIDGE_MM
    beyond = shapely.area(shapely.difference(strip, face))
    return bool(is_short and beyond < NOTHING_MM2 and _overlap(strip, others) < NOTHING_MM2)


def _overlap(one: Polygon, other: Polygon) -> float:
    return float(shapely.area(shapely.intersection(one, other)))


def _not_joined(part: Polygon) -> Finding:
    at = shapely.point_on_surface(part)
    return Finding(
        Level.CAUTION,
        "film-not-joined",
        "This piece of film is not joined: no bridge of its film reaches it beside other films, on the face.",
        "Leave the piece out (film.dropped), or make the bridge narrower (film.bridge).",
        (float(at.x), float(at.y)),
    )
