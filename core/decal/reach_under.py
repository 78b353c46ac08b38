"""How far a lower film reaches under its neighbours: films shrink, and a butt joint opens to a light line.

Trapping as in sign making (overlap always; dark over light is nicer). For a lower film L and an upper one U:

1. under wide places of U, L reaches t;
2. under narrower ones, half of U's local width less 0.2 mm, so that two extensions never meet;
3. under a line of U thinner than 1.5 mm, L runs straight through.

Local width is that of the largest disc inside U, by openings with discs (Serra 1982). All this is found on
polygons, since the edge that follows from it lies under another film; where it meets an edge that is
seen, that edge is cut exactly (cut_films.py).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely

#: mm; under a line thinner than this the lower film runs straight through.
THIN_MM = 1.5
#: mm that an extension stays short of the middle of what it lies under.
SHORT_OF_MIDDLE_MM = 0.2
#: mm between the widths at which the local width is asked for.
WIDTH_STEP_MM = 0.2
#: mm; places of U narrower than this beside a wider one are the crumbs that an opening leaves in corners.
CRUMB_MM = 0.15
#: mm by which an extension overshoots an edge at which it is cut exactly later on.
OVERSHOOT_MM = 0.05
#: mm that polygons stray from arcs, and that the hidden edge may stray from its place.
FLATNESS_MM, HIDDEN_MM = 0.01, 0.02
#: mm; spikes and slots of the hidden edge narrower than twice this are smoothed away.
SMOOTH_MM = 0.1
#: mm; the hidden edge is drawn on this far beyond what it lies under; a rounded end is cut off.
BEYOND_MM = 0.3
#: Chords in a quarter circle: within 0.01 mm at a radius of 1 mm.
CHORDS = 6
#: The same at SMOOTH_MM.
SMOOTH_CHORDS = 2
#: mm2; an opening left under an upper film that is smaller than this would not weed, so it is filled.
LEAST_OPENING_MM2 = 3.0

Polygon = shapely.Geometry


@dataclass(frozen=True, eq=False)
class Cover:
    """A film under which others reach by overlap_mm; its wide and thin places are found once, if at all."""

    film: Polygon
    overlap_mm: float

    @cached_property
    def wide(self) -> tuple[tuple[float, Polygon], ...]:
        """How far films reach under it beyond the least, mm, each with where it is wide enough for that."""
        return tuple(
            (reach_mm, _grown(_opened(self.film, reach_mm + SHORT_OF_MIDDLE_MM), OVERSHOOT_MM))
            for reach_mm in reaches(self.overlap_mm)[1:]
        )

    @cached_property
    def thin(self) -> Polygon:
        """Where it is a line under which films run straight through."""
        lines = _opened(shapely.difference(self.film, _opened(self.film, THIN_MM / 2.0)), CRUMB_MM)
        return lines if shapely.is_empty(lines) else _grown(lines, OVERSHOOT_MM)


def reach_under(lower: Polygon, covers: Sequence[Cover]) -> Polygon:
    """Where the lower film may go on under the upper ones; beyond those it says nothing."""
    near = [cover for cover in covers if shapely.dwithin(lower, cover.film, FLATNESS_MM)]
    if not near:
        return shapely.Polygon()
    reach = shapely.union_all([_under(lower, cover) for cover in near])
    # What is far from every upper film is no matter, and would only be long edges to be cut.
    above = shapely.union_all([cover.film for cover in near])
    along = shapely.intersection(shapely.union(reach, lower), _grown(above, BEYOND_MM))
    # Fewer corners first: each round that a buffer gives has more of them than it needs.
    smooth = _smoothed(shapely.simplify(along, FLATNESS_MM))
    return _without_small_openings(shapely.simplify(smooth, HIDDEN_MM - FLATNESS_MM))


def _without_small_openings(area: Polygon) -> Polygon:
    rings = [shapely.Polygon(ring) for part in shapely.get_parts(area) for ring in part.interiors]
    small = [ring for ring in rings if shapely.area(ring) < LEAST_OPENING_MM2]
    return shapely.union_all([area, *small]) if small else area


def _under(lower: Polygon, cover: Cover) -> Polygon:
    reach = [_grown(lower, min(cover.overlap_mm, THIN_MM / 2.0 - SHORT_OF_MIDDLE_MM))]
    reach += [shapely.intersection(_grown(lower, reach_mm), wide) for reach_mm, wide in cover.wide]
    if not shapely.is_empty(cover.thin):
        reach.append(shapely.intersection(_grown(lower, THIN_MM), cover.thin))
    return shapely.union_all(reach)


def reaches(overlap_mm: float) -> list[float]:
    """mm: what is asked for under widths from 1.5 mm up, growing to the whole overlap."""
    least = min(overlap_mm, THIN_MM / 2.0 - SHORT_OF_MIDDLE_MM)
    between = np.arange(least, overlap_mm, WIDTH_STEP_MM / 2.0).tolist()
    return [least, *(after for _, after in pairwise([*between, overlap_mm]))]


def _grown(area: Polygon, distance_mm: float) -> Polygon:
    return shapely.buffer(area, distance_mm, quad_segs=CHORDS)


def _opened(area: Polygon, radius_mm: float) -> Polygon:
    return _grown(_grown(area, -radius_mm), radius_mm)


def _smoothed(area: Polygon) -> Polygon:
    """Closed, then opened, by SMOOTH_MM."""
    for step_mm in (SMOOTH_MM, -2.0 * SMOOTH_MM, SMOOTH_MM):
        area = shapely.buffer(area, step_mm, quad_segs=SMOOTH_CHORDS)
    return area
