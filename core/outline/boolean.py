"""Union, intersection and difference of Regions."""

import shapely

from core.outline.loop import Loop
from core.outline.polygon import to_polygon
from core.outline.region import Region, Regions

#: mm; arcs are flattened this finely.
FLAT = 1e-4


def union(a: Regions, b: Regions) -> Regions:
    """What lies in either."""
    return regions_from(shapely.union(_solid(a), _solid(b)))


def intersection(a: Regions, b: Regions) -> Regions:
    """What lies in both."""
    return regions_from(shapely.intersection(_solid(a), _solid(b)))


def difference(a: Regions, b: Regions) -> Regions:
    """What lies in a and not in b."""
    return regions_from(shapely.difference(_solid(a), _solid(b)))


def _solid(regions: Regions) -> shapely.Geometry:
    return shapely.union_all(shapely.make_valid(shapely.get_parts(to_polygon(regions, FLAT))))


def regions_from(flat: shapely.Geometry) -> Regions:
    """Regions with straight edges from what shapely made."""
    parts = [part for part in shapely.get_parts(flat) if part.geom_type == "Polygon" and part.area > FLAT**2]
    return tuple(_region(part) for part in shapely.orient_polygons(parts))


def _region(part: shapely.Polygon) -> Region:
    rings = [shapely.get_coordinates(ring)[:-1] for ring in (part.exterior, *part.interiors)]
    loops = [Loop(ring, 0.0 * ring[:, 0]) for ring in rings]
    return Region(loops[0], tuple(loops[1:]))
