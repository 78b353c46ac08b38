"""The fit band: where a film's edge may come to lie along the part's, laid as badly as is to be expected.

Film laid off by e may have its edge anywhere from e farther out to e farther in. Only edges that follow the
part's are told: between two films, and inside the part, nothing shows how a film was laid. All this is for
the eye, so it is found on polygons.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from core.decal.change import as_regions
from core.outline.polygon import to_solid
from core.outline.region import Regions

#: mm that polygons stray from arcs, and beyond the inset within which an edge follows the part's.
FLATNESS_MM, NEAR_MM = 0.01, 0.3
#: Chords in a quarter circle: within 0.003 mm at a radius of 1 mm.
CHORDS = 10


@dataclass(frozen=True, eq=False)
class FitBand:
    """off_mm: the error to expect; on_part, over_edge: where edges of film may lie; frame, mm."""

    off_mm: float
    on_part: Regions
    over_edge: Regions


def fit_band(films: Sequence[Regions], as_cut: Regions, inset_mm: float, off_mm: float) -> FitBand:
    """The band of films on a part as the bit leaves it, laid off by off_mm (> 0) in any direction."""
    part = _solid(as_cut)
    film = shapely.union_all([_solid(regions) for regions in films])
    edge = shapely.intersection(
        shapely.boundary(film), shapely.buffer(shapely.boundary(part), inset_mm + NEAR_MM, quad_segs=CHORDS)
    )
    band = shapely.buffer(edge, off_mm, quad_segs=CHORDS)
    return FitBand(
        off_mm, as_regions(shapely.intersection(band, part)), as_regions(shapely.difference(band, part))
    )


def _solid(regions: Regions) -> shapely.Geometry:
    return to_solid(regions, FLATNESS_MM)
