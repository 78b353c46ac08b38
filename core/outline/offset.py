"""Regions grown and shrunk by a disc."""

import shapely

from core.outline.boolean import FLAT, _solid, regions_from
from core.outline.region import Regions


def grown(regions: Regions, distance_mm: float) -> Regions:
    """The Regions and all within distance_mm of them."""
    return regions_from(shapely.buffer(_solid(regions), distance_mm, quad_segs=64).simplify(FLAT))


def shrunk(regions: Regions, distance_mm: float) -> Regions:
    """What lies deeper than distance_mm inside the Regions."""
    return regions_from(shapely.buffer(_solid(regions), -distance_mm, quad_segs=64).simplify(FLAT))
