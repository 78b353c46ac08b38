"""Film against part: every film lies inside the face, and is its patch inside it."""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.claims import FilmClaim
from core.proof.edges import EdgeDistance, distances_to, edge_distance, samples_along
from core.proof.overlap import NOTHING_ABOVE, UnderFilm
from core.proof.polygons import FLATNESS, quarter_steps
from core.proof.readback import EDGE_WITHIN, breach

#: mm2; what is left of a patch that only just touches the face is no film that anyone could weed.
NOTHING = 1e-4
#: mm; an edge that two films have in common is told once from each side, each flattened as it begins and ends
#: there, so that the two lines may lie this far from each other. A thread of film narrower than twice that is
#: nothing that is seen, and a tenth of what the proof must see.
SEAM = 2.0 * FLATNESS
NO_FILM = shapely.Polygon()


def face_of(part: BaseGeometry, inset_mm: float) -> BaseGeometry:
    """Where film may lie: the part as it is left, shrunk by the inset, mm."""
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
    along an edge that both have.
    """

    face: BaseGeometry
    own: BaseGeometry
    under: UnderFilm = NOTHING_ABOVE
    covers: BaseGeometry = NO_FILM


def beds(patches: Sequence[BaseGeometry], left: BaseGeometry, films: Sequence[FilmClaim]) -> list[Bed]:
    """The bed of each film, the lowest film first; left is the part as it is left."""
    faces = {film.inset_mm: face_of(left, film.inset_mm) for film in films}
    own = [wanted_film(patch, faces[film.inset_mm]) for patch, film in zip(patches, films, strict=True)]
    made = []
    for place, film in enumerate(films):
        uppers = tuple(own[place + 1 :]) if film.overlap_mm > 0.0 else ()
        covers = shapely.buffer(shapely.union_all(patches[place + 1 :]), SEAM) if uppers else NO_FILM
        made.append(Bed(faces[film.inset_mm], own[place], UnderFilm(uppers, film.overlap_mm), covers))
    return made


def film_edge(film: BaseGeometry, bed: Bed) -> FilmEdge:
    """The film against its patch inside the face, both ways, and against the face.

    What of it lies under other films is left out: overlap.py judges that.
    """
    seen = shapely.difference(film, bed.covers) if bed.under.uppers else film
    own = shapely.difference(bed.own, bed.covers) if bed.under.uppers else bed.own
    return FilmEdge(edge_distance(seen, own), outside_by(film, bed.face))


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
