"""How far two edges lie from each other, both ways, along their whole length.

Both are polygons read back from files. Points are laid along every straight piece of both, no further
apart than SPACING, so that no stretch of edge goes unseen; each is measured to the other edge exactly.
"""

from dataclasses import dataclass
from math import inf

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from core.proof.near import nearest_among

#: mm; between two points of a straight piece the distance to a nearly parallel edge cannot rise by more
#: than the sine of the angle between them times half of this.
SPACING = 0.2

#: mm; nearly every point of two edges that are meant to be one lies so near, and is found at once.
NEAR = 0.02

Points = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class EdgeSamples:
    """points (n, 2) mm on an edge, and weights (n,) mm: the length that each stands for."""

    points: Points
    weights: Points


@dataclass(frozen=True)
class EdgeDistance:
    """Root mean square along both edges and the greatest distance, mm, and where that is."""

    rms_mm: float
    max_mm: float
    at: tuple[float, float] | None


def samples_along(edge: BaseGeometry) -> EdgeSamples:
    """Corners and points between them, no further apart than SPACING, along every ring."""
    points, rings = shapely.get_coordinates(_rings(edge), return_index=True)
    if len(points) < 2:
        return EdgeSamples(np.empty((0, 2)), np.empty(0))
    inside = rings[1:] == rings[:-1]
    starts, ends = points[:-1][inside], points[1:][inside]
    lengths = np.hypot(*(ends - starts).T)
    counts = np.maximum(np.ceil(lengths / SPACING), 1).astype(np.int64)
    rows = np.repeat(np.arange(len(counts)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    share = (within / counts[rows])[:, None]
    return EdgeSamples(starts[rows] * (1 - share) + ends[rows] * share, (lengths / counts)[rows])


def _rings(area: BaseGeometry) -> NDArray[np.object_]:
    """The rings of all areas in it: an overlay may mix in lines and points, and a mixture has no boundary."""
    parts = shapely.get_parts(area)
    borders = np.asarray(shapely.boundary(parts[shapely.get_dimensions(parts) == 2]))
    return np.asarray(shapely.get_parts(borders), dtype=object)


def distances_to(edge: BaseGeometry, points: Points) -> Points:
    """(n,) mm from each point to the nearest place of the edge; infinite when there is no edge."""
    gaps = np.full(len(points), inf)
    starts, ends = _pieces(edge)
    if len(points) == 0 or len(starts) == 0:
        return gaps
    gaps = nearest_among(points, starts, ends, NEAR)
    far = np.nonzero(~np.isfinite(gaps))[0]
    if far.size:
        pieces = np.asarray(shapely.linestrings(np.stack((starts, ends), axis=1)))
        places = np.asarray(shapely.points(points[far]))
        found, near = shapely.STRtree(pieces).query_nearest(places, all_matches=False, return_distance=True)
        gaps[far[found[0]]] = near
    return gaps


def _pieces(edge: BaseGeometry) -> tuple[Points, Points]:
    """Starts and ends (m, 2) mm of the edge's straight pieces."""
    points, rings = shapely.get_coordinates(_rings(edge), return_index=True)
    inside = rings[1:] == rings[:-1]
    return points[:-1][inside], points[1:][inside]


def edge_distance(one: BaseGeometry, other: BaseGeometry) -> EdgeDistance:
    """Both ways along the whole edge; zero between two edges that are both nothing."""
    if one.is_empty and other.is_empty:
        return EdgeDistance(0.0, 0.0, None)
    ways = [samples_along(one), samples_along(other)]
    gaps = [distances_to(other, ways[0].points), distances_to(one, ways[1].points)]
    points = np.vstack([way.points for way in ways])
    weights, gap = np.concatenate([way.weights for way in ways]), np.concatenate(gaps)
    worst = int(gap.argmax())
    rms = float(np.sqrt(np.average(gap**2, weights=weights))) if np.isfinite(gap).all() else inf
    return EdgeDistance(rms, float(gap[worst]), (float(points[worst, 0]), float(points[worst, 1])))
