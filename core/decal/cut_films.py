"""Patches cut to the face, and lower films led on under upper ones, in one go.

1. On polygons it is found what is changed by hand (edits.py) and how far lower films reach under upper ones
   (reach_under.py).
2. The edges of all patches, of the face, of the changes and of the hidden edges are cut where they meet
   (noding.py), once for all films, so that neighbours have the same pieces.
3. On the flattened pieces shapely finds each film: its patch inside the face, changed, and of upper films
   what the hidden edge bounds. An extension takes nothing that a lower film's has taken, so that no place
   is covered by more than two films.
4. The rings are told again as lines and arcs (knit.py).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from core.decal.by_hand import UNTOUCHED, ByHand
from core.decal.change import NO_AREA, as_regions
from core.decal.edits import AS_THEY_ARE, Edited, Edits
from core.decal.film import Excepted
from core.decal.left_out import DroppedPiece
from core.decal.reach_under import FLATNESS_MM, Cover, reach_under
from core.findings import Finding
from core.outline.boolean import solid
from core.outline.curve import joined
from core.outline.knit import knitted
from core.outline.noding import noded
from core.outline.polygon import to_solid
from core.outline.region import Regions
from core.outline.weave import Cloth

#: mm of edge that two films must share for the lower one to go on under the upper one there.
LEAST_EDGE_MM = 0.3
#: mm round an extension in which the edge of its film is looked at.
NEAR_MM = 1.0

Polygon = shapely.Geometry


@dataclass(frozen=True, eq=False)
class CutFilm:
    """regions of one film, the places where it lies under another, and what was done to it by hand."""

    regions: Regions
    overlaps: tuple[Excepted, ...] = ()
    dropped: tuple[DroppedPiece, ...] = ()
    done: ByHand = UNTOUCHED


@dataclass(frozen=True, eq=False)
class CutFilms:
    """The films, the lowest first, and what of that which was asked by hand was not possible."""

    films: tuple[CutFilm, ...]
    findings: tuple[Finding, ...] = ()


def cut_films(
    patches: Sequence[Regions], face: Regions, overlap_mm: float, edits: Edits = AS_THEY_ARE
) -> CutFilms:
    """Each patch inside the face, the lowest first, and overlap_mm (>= 0) of it under those above.

    What is left out is no film, and nothing is led on under it.
    """
    if not face or not any(patches):
        return CutFilms(tuple(CutFilm(()) for _ in patches))
    edited, reach = _rough(patches, face, overlap_mm, edits)
    hidden = [as_regions(one) for one in reach]
    changes = [regions for change in edited.changes for regions in change.every()]
    every = [*patches, face, *changes, *hidden]
    sources = joined([loop.segments() for regions in every for region in regions for loop in region.loops()])
    cloth = Cloth.of(sources, noded(sources))
    flats = _flats(every, cloth)
    count = len(patches)
    bound, changing = flats[count], flats[count + 1 : count + 1 + len(changes)]
    inside = [shapely.intersection(flat, bound) for flat in flats[:count]]
    own, dropped = edited.applied(inside, bound, changing)
    under = _extensions(own, flats[count + 1 + len(changes) :])
    told = zip(own, under, dropped, edited.by_hand, strict=True)
    return CutFilms(tuple(_one(cloth, *one) for one in told), edited.findings)


@dataclass(frozen=True, eq=False)
class _Extension:
    """A piece by which a film goes on under others, and how many mm of the film's edge it lies along."""

    piece: Polygon
    shared_mm: float

    def told(self) -> Excepted:
        at = shapely.point_on_surface(self.piece)
        return Excepted((float(at.x), float(at.y)), "overlap", self.shared_mm)


def _rough(
    patches: Sequence[Regions], face: Regions, overlap_mm: float, edits: Edits
) -> tuple[Edited, list[Polygon]]:
    """What is changed by hand, and where each film goes on under others, found on polygons."""
    count = len(patches)
    nothing: list[Polygon] = [NO_AREA] * count
    if overlap_mm <= 0.0 and edits.is_nothing:
        return Edited.nothing(count), nothing
    bound = _polygon(face)
    films: list[Polygon] = [shapely.intersection(_polygon(patch), bound) for patch in patches]
    edited, films = edits.made(films, bound)
    if overlap_mm <= 0.0:
        return edited, nothing
    covers = [Cover(film, overlap_mm) for film in films]
    return edited, [reach_under(film, covers[place + 1 :]) for place, film in enumerate(films)]


def _polygon(regions: Regions) -> Polygon:
    return to_solid(regions, FLATNESS_MM)


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
        if place + 2 < len(own):  # nothing lies under the uppermost one's neighbour any more
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
    cloth: Cloth,
    film: Polygon,
    under: Sequence[_Extension],
    dropped: tuple[DroppedPiece, ...],
    done: ByHand,
) -> CutFilm:
    whole = shapely.union_all([film, *(one.piece for one in under)]) if under else film
    return CutFilm(knitted(whole, cloth), tuple(one.told() for one in under), dropped, done)
