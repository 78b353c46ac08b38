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

#: rad; a third of a turn, with slack for the last digit of one that is just that.
LONGEST_ARC = 2.0 * np.pi / 3.0 * (1.0 + 1e-6)

#: mm2 by which an area may differ from what its rings bound, each by itself; more is a ring that got lost.
LOST_AREA = 0.01
#: mm2; a crossing that bounds less is a touch whose corner was rounded in the file's last digit.
CROSSING_AREA = 1e-5


def flat_ring(points: Points, bulges: Points) -> Points:
    """Corners (m, 2) mm of the closed contour points (n, 2), bulges (n,); arcs within FLATNESS."""
    arms, sweeps = _arms(points, bulges), 4.0 * np.arctan(bulges)
    radii = np.maximum(np.abs(arms), FLATNESS)
    step = 2.0 * np.arccos(1.0 - np.minimum(FLATNESS / radii, 1.0))
    counts = np.where(bulges == 0.0, 1.0, np.maximum(np.ceil(np.abs(sweeps) / step), 1.0))
    return _along(points, arms, sweeps, counts.astype(np.int64))


def _arms(points: Points, bulges: Points) -> NDArray[np.complex128]:
    """(n,) from the centre of each arc to its start, as complex numbers; 0 for a line."""
    starts = points[:, 0] + 1j * points[:, 1]
    chords = np.roll(starts, -1) - starts
    safe = np.where(bulges == 0.0, 1.0, bulges)
    to_centre = chords / 2.0 + chords * 1j * (1.0 - safe * safe) / (4.0 * safe)
    return np.asarray(np.where(bulges == 0.0, 0.0, -to_centre), dtype=np.complex128)


def _along(points: Points, arms: NDArray[np.complex128], sweeps: Points, counts: NDArray[np.int64]) -> Points:
    """(m, 2): each start, and the places that cut its arc into counts equal pieces."""
    rows = np.repeat(np.arange(len(counts)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    turned = arms[rows] * np.expm1(1j * sweeps[rows] * within / counts[rows])
    return np.asarray(points[rows] + np.column_stack((turned.real, turned.imag)))


def in_short_arcs(points: Points, bulges: Points) -> tuple[Points, Points]:
    """The same closed contour with every arc over LONGEST_ARC cut into equal pieces.

    Formats cut long arcs differently; so cut, two files of one drawing have the same corners.
    """
    sweeps = 4.0 * np.arctan(bulges)
    counts = np.maximum(np.ceil(np.abs(sweeps) / LONGEST_ARC), 1.0).astype(np.int64)
    if counts.max(initial=1) == 1:
        return points, bulges
    cut = np.where(counts > 1, np.tan(sweeps / counts / 4.0), bulges)
    return _along(points, _arms(points, bulges), sweeps, counts), np.repeat(cut, counts)


def area_of(rings: Iterable[Points]) -> BaseGeometry:
    """The area that the rings bound, each ring inside another being an opening of it, and so on."""
    lines = [shapely.LinearRing(ring) for ring in rings if len(ring) >= 3]
    if not lines:
        return shapely.Polygon()
    built = shapely.build_area(shapely.geometrycollections(lines))
    told = abs(sum(_signed_area(np.asarray(line.coords)[:-1]) for line in lines))
    return built if abs(built.area - told) <= LOST_AREA else _even_odd(lines)


def _even_odd(lines: Sequence[shapely.LinearRing]) -> BaseGeometry:
    """The same, ring by ring: where flattening made a ring cross itself, overlaying all at once loses it."""
    area: BaseGeometry = shapely.Polygon()
    for line in lines:
        area = shapely.symmetric_difference(area, shapely.make_valid(shapely.Polygon(line)))
    return areas_in(area)


def areas_in(shape: BaseGeometry) -> BaseGeometry:
    """The shape without the lines and points along which two areas only touch: GEOS overlays no mixture."""
    parts = shapely.get_parts(shape)
    return shapely.union_all(parts[shapely.get_dimensions(parts) == 2])


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


def narrowed(area: BaseGeometry, wider_mm: float) -> BaseGeometry:
    """An area that was drawn wider by so much, mm, as it was meant."""
    if wider_mm == 0.0:
        return area
    return area.buffer(-wider_mm / 2.0, quad_segs=quarter_steps(abs(wider_mm) / 2.0))


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
