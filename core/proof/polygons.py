"""Contours read from a drawing's bytes, as polygons that can be compared.

The arc formulas here are the proof's own: chord and half sweep from the bulge, points by turning the
radius, so that a mistake in the drawings' geometry is not made here again.
"""

from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

Points = NDArray[np.float64]

#: mm by which a chord may cut off its arc: a twentieth of the 0.01 mm that the proof must see.
FLATNESS = 5e-4

#: mm2; a crossing that bounds less is a touch whose corner was rounded in the file's last digit.
CROSSING_AREA = 1e-5


def flat_ring(points: Points, bulges: Points) -> Points:
    """Corners (m, 2) mm of the closed contour points (n, 2), bulges (n,); arcs within FLATNESS."""
    ends = np.roll(points, -1, axis=0)
    pieces = [
        points[i : i + 1] if bulges[i] == 0.0 else _arc(points[i], ends[i], float(bulges[i]))
        for i in range(len(points))
    ]
    return np.vstack(pieces)


def _arc(start: Points, end: Points, bulge: float) -> Points:
    chord = complex(*(end - start))
    if chord == 0:
        return start[None, :]
    sweep = 4.0 * np.arctan(bulge)
    centre = complex(*start) + chord / 2.0 + chord * 1j * (1.0 - bulge * bulge) / (4.0 * bulge)
    arm = complex(*start) - centre
    step = 2.0 * np.arccos(max(1.0 - FLATNESS / abs(arm), 0.0)) if abs(arm) > FLATNESS else np.pi / 4.0
    turns = np.arange(max(int(np.ceil(abs(sweep) / step)), 1))
    around = centre + arm * np.exp(1j * sweep * turns / len(turns))
    return np.column_stack((around.real, around.imag))


def area_of(rings: Iterable[Points]) -> BaseGeometry:
    """The area that the rings bound, each ring inside another being an opening of it, and so on."""
    lines = [shapely.LinearRing(ring) for ring in rings if len(ring) >= 3]
    if not lines:
        return shapely.Polygon()
    return shapely.build_area(shapely.geometrycollections(lines))


def crossing_of(rings: Sequence[Points]) -> tuple[float, float] | None:
    """A place where a ring crosses itself or another, or None; touching at a point is no crossing.

    Rings that do not cross, outer ones counter-clockwise and openings clockwise, bound just the sum of
    their signed areas.
    """
    lines = shapely.MultiLineString([np.vstack((ring, ring[:1])) for ring in rings if len(ring) >= 3])
    if shapely.is_simple(lines):
        return None
    noded = shapely.unary_union(lines)
    summed = abs(sum(_signed_area(ring) for ring in rings))
    if abs(shapely.build_area(noded).area - summed) < CROSSING_AREA:
        return None
    ends = shapely.get_coordinates(shapely.boundary(noded))
    return (float(ends[0, 0]), float(ends[0, 1])) if len(ends) else (0.0, 0.0)


def _signed_area(ring: Points) -> float:
    x, y = (ring - ring[0]).T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2.0)


def closed_by(area: BaseGeometry, radius: float) -> BaseGeometry:
    """What a round bit leaves of a solid: its closing (Serra 1982), grown and shrunk by radius mm."""
    return area.buffer(radius, quad_segs=quarter_steps(radius)).buffer(
        -radius, quad_segs=quarter_steps(radius)
    )


def quarter_steps(radius: float) -> int:
    """Chords in a quarter circle of radius mm that stay within FLATNESS / 4."""
    if radius <= FLATNESS:
        return 4
    return int(np.ceil(np.pi / (4.0 * np.arccos(1.0 - FLATNESS / (4.0 * radius)))))
