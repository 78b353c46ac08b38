"""Union, intersection and difference of Regions, made of the very lines and arcs of both.

1. The segments of both are cut where they meet (noding.py); what coincides becomes one.
2. Both are flattened along the pieces, so that they share corners wherever they share a place, and
   shapely finds what of them lies in the result. It decides which pieces survive, not where they lie.
3. The rings it gives are told again as lines and arcs (knit.py); whole segments stay as they were, to the
   last bit. What is thinner than the flattening (weave.FLAT) is dropped.
"""

from collections.abc import Callable

import numpy as np
import shapely

from core.outline.curve import joined
from core.outline.knit import knitted
from core.outline.noding import noded
from core.outline.polygon import without_crossings
from core.outline.region import Regions
from core.outline.segments import Floats
from core.outline.weave import Cloth

Overlay = Callable[[shapely.Geometry, shapely.Geometry], shapely.Geometry]


def union(a: Regions, b: Regions) -> Regions:
    """What lies in either."""
    return _overlaid(a, b, shapely.union) if a and b else (a or b)


def intersection(a: Regions, b: Regions) -> Regions:
    """What lies in both."""
    return _overlaid(a, b, shapely.intersection) if a and b else ()


def difference(a: Regions, b: Regions) -> Regions:
    """What lies in a and not in b."""
    return _overlaid(a, b, shapely.difference) if a and b else a


def _overlaid(a: Regions, b: Regions, overlay: Overlay) -> Regions:
    sources = joined([loop.segments() for region in (*a, *b) for loop in region.loops()])
    cloth = Cloth.of(sources, noded(sources))
    count = sum(len(loop.bulges) for region in a for loop in region.loops())
    return knitted(overlay(solid(a, cloth, 0), solid(b, cloth, count)), cloth)


def solid(regions: Regions, cloth: Cloth, first: int) -> shapely.Geometry:
    """The Regions flattened along the pieces of cloth; their segments are its sources from first on."""
    polygons = []
    for region in regions:
        rings = []
        for loop in region.loops():
            rings.append(_ring(cloth, range(first, first + len(loop.bulges))))
            first += len(loop.bulges)
        polygons.append(shapely.Polygon(rings[0], rings[1:]))
    parts = without_crossings(np.array(polygons))
    return parts[0] if len(parts) == 1 else shapely.union_all(parts)


def _ring(cloth: Cloth, sources: range) -> Floats:
    return np.concatenate([cloth.way(source)[:-1] for source in sources])
