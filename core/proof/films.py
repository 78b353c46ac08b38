"""Film against part: every film lies inside the face, and is its patch inside it."""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.by_hand import with_islands, with_moved
from core.proof.claims import FilmClaim, TipClaim
from core.proof.edges import EdgeDistance, distances_to, edge_distance, samples_along
from core.proof.overlap import NOTHING_ABOVE, UnderFilm
from core.proof.polygons import FLATNESS, areas_in, quarter_steps
from core.proof.readback import EDGE_WITHIN, Excepted, Why, breach
from core.proof.rim import Asked
from core.proof.rounding import cusps, refilled

#: mm2; what is left of a patch that only just touches the face is no film that anyone could weed.
NOTHING = 1e-4
#: mm; an edge that two films have in common is told once from each side, each flattened as it begins and ends
#: there, so that the two lines may lie this far from each other. A thread of film narrower than twice that is
#: nothing that is seen, and a tenth of what the proof must see.
SEAM = 2.0 * FLATNESS
#: Share by which a piece that was left out may have another area than claimed: flattening takes less.
AREA_WITHIN = 0.01
NO_FILM = shapely.Polygon()


def face_of(
    part: BaseGeometry,
    inset_mm: float,
    tips: Sequence[TipClaim] = (),
    free: BaseGeometry = NO_FILM,
) -> BaseGeometry:
    """Where film may lie: the part as it is left, shrunk by the inset, mm; by less round some tips.

    free: where it keeps farther off.
    """
    face = _shrunk(part, inset_mm)
    nearer = [
        shapely.intersection(
            _shrunk(part, tip.inset_mm),
            shapely.Point(tip.at).buffer(tip.reach_mm, quad_segs=quarter_steps(tip.reach_mm)),
        )
        for tip in tips
    ]
    return _without(shapely.union_all([face, *nearer]) if nearer else face, free)


def _shrunk(part: BaseGeometry, inset_mm: float) -> BaseGeometry:
    return part.buffer(-inset_mm, quad_segs=quarter_steps(inset_mm)) if inset_mm > 0.0 else part


def wanted_film(patch: BaseGeometry, face: BaseGeometry) -> BaseGeometry:
    """The patch inside the face, without the slivers that two nearly equal edges leave."""
    pieces = shapely.get_parts(shapely.intersection(patch, face))
    return shapely.union_all([piece for piece in pieces if piece.area > NOTHING])


def outside_by(film: BaseGeometry, face: BaseGeometry) -> float:
    """How far the film's edge comes out of the face, mm; 0 when it lies inside."""
    shapely.prepare(face)
    points = samples_along(film).points
    out = points[~shapely.contains_properly(face, shapely.points(points))]
    return float(distances_to(face, out).max(initial=0.0))


@dataclass(frozen=True)
class FilmEdge:
    """How far a film is from its patch inside the face, and how far it comes out of the face, mm."""

    off: EdgeDistance
    outside_mm: float


@dataclass(frozen=True)
class Bed:
    """Where a film lies: the face, its patch inside it, and the films seen above it.

    covers are the patches above, beyond the face too and a hair wider, so that no thread of film is left
    along an edge that both have. gone is what was left out of the film,
    corners what rounding may take from it; before is own before edges were moved, seen what shows as read;
    ends where a moved or dropped rim ends: rim.py judges that.
    """

    face: BaseGeometry
    own: BaseGeometry
    under: UnderFilm = NOTHING_ABOVE
    covers: BaseGeometry = NO_FILM
    gone: BaseGeometry = NO_FILM
    corners: BaseGeometry = NO_FILM
    before: BaseGeometry = NO_FILM
    seen: BaseGeometry = NO_FILM
    ends: BaseGeometry = NO_FILM

    def left_out(self) -> list[Excepted]:
        """The pieces that were left out on purpose, each with the length of its edge."""
        pieces = [piece for piece in shapely.get_parts(self.gone) if piece.area > 0.0]
        inside = [shapely.point_on_surface(piece) for piece in pieces]
        return [
            Excepted((at.x, at.y), Why.DROPPED, float(piece.length))
            for piece, at in zip(pieces, inside, strict=True)
        ]


def beds(
    asked: Sequence[Asked],
    left: BaseGeometry,
    films: Sequence[FilmClaim],
    tips: Sequence[TipClaim] = (),
    read: Sequence[BaseGeometry] = (),
    free: BaseGeometry = NO_FILM,
) -> list[Bed]:
    """The bed of each film, the lowest first, from its patch as asked; left is the part as it is left.

    read: the films as they were read, where any of them claims that edges were moved; free: where no film
    lies, since tabs are cut there.
    """
    patches = [one.patch for one in asked]
    faces = {film.inset_mm: face_of(left, film.inset_mm, tips, free) for film in films}
    whole = [wanted_film(patch, faces[film.inset_mm]) for patch, film in zip(patches, films, strict=True)]
    gone = [dropped_of(own, film) for own, film in zip(whole, films, strict=True)]
    own = [_without(one, out) for one, out in zip(whole, gone, strict=True)]
    plain = with_islands(own, films, [faces[film.inset_mm] for film in films])
    seen = _seen(read) if read else plain
    own = with_moved(plain, seen, films)
    patches = [_as_seen(*one) for one in zip(patches, gone, whole, own, strict=True)]
    every = shapely.union_all(own) if any(film.corner_mm for film in films) else NO_FILM
    made = []
    for place, film in enumerate(films):
        uppers = tuple(own[place + 1 :]) if film.overlap_mm > 0.0 else ()
        covers = shapely.buffer(shapely.union_all(patches[place + 1 :]), SEAM) if uppers else NO_FILM
        under = UnderFilm(uppers, film.overlap_mm)
        corners = cusps(own[place], every, film.corner_mm)
        made.append(
            Bed(
                faces[film.inset_mm],
                own[place],
                under,
                covers,
                gone[place],
                corners,
                plain[place],
                seen[place],
                asked[place].ends,
            )
        )
    return made


def _seen(films: Sequence[BaseGeometry]) -> list[BaseGeometry]:
    """What shows of each film, the lowest first."""
    return [
        areas_in(shapely.difference(film, shapely.union_all(list(films[place + 1 :]))))
        for place, film in enumerate(films)
    ]


def _as_seen(patch: BaseGeometry, gone: BaseGeometry, whole: BaseGeometry, own: BaseGeometry) -> BaseGeometry:
    """A patch, beyond the face too, less what was left out, and changed as its film inside the face was."""
    left = _without(patch, gone)
    if own is whole:
        return left
    return shapely.union(shapely.difference(left, shapely.difference(whole, own)), own)


def dropped_of(own: BaseGeometry, film: FilmClaim) -> BaseGeometry:
    """The pieces of a film that were left out as claimed: whole pieces, of the area claimed."""
    parts = shapely.get_parts(own)
    return shapely.union_all(
        [
            part
            for one in film.dropped
            for part in parts[shapely.intersects(parts, shapely.Point(one.at))]
            if abs(part.area - one.area_mm2) <= AREA_WITHIN * part.area + NOTHING
        ]
    )


def _without(area: BaseGeometry, gone: BaseGeometry) -> BaseGeometry:
    return area if gone.is_empty else shapely.difference(area, gone)


def film_edge(film: BaseGeometry, bed: Bed) -> FilmEdge:
    """The film against its patch inside the face, both ways, and against the face.

    What of it lies under other films is left out: overlap.py judges that.
    """
    film_back = refilled(film, bed.corners, bed.own)
    seen = shapely.difference(film_back, bed.covers) if bed.under.uppers else film_back
    own = shapely.difference(bed.own, bed.covers) if bed.under.uppers else bed.own
    off = edge_distance(_without(seen, bed.ends), _without(own, bed.ends))
    return FilmEdge(off, outside_by(film, bed.face))


def film_findings(path: str, edge: FilmEdge) -> tuple[Finding, ...]:
    """Stops: film beyond the face, or other than its patch."""
    found = []
    if edge.outside_mm > EDGE_WITHIN:
        text = f"The film in {path} comes {edge.outside_mm:.4f} mm out of the face of the part."
        found.append(breach("film-outside", text, edge.off.at))
    if edge.off.max_mm > EDGE_WITHIN:
        text = f"The film in {path} is up to {edge.off.max_mm:.4f} mm off its patch inside the face."
        found.append(breach("film-differs", text, edge.off.at))
    return tuple(found)
