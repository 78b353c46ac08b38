"""What a film may differ from its patch by where a hand asked for it: joined, filled, thickened, opened.

Each place is claimed, and judged by a rule of its own; all else of the film stays what its patch says.

* A bridge is the strip between two points, on the face and on no other film.
* An opening is filled whole, and only one in which nothing else shows.
* At a thin place of the film (what a disc of the asked width does not reach, Serra 1982) it may be wider, by
  the stated bound at most; neighbours give way just there. At a gap it may be narrower, by as much.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.claims import BridgeClaim, FilmClaim, FineClaim, MovedClaim
from core.proof.polygons import areas_in
from core.proof.readback import Excepted, Why, breach

#: mm by which a moved edge may stray from where the bound lets it be, and a width from what is claimed: edges
#: that are moved are made of chords, along a middle found in steps.
MOVED_WITHIN = 0.03
#: mm2 of a bridge or a filled opening that may lie where nothing may be: the flattening of its edge.
NOTHING = 0.02
#: mm; no bridge is longer or wider, no edge is moved by more, and no stroke or gap is made wider.
LONGEST_BRIDGE, WIDEST_BRIDGE, MOST_MOVED, WIDEST_MADE = 12.0, 10.0, 1.0, 5.0
#: Share by which an opening may have another area than claimed.
AREA_WITHIN = 0.02
#: Chords in a quarter circle: at a radius of 0.5 mm they stray by 0.001 mm.
CHORDS = 24
#: mm beyond the film in which the ground counts as a gap's side.
ROUND = 3.0
EMPTY = shapely.Polygon()


@dataclass(frozen=True, eq=False)
class Zones:
    """Where a film may be wider than its patch, and where narrower; mm, frame."""

    wider: BaseGeometry = EMPTY
    narrower: BaseGeometry = EMPTY


def with_islands(
    own: Sequence[BaseGeometry], films: Sequence[FilmClaim], faces: Sequence[BaseGeometry]
) -> list[BaseGeometry]:
    """Each film with its bridges and filled openings, where they may be."""
    made = list(own)
    for place, (film, face) in enumerate(zip(films, faces, strict=True)):
        others = shapely.union_all([one for row, one in enumerate(own) if row != place])
        more = [_strip(bridge, own[place], others, face) for bridge in film.bridges]
        more += [_hole(own[place], at.at, at.area_mm2, others) for at in film.filled]
        if more:
            made[place] = areas_in(shapely.union_all([own[place], *more]))
    return made


def _strip(bridge: BridgeClaim, own: BaseGeometry, others: BaseGeometry, face: BaseGeometry) -> BaseGeometry:
    """A bridge as claimed; nothing where it may not be, or where it joins no two pieces of its film."""
    line = shapely.LineString((bridge.start, bridge.end))
    strip = line.buffer(bridge.width_mm / 2.0, cap_style="flat")
    is_free = strip.difference(face).area < NOTHING and strip.intersection(others).area < NOTHING
    is_small = line.length <= LONGEST_BRIDGE and bridge.width_mm <= WIDEST_BRIDGE
    joins = int(shapely.dwithin(shapely.get_parts(own), strip, MOVED_WITHIN).sum()) > 1
    return strip.intersection(face) if is_free and is_small and joins else EMPTY


def _hole(own: BaseGeometry, at: tuple[float, float], area_mm2: float, others: BaseGeometry) -> BaseGeometry:
    """The opening round a point, where it is as large as claimed and nothing shows in it."""
    rings = [ring for part in shapely.get_parts(own) for ring in getattr(part, "interiors", ())]
    for hole in map(shapely.Polygon, rings):
        is_it = hole.contains(shapely.Point(at)) and abs(hole.area - area_mm2) <= AREA_WITHIN * area_mm2
        if is_it and hole.intersection(others).area < NOTHING:
            return hole
    return EMPTY


def zones_of(own: BaseGeometry, fine: FineClaim) -> Zones:
    """Where a film may have been made wider or narrower: at its claimed thin places and gaps."""
    reach = fine.most_mm + MOVED_WITHIN
    wider = [_by(_thin_at(own, one, fine.stroke_mm), reach) for one in fine.moved if one.why == Why.GROWN]
    narrower = [
        _by(_thin_at(_ground(own), one, fine.gap_mm), reach) for one in fine.moved if one.why == Why.OPENED
    ]
    return Zones(shapely.union_all(wider), shapely.union_all(narrower))


def with_moved(
    own: Sequence[BaseGeometry], seen: Sequence[BaseGeometry], films: Sequence[FilmClaim]
) -> list[BaseGeometry]:
    """Each film as it should be, with what was moved at its own places and at its neighbours'.

    seen: what shows of each film as it was read, the lowest first.
    """
    if not any(film.fine.moved for film in films):
        return list(own)
    zones = [zones_of(one, film.fine) for one, film in zip(own, films, strict=True)]
    gains = [areas_in(shapely.intersection(one, zone.wider)) for one, zone in zip(seen, zones, strict=True)]
    made = []
    for place, area in enumerate(own):
        given = [gain for row, gain in enumerate(gains) if row != place]
        opened = areas_in(shapely.difference(zones[place].narrower, seen[place]))
        less = shapely.difference(area, shapely.union_all([*given, opened]))
        made.append(areas_in(shapely.union(areas_in(less), gains[place])))
    return made


def moved_findings(path: str, own: BaseGeometry, seen: BaseGeometry, fine: FineClaim) -> tuple[Finding, ...]:
    """Stops: a stroke or a gap is not as wide as it is said to be now, or more was to be moved than may."""
    found = []
    if fine.most_mm > MOST_MOVED or max(fine.stroke_mm, fine.gap_mm) > WIDEST_MADE:
        text = f"Edges of {path} are said to be moved by {fine.most_mm:g} mm, more than any are."
        found.append(breach("film-not-moved", text))
    for one in fine.moved:
        asked, before, after = (
            (fine.stroke_mm, own, seen)
            if one.why == Why.GROWN
            else (fine.gap_mm, _ground(own), _ground(seen))
        )
        place = _thin_at(before, one, asked)
        if place.is_empty or not _is_as_wide(after, place, one.to_mm):
            what = "stroke" if one.why == Why.GROWN else "gap"
            text = f"A {what} in {path} is not {one.to_mm:.2f} mm wide, as the report says."
            found.append(breach("film-not-moved", text, one.at))
    return tuple(found)


def excepted_by_hand(own: BaseGeometry, film: FilmClaim) -> list[Excepted]:
    """Every place that was joined, filled, thickened or opened, with the length of edge concerned."""
    edge = shapely.boundary(own)
    strips = [shapely.LineString((one.start, one.end)) for one in film.bridges]
    joined = [
        Excepted((line.centroid.x, line.centroid.y), Why.JOINED, 2.0 * float(line.length)) for line in strips
    ]
    filled = [Excepted(one.at, Why.FILLED, 0.0) for one in film.filled]
    moved = []
    for one in film.fine.moved:
        is_grown = one.why == Why.GROWN
        area, asked = (own, film.fine.stroke_mm) if is_grown else (_ground(own), film.fine.gap_mm)
        place = _by(_thin_at(area, one, asked), MOVED_WITHIN)
        length = float(shapely.length(shapely.intersection(edge, place)))
        moved.append(Excepted(one.at, Why.GROWN if is_grown else Why.OPENED, length))
    return [*joined, *filled, *moved]


def _thin_at(area: BaseGeometry, claim: MovedClaim, asked_mm: float) -> BaseGeometry:
    """The thin place of an area round a claimed point."""
    near = shapely.Point(claim.at)
    wide = _by(_by(area, -asked_mm / 2.0), asked_mm / 2.0 + 1e-3)
    parts = shapely.get_parts(shapely.difference(area, wide))
    return shapely.union_all([part for part in parts if shapely.dwithin(part, near, MOVED_WITHIN)])


def _is_as_wide(area: BaseGeometry, place: BaseGeometry, width_mm: float) -> bool:
    """Whether discs of this width reach all of a place inside the area."""
    near = shapely.intersection(area, shapely.box(*_by(place, 2.0 * width_mm).bounds))
    radius = width_mm / 2.0 - MOVED_WITHIN
    reached = _by(_by(near, -radius), radius + MOVED_WITHIN)
    return bool(reached.covers(_by(place, -MOVED_WITHIN / 2.0)))


def _ground(own: BaseGeometry) -> BaseGeometry:
    """What lies between the strokes of a film, and some way round it."""
    return shapely.difference(shapely.buffer(shapely.envelope(own), ROUND, join_style="mitre"), own)


def _by(area: BaseGeometry, distance: float) -> BaseGeometry:
    return shapely.buffer(area, distance, quad_segs=CHORDS)
