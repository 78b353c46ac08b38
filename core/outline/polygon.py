"""Regions as polygons for shapely: flattened within a tolerance, never on the way to a file."""

import numpy as np
import shapely

from core.outline.region import Region, Regions
from core.outline.segments import Floats

#: Corners of the simplest polygon.
LEAST_CORNERS = 3


def to_polygon(regions: Regions, tolerance: float) -> shapely.MultiPolygon:
    """The Regions with arcs flattened within tolerance mm; its corners lie on the arcs.

    BadShape when the tolerance is not above 0.
    """
    return shapely.MultiPolygon([_flat(region, tolerance) for region in regions])


def _flat(region: Region, tolerance: float) -> shapely.Polygon:
    """Empty for a sliver that is thinner than the tolerance: its flattened edge has no three corners."""
    outer, *openings = (loop.flattened(tolerance) for loop in region.loops())
    if len(outer) < LEAST_CORNERS:
        return shapely.Polygon()
    return shapely.Polygon(outer, [corners for corners in openings if len(corners) >= LEAST_CORNERS])


def to_solid(regions: Regions, tolerance: float) -> shapely.Geometry:
    """The same as one valid area: where flattening made thin walls cross, what is left of them."""
    return shapely.union_all(without_crossings(np.asarray(shapely.get_parts(to_polygon(regions, tolerance)))))


def closed(corners: Floats) -> Floats:
    """(m + 1, 2): the corners and the first once more."""
    return np.vstack((corners, corners[:1]))


def without_crossings(polygons: np.ndarray) -> list[shapely.Geometry]:
    """The polygons (n,); where flattening made walls thinner than itself cross, what is left of them."""
    broken = ~shapely.is_valid(polygons)
    mended = polygons.copy()
    mended[broken] = shapely.make_valid(polygons[broken], method="structure", keep_collapsed=False)
    return list(mended)
