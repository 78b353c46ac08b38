"""Film against part: every film lies inside the face, and is its patch inside it."""

from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.edges import EdgeDistance, distances_to, edge_distance, samples_along
from core.proof.polygons import quarter_steps
from core.proof.readback import EDGE_WITHIN, breach

#: mm2; what is left of a patch that only just touches the face is no film that anyone could weed.
NOTHING = 1e-4


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


def film_edge(film: BaseGeometry, patch: BaseGeometry, face: BaseGeometry) -> FilmEdge:
    """The film against its patch inside the face, both ways, and against the face."""
    return FilmEdge(edge_distance(film, wanted_film(patch, face)), outside_by(film, face))


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
