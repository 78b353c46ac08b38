"""Regions as polygons for shapely: flattened within a tolerance, never on the way to a file."""

from itertools import pairwise

import numpy as np
import shapely

from core.outline.curve import joined
from core.outline.region import Regions
from core.outline.segments import Floats

#: Corners of the simplest polygon.
LEAST_CORNERS = 3


def to_polygon(regions: Regions, tolerance: float) -> shapely.MultiPolygon:
    """The Regions with arcs flattened within tolerance mm; its corners lie on the arcs.

    BadShape when the tolerance is not above 0.
    """
    rings = _flattened(regions, tolerance)
    polygons, first = [], 0
    for region in regions:
        outer, *openings = rings[first : first + 1 + len(region.openings)]
        first += 1 + len(region.openings)
        polygons.append(_flat(outer, openings))
    return shapely.MultiPolygon(polygons)


def to_solid(regions: Regions, tolerance: float) -> shapely.Geometry:
    """The same as a valid area: where flattening made thin walls cross, what is left of them."""
    flat = to_polygon(regions, tolerance)
    if shapely.is_valid(flat):
        return flat
    return shapely.union_all(without_crossings(shapely.get_parts(flat)))


def _flattened(regions: Regions, tolerance: float) -> list[Floats]:
    """The corners of every Loop, all of them found at once."""
    loops = [loop for region in regions for loop in region.loops()]
    if not loops:
        return []
    if not tolerance > 0.0:
        return [loop.flattened(tolerance) for loop in loops]
    segments = joined([loop.segments() for loop in loops])
    counts = segments.steps(tolerance)
    corners = segments.corners(tolerance)
    last = np.cumsum(np.add.reduceat(counts, _firsts([len(loop.bulges) for loop in loops])))
    return [corners[low:high] for low, high in pairwise([0, *last.tolist()])]


def _firsts(sizes: list[int]) -> np.ndarray:
    return np.cumsum([0, *sizes[:-1]])


def _flat(outer: Floats, openings: list[Floats]) -> shapely.Polygon:
    """Empty for a sliver that is thinner than the tolerance: its flattened edge has no three corners."""
    if len(outer) < LEAST_CORNERS:
        return shapely.Polygon()
    return shapely.Polygon(outer, [corners for corners in openings if len(corners) >= LEAST_CORNERS])


def closed(corners: Floats) -> Floats:
    """(m + 1, 2): the corners and the first once more."""
    return np.vstack((corners, corners[:1]))


def without_crossings(polygons: np.ndarray) -> list[shapely.Geometry]:
    """The polygons (n,); where flattening made walls thinner than itself cross, what is left of them."""
    broken = ~shapely.is_valid(polygons)
    mended = polygons.copy()
    mended[broken] = shapely.make_valid(polygons[broken], method="structure", keep_collapsed=False)
    return list(mended)
