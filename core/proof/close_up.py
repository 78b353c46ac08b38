"""A close look at places where the part's edge seems off what a bit can reach.

GEOS leaves hollows out that are shallower than a hundredth of the distance it grows by (its buffer's input
simplifier), so that a closing by a 6 mm bit may be off by 0.03 mm where short pieces meet in a corner. Single
straight pieces have no hollows: about such a place the closing (Serra 1982) is made again from the area swept
by a disc along each piece.
"""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from core.proof.edges import distances_to, samples_along
from core.proof.polygons import areas_in, quarter_steps

Points = NDArray[np.float64]

#: mm from the middle of a look to its border.
HALF = 0.5
#: Places that are looked at; an edge that is off in more is off.
MOST_LOOKS = 40


@dataclass(frozen=True, eq=False)
class Looks:
    """places (n, 2) mm that need one, and how far two edges lie from each other at most elsewhere, mm."""

    places: Points
    elsewhere_mm: float


def looks_at(left: BaseGeometry, reachable: BaseGeometry, within: float) -> Looks:
    """Looks so that each place of either edge farther than within from the other is in one."""
    ways = ((left, reachable), (reachable, left))
    spots = [samples_along(one).points for one, _ in ways]
    gaps = np.concatenate([distances_to(other, own) for (_, other), own in zip(ways, spots, strict=True)])
    waiting = np.vstack(spots)[gaps > within]
    looks: list[Points] = []
    while len(waiting) and len(looks) <= MOST_LOOKS:
        looks.append(waiting[0])
        waiting = waiting[np.abs(waiting - waiting[0]).max(axis=1) > HALF / 2.0]
    return Looks(np.array(looks).reshape(-1, 2), float(gaps[gaps <= within].max(initial=0.0)))


def worst_at(left: BaseGeometry, outline: BaseGeometry, radius: float, places: Points) -> float:
    """mm: the farthest that the edge left lies from the true closing of the outline, about these places."""
    return max((_worst(left, outline, radius, place) for place in places), default=0.0)


def _worst(left: BaseGeometry, outline: BaseGeometry, radius: float, place: Points) -> float:
    near = _box(place, HALF + 2.0 * radius + HALF)
    closed = areas_in(_closed(shapely.intersection(outline, near), outline, radius, near))
    window = _box(place, HALF)
    shown = [shapely.get_coordinates(_along(shape, window)) for shape in (left, closed)]
    gaps = [distances_to(other, own) for own, other in zip(shown, (closed, left), strict=True) if len(own)]
    return float(np.concatenate(gaps).max(initial=0.0)) if gaps else 0.0


def _box(place: Points, half: float) -> BaseGeometry:
    return shapely.box(*(place - half), *(place + half))


def _along(shape: BaseGeometry, window: BaseGeometry) -> BaseGeometry:
    """The border within the window, with places a twentieth of a mm apart."""
    return shapely.segmentize(shapely.intersection(shape.boundary, window), HALF / 10.0)


def _closed(solid: BaseGeometry, outline: BaseGeometry, radius: float, near: BaseGeometry) -> BaseGeometry:
    """The closing, true farther than two radii inside the box near; solid: the outline within it."""
    grown = shapely.union(solid, _swept(shapely.intersection(outline.boundary, near), radius))
    inner = near.buffer(-radius, join_style="mitre")
    return shapely.difference(grown, _swept(shapely.intersection(grown.boundary, inner), radius))


def _swept(lines: BaseGeometry, radius: float) -> BaseGeometry:
    """What a disc of radius mm covers along lines, piece by piece."""
    parts = [part for part in shapely.get_parts(lines) if part.geom_type == "LineString"]
    points, line = shapely.get_coordinates(parts, return_index=True)
    joined = line[1:] == line[:-1]
    pieces = shapely.linestrings(np.stack((points[:-1][joined], points[1:][joined]), axis=1))
    return shapely.union_all(shapely.buffer(pieces, radius, quad_segs=quarter_steps(radius)))
