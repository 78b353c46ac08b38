"""Where one film lies under another on purpose: no less than was claimed, no more, and never three thick.

The rule, from the patches of the part drawing and two claims (t, and which film lies on which): a lower film
goes on under an upper one for t, but no farther than half the upper one's local width less 0.2 mm; where that
is thinner than 1.5 mm, it runs straight through. The end of an extension is hidden under the film above it,
so it may stray by HIDDEN_WITHIN; all edges that are seen are judged without it, to the hundredth.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.edges import distances_to, samples_along
from core.proof.polygons import areas_in
from core.proof.readback import Excepted, Why, breach

#: mm that the hidden end of an extension may stray from its place.
HIDDEN_WITHIN = 0.1
#: mm: lines thinner than the first are passed under; extensions end this far from the middle of wider ones.
THIN, FROM_MIDDLE = 1.5, 0.2
#: mm between the widths at which the reach is looked at.
WIDTH_STEP = 0.05
#: mm2 and mm: openings so small are filled, and films that share less edge do not reach under each other.
SMALL_OPENING, LITTLE_EDGE = 3.0, 1.0
#: mm within which two edges are one, and mm2 of overlap that two rounded edges alone make.
SAME_EDGE, NO_PLACE = 1e-3, 1e-2
#: mm that a hidden edge may stray for fewer corners: a fiftieth of what its end may.
ROUGH = 2e-3
#: Chords in a quarter circle; at a radius of 1.5 mm they stray by 0.005 mm.
CHORDS = 10


@dataclass(frozen=True)
class UnderFilm:
    """What lies above a film, in order, and how far it may go on under it, mm."""

    uppers: tuple[BaseGeometry, ...] = ()
    overlap_mm: float = 0.0

    @cached_property
    def above(self) -> BaseGeometry:
        """All that lies above."""
        return shapely.union_all(list(self.uppers))


NOTHING_ABOVE = UnderFilm()


def allowed_under(own: BaseGeometry, under: UnderFilm) -> BaseGeometry:
    """Where the film may go on, at most."""
    own, uppers = _roughly(own), map(_roughly, under.uppers)
    zones = [_allowed(own, upper, under.overlap_mm) for upper in uppers]
    parts = shapely.get_parts(shapely.union_all([*zones, own]))  # nothing of it lies above itself
    filled = [_filled(part) for part in parts if isinstance(part, shapely.Polygon)]
    return shapely.intersection(shapely.union_all(filled), under.above)


def _filled(part: shapely.Polygon) -> shapely.Polygon:
    """The part without its small openings."""
    large = [ring for ring in part.interiors if shapely.Polygon(ring).area >= SMALL_OPENING]
    return shapely.Polygon(part.exterior, large)


def _allowed(own: BaseGeometry, upper: BaseGeometry, overlap_mm: float) -> BaseGeometry:
    least = min(overlap_mm, THIN / 2.0 - FROM_MIDDLE)
    zones = [_by(own, least + HIDDEN_WITHIN)]
    for reach in np.arange(least, overlap_mm, WIDTH_STEP).tolist():
        wide = _opened(upper, reach + FROM_MIDDLE - HIDDEN_WITHIN)
        zones.append(_by(own, reach + WIDTH_STEP + HIDDEN_WITHIN).intersection(_by(wide, HIDDEN_WITHIN)))
    thin = upper.difference(_opened(upper, THIN / 2.0 + HIDDEN_WITHIN))
    zones.append(_by(own, THIN + HIDDEN_WITHIN).intersection(_by(thin, HIDDEN_WITHIN)))
    return shapely.intersection(shapely.union_all(zones), upper)


def needed_under(own: BaseGeometry, under: UnderFilm) -> BaseGeometry:
    """Where the film must go on, at least, unless another one lies there already."""
    own, uppers = _roughly(own), map(_roughly, under.uppers)
    pieces = [piece for upper in uppers for piece in _needed(own, upper, under.overlap_mm)]
    return shapely.union_all(pieces) if pieces else shapely.Polygon()


def _needed(own: BaseGeometry, upper: BaseGeometry, overlap_mm: float) -> list[BaseGeometry]:
    least = min(overlap_mm, THIN / 2.0 - FROM_MIDDLE)
    wide = _opened(upper, overlap_mm + FROM_MIDDLE + HIDDEN_WITHIN)
    thin = _opened(upper.difference(_opened(upper, THIN / 2.0 - HIDDEN_WITHIN)), 2.0 * HIDDEN_WITHIN)
    zones = [
        _by(own, least - HIDDEN_WITHIN).intersection(upper),
        _by(own, overlap_mm - HIDDEN_WITHIN).intersection(wide),
        _by(own, THIN - HIDDEN_WITHIN).intersection(thin),
    ]
    whole = _opened(shapely.union_all(zones), HIDDEN_WITHIN)
    touching = _by(own, HIDDEN_WITHIN)
    return [
        piece
        for piece in shapely.get_parts(whole)
        if shapely.intersection(shapely.boundary(piece), touching).length > LITTLE_EDGE
    ]


def _roughly(area: BaseGeometry) -> BaseGeometry:
    """The area with as few corners as its hidden edges need."""
    return shapely.simplify(area, ROUGH)


def _by(area: BaseGeometry, distance: float) -> BaseGeometry:
    return shapely.buffer(area, distance, quad_segs=CHORDS)


def _opened(area: BaseGeometry, radius: float) -> BaseGeometry:
    return _by(_by(area, -radius), radius)


def overlap_findings(
    path: str, film: BaseGeometry, own: BaseGeometry, under: UnderFilm, taken: BaseGeometry
) -> tuple[Finding, ...]:
    """Stops: the film goes on too far, not far enough, or makes three films thick with what is taken."""
    found: list[Finding] = []
    extension = areas_in(shapely.intersection(film, under.above))
    far, at = _beyond(extension, allowed_under(own, under))
    if far > HIDDEN_WITHIN:
        text = f"The film in {path} goes {far:.3f} mm too far under the film above it."
        found.append(breach("film-overlap-wide", text, at))
    third = _opened(shapely.intersection(extension, taken), HIDDEN_WITHIN / 2.0)
    if not third.is_empty:
        at = (third.representative_point().x, third.representative_point().y)
        found.append(breach("film-three-thick", f"The film in {path} makes three films thick.", at))
    lacking, at = _beyond(needed_under(own, under), shapely.union_all([film, _by(taken, HIDDEN_WITHIN)]))
    if lacking > HIDDEN_WITHIN:
        text = f"The film in {path} ends {lacking:.3f} mm short of what it should have under another film."
        found.append(breach("film-overlap-short", text, at))
    return tuple(found)


def overlaps_in(film: BaseGeometry, own: BaseGeometry, under: UnderFilm) -> tuple[Excepted, ...]:
    """Each place where the film lies under another, and the length of edge at which it goes there."""
    pieces = shapely.get_parts(shapely.intersection(film, under.above))
    edge = shapely.buffer(shapely.boundary(own), SAME_EDGE)
    return tuple(_told(piece, edge) for piece in pieces if piece.area > NO_PLACE)


def _told(piece: BaseGeometry, edge: BaseGeometry) -> Excepted:
    at = shapely.point_on_surface(piece)
    shared = shapely.intersection(shapely.boundary(piece), edge)
    return Excepted((float(at.x), float(at.y)), Why.OVERLAP, float(shapely.length(shared)))


def _beyond(area: BaseGeometry, bound: BaseGeometry) -> tuple[float, tuple[float, float] | None]:
    """How far the edge of area comes out of bound, mm, and where that is most."""
    points = samples_along(area).points
    shapely.prepare(bound)
    out = points[~shapely.intersects(bound, shapely.points(points))] if len(points) else points
    if not len(out):
        return 0.0, None
    gaps = distances_to(bound, out)
    worst = int(gaps.argmax())
    return float(gaps[worst]), (float(out[worst, 0]), float(out[worst, 1]))
