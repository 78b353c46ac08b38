"""Outside corners that were rounded on purpose: where a film may fall short of its patch, and where it does.

A fillet of radius r leaves all that a disc of radius r reaches inside the films taken together (their
opening, Serra 1982), so corners at which films meet are none. What a disc does not reach counts only
where it is as small as a corner's cusp: a thin stroke has no disc in it either, and must be there.
"""

import shapely
from shapely.geometry.base import BaseGeometry

from core.proof.polygons import quarter_steps
from core.proof.readback import Excepted, Why

#: Times the radius squared: the cusp of a corner of 20 degrees has 4.3 (cot(a / 2) - (pi - a) / 2).
LARGEST_CUSP = 5.0
#: mm that an allowed place is widened, so that no thread stays between it and the film.
SEAM = 2e-3
#: mm; overlays on this grid always end well, also where a disc's edge runs along a film's.
GRID = 1e-6
#: mm2; less is the flattening of two arcs that are one.
NOTHING = 1e-3


def cusps(own: BaseGeometry, every: BaseGeometry, radius: float) -> BaseGeometry:
    """The parts of a film (every: all films together) that rounding by radius mm may take."""
    if radius <= 0.0:
        return shapely.Polygon()
    steps = quarter_steps(radius)
    whole = every.buffer(SEAM).buffer(-SEAM)  # neighbours share their edge but for its last digit
    opened = shapely.make_valid(whole.buffer(-radius, quad_segs=steps).buffer(radius, quad_segs=steps))
    parts = shapely.get_parts(shapely.difference(shapely.make_valid(own), opened, grid_size=GRID))
    return shapely.union_all(parts[shapely.area(parts) <= LARGEST_CUSP * radius**2], grid_size=GRID)


def refilled(film: BaseGeometry, allowed: BaseGeometry, own: BaseGeometry) -> BaseGeometry:
    """The film with what rounding may have taken from it put back."""
    if allowed.is_empty:
        return film
    return shapely.union(film, _within(shapely.buffer(allowed, SEAM), own), grid_size=GRID)


def _within(area: BaseGeometry, own: BaseGeometry) -> BaseGeometry:
    parts = shapely.get_parts(shapely.intersection(area, own, grid_size=GRID))
    solid: BaseGeometry = shapely.multipolygons(
        parts[shapely.get_type_id(parts) == shapely.GeometryType.POLYGON]
    )
    return solid


def rounded_in(film: BaseGeometry, allowed: BaseGeometry, own: BaseGeometry) -> list[Excepted]:
    """The corners that were rounded, each with the length of edge that is gone."""
    found = []
    for part in shapely.get_parts(shapely.difference(allowed, film, grid_size=GRID)):
        if part.area > NOTHING:
            at = shapely.point_on_surface(part)
            edge = shapely.intersection(shapely.boundary(own), shapely.buffer(part, SEAM))
            found.append(Excepted((at.x, at.y), Why.ROUNDED, float(edge.length)))
    return found
