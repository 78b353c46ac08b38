"""Patches cut to the face, and lower films led on under upper ones, in one go.

1. The edges of all patches, of the face and of the hidden edges (reach_under.py) are cut where they meet
   (noding.py), once for all films, so that neighbours have the same pieces.
2. On the flattened pieces shapely finds each film: its patch inside the face, and of the upper films'
   what the hidden edge bounds. An extension takes nothing that a lower film's has taken, so that no place
   is covered by more than two films.
3. The rings are told again as lines and arcs (knit.py).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from core.decal.film import Excepted
from core.decal.left_out import NOTHING, DroppedPiece, LeftOut, parted, without
from core.decal.reach_under import FLATNESS_MM, reach_under
from core.outline.boolean import solid
from core.outline.curve import joined
from core.outline.knit import knitted
from core.outline.loop import Loop
from core.outline.noding import noded
from core.outline.polygon import to_polygon, without_crossings
from core.outline.region import Region, Regions
from core.outline.weave import Cloth

#: mm of edge that two films must share for the lower one to go on under the upper one there.
LEAST_EDGE_MM = 0.3
#: mm round an extension in which the edge of its film is looked at.
NEAR_MM = 1.0

Polygon = shapely.Geometry


@dataclass(frozen=True, eq=False)
class CutFilm:
    """regions of one film, the places where it lies under another, and the pieces that were left out."""

    regions: Regions
    overlaps: tuple[Excepted, ...] = ()
    dropped: tuple[DroppedPiece, ...] = ()


def cut_films(
    patches: Sequence[Regions], face: Regions, overlap_mm: float, left_out: LeftOut = NOTHING
) -> tuple[CutFilm, ...]:
    """Each patch inside the face, the lowest first, and overlap_mm (>= 0) of it under those above.

    What is left out is no film, and nothing is led on under it.
    """
    if not face or not any(patches):
        return tuple(CutFilm(()) for _ in patches)
    outs, reach = _rough(patches, face, overlap_mm, left_out)
    hidden = [_as_regions(one) for one in reach]
    every = [*patches, face, *hidden]
    sources = joined([loop.segments() for regions in every for region in regions for loop in region.loops()])
    cloth = Cloth.of(sources, noded(sources))
    flats = _flats(every, cloth)
    count = len(patches)
    inside = [shapely.intersection(flat, flats[count]) for flat in flats[:count]]
    split = [parted(film, out) for film, out in zip(inside, outs, strict=True)]
    own, dropped = [film for film, _ in split], [gone for _, gone in split]
    under = _extensions(own, flats[count + 1 :])
    return tuple(_one(film, ends, gone, cloth) for film, ends, gone in zip(own, under, dropped, strict=True))


@dataclass(frozen=True, eq=False)
class _Extension:
    """A piece by which a film goes on under others, and how many mm of the film's edge it lies along."""

    piece: Polygon
    shared_mm: float

    def told(self) -> Excepted:
        at = shapely.point_on_surface(self.piece)
        return Excepted((float(at.x), float(at.y)), "overlap", self.shared_mm)


def _rough(
    patches: Sequence[Regions], face: Regions, overlap_mm: float, left_out: LeftOut
) -> tuple[list[Polygon], list[Polygon]]:
    """Of each film, found on polygons: what is left out of it, and where it goes on under others."""
    nothing: list[Polygon] = [shapely.Polygon()] * len(patches)
    if overlap_mm <= 0.0 and left_out.is_nothing:
        return nothing, nothing
    bound = _polygon(face)
    films: list[Polygon] = [shapely.intersection(_polygon(patch), bound) for patch in patches]
    outs = nothing if left_out.is_nothing else [left_out.of(film) for film in films]
    if overlap_mm <= 0.0:
        return outs, nothing
    films = films if left_out.is_nothing else without(films, outs)
    return outs, [reach_under(film, films[place + 1 :], overlap_mm) for place, film in enumerate(films)]


def _polygon(regions: Regions) -> Polygon:
    return shapely.union_all(without_crossings(shapely.get_parts(to_polygon(regions, FLATNESS_MM))))


def _as_regions(area: Polygon) -> Regions:
    """The polygons as Regions of straight lines."""
    parts = [part for part in shapely.get_parts(area) if shapely.area(part) > 0.0]
    return tuple(_as_region(part) for part in shapely.orient_polygons(parts))


def _as_region(part: shapely.Polygon) -> Region:
    loops = [_as_loop(shapely.get_coordinates(ring)[:-1]) for ring in (part.exterior, *part.interiors)]
    return Region(loops[0], tuple(loops[1:]))


def _as_loop(corners: np.ndarray) -> Loop:
    return Loop(corners, np.zeros(len(corners)))


def _flats(every: Sequence[Regions], cloth: Cloth) -> list[Polygon]:
    flats, first = [], 0
    for regions in every:
        flats.append(solid(regions, cloth, first) if regions else shapely.Polygon())
        first += sum(len(loop.bulges) for region in regions for loop in region.loops())
    return flats


def _extensions(own: Sequence[Polygon], hidden: Sequence[Polygon]) -> list[list[_Extension]]:
    """Of each film, the pieces by which it goes on under those above."""
    taken: Polygon = shapely.Polygon()
    found: list[list[_Extension]] = []
    for place, film in enumerate(own):
        if shapely.is_empty(hidden[place]):
            found.append([])
            continue
        above = own[place + 1] if place + 2 == len(own) else shapely.union_all(own[place + 1 :])
        free = shapely.difference(shapely.intersection(hidden[place], above), taken)
        edge = shapely.boundary(film)
        every = [_Extension(piece, _shared_mm(piece, edge)) for piece in shapely.get_parts(free)]
        kept = [one for one in every if one.shared_mm >= LEAST_EDGE_MM]
        taken = shapely.union_all([taken, *(one.piece for one in kept)])
        found.append(kept)
    return found


def _shared_mm(piece: Polygon, edge: Polygon) -> float:
    """How many mm of its film's edge an extension has in common with it, looked for near it alone."""
    if not shapely.area(piece) > 0.0:  # an overlay may leave points and lines beside areas
        return 0.0
    x_min, y_min, x_max, y_max = shapely.bounds(piece).tolist()
    near = shapely.clip_by_rect(edge, x_min - NEAR_MM, y_min - NEAR_MM, x_max + NEAR_MM, y_max + NEAR_MM)
    return float(shapely.length(shapely.intersection(shapely.boundary(piece), near)))


def _one(
    film: Polygon, under: Sequence[_Extension], dropped: tuple[DroppedPiece, ...], cloth: Cloth
) -> CutFilm:
    whole = shapely.union_all([film, *(one.piece for one in under)]) if under else film
    return CutFilm(knitted(whole, cloth), tuple(one.told() for one in under), dropped)
