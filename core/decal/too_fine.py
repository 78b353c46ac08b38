"""What of a film is too fine for the knife or for weeding, each with a point in the piece or opening.

Letters ask for the same: stroke and gap of 0.8 mm, counters of 2 mm2 (common practice, no source).
"""

from collections.abc import Callable, Sequence
from typing import TypeVar

import shapely

from core.decal.fine import gap_places
from core.decal.islands import TINY_OPENING_MM2, tiny_openings
from core.decal.thin import (
    LEAST_GAP_MM,
    LEAST_STROKE_MM,
    TINY_PIECE_MM2,
    Polygon,
    ThinPlace,
    thin_places,
)
from core.findings import Finding, Level, Point
from core.outline.polygon import to_solid
from core.outline.region import Regions

#: Places of one kind told one by one for each film; beyond it the first and their number say as much.
MOST_PLACES = 24
#: mm that a film's polygon strays from its arcs.
FLATNESS_MM = 0.01

T = TypeVar("T")


def fineness_findings(names: Sequence[str], films: Sequence[Regions], face: Regions) -> list[Finding]:
    """Cautions for pieces, strokes, gaps and openings of films that are too small; frame, mm."""
    solids = [_solid(regions) for regions in films]
    bound = _solid(face)
    found: list[Finding] = []
    for place, (name, film) in enumerate(zip(names, solids, strict=True)):
        if shapely.is_empty(film):
            continue
        others = [other for row, other in enumerate(solids) if row != place]
        parts = list(shapely.get_parts(film))
        tiny = [part for part in parts if shapely.area(part) < TINY_PIECE_MM2]
        rest = shapely.union_all([part for part in parts if shapely.area(part) >= TINY_PIECE_MM2])
        found += _listed(name, tiny, _tiny_piece)
        found += _listed(name, thin_places(rest, LEAST_STROKE_MM), _thin_stroke)
        found += _listed(name, gap_places(film, (), LEAST_GAP_MM), _thin_gap)
        found += _listed(name, tiny_openings(film, others, bound), _tiny_opening)
    return found


def _solid(regions: Regions) -> Polygon:
    return to_solid(regions, FLATNESS_MM)


def _listed(name: str, places: Sequence[T], told: Callable[[str, T], Finding]) -> list[Finding]:
    """One finding for each place up to MOST_PLACES, the last of them with the number of those left."""
    found = [told(name, place) for place in places[:MOST_PLACES]]
    more = len(places) - MOST_PLACES
    return found if more <= 0 else [*found, _and_more(name, more)]


def _tiny_piece(name: str, piece: Polygon) -> Finding:
    area = float(shapely.area(piece))
    text = f"A piece of the film {name} has {area:.2f} mm2; under {TINY_PIECE_MM2:g} it gets lost."
    remedy = "Leave the piece out, join it to its neighbour, give its patch another role, or make all larger."
    return Finding(Level.CAUTION, "tiny-piece", text, remedy, _inside(piece))


def _thin_stroke(name: str, place: ThinPlace) -> Finding:
    return Finding(
        Level.CAUTION,
        "thin-stroke",
        f"A stroke of the film {name} is {place.width_mm:.2f} mm wide; under {LEAST_STROKE_MM:g} it drags.",
        "Have strokes thickened (film.stroke), or make the shape larger, or the inset smaller.",
        place.at,
    )


def _thin_gap(name: str, place: ThinPlace) -> Finding:
    return Finding(
        Level.CAUTION,
        "thin-gap",
        f"A gap in the film {name} is {place.width_mm:.2f} mm wide; under {LEAST_GAP_MM:g} its edges tear.",
        "Have gaps opened (film.gap), strokes that show in them thickened (film.stroke), or make all larger.",
        place.at,
    )


def _tiny_opening(name: str, opening: Polygon) -> Finding:
    area = float(shapely.area(opening))
    return Finding(
        Level.CAUTION,
        "tiny-opening",
        f"An opening of the film {name} has {area:.2f} mm2; under {TINY_OPENING_MM2:g} it tears out.",
        "Fill the opening (film.filled), or make the shape larger.",
        _inside(opening),
    )


def _and_more(name: str, more: int) -> Finding:
    return Finding(
        Level.CAUTION,
        "small-pieces",
        f"The film {name} has {more} more places that are too fine.",
        "Make the shape larger, or have all small pieces and openings treated alike.",
    )


def _inside(area: Polygon) -> Point:
    at = shapely.point_on_surface(area)
    return float(at.x), float(at.y)
