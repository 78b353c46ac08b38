"""A closed chain of straight lines and circular arcs, in millimetres.

Segment i runs from points[i] to points[i + 1], the last one back to points[0]; its bulge is
tan(sweep / 4), positive counter-clockwise, 0 for a line (DXF Reference, LWPOLYLINE, group 42).
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.errors import BadShape
from core.outline.segments import Floats, Segments

Bounds = tuple[float, float, float, float]


def frozen_copy(values: Floats) -> Floats:
    """A float64 copy that nobody can write to."""
    array = np.array(values, dtype=np.float64)
    array.setflags(write=False)
    return array


@dataclass(frozen=True, eq=False)  # no ==: two arrays have no single truth value
class Loop:
    """points (n, 2) mm and bulges (n,), n >= 2, finite float64, kept as read-only copies; else BadShape."""

    points: Floats
    bulges: Floats

    def __post_init__(self) -> None:
        points, bulges = frozen_copy(self.points), frozen_copy(self.bulges)
        fits = bulges.ndim == 1 and points.shape == (bulges.size, 2) and bulges.size >= 2
        if not (fits and np.isfinite(points).all() and np.isfinite(bulges).all()):
            raise BadShape(f"points {points.shape}, bulges {bulges.shape}: not a finite Loop")
        object.__setattr__(self, "points", points)
        object.__setattr__(self, "bulges", bulges)

    @classmethod
    def circle(cls, centre: tuple[float, float], radius: float) -> "Loop":
        """A counter-clockwise circle as two half turns, radius mm."""
        x, y = centre
        return cls(np.array([[x + radius, y], [x - radius, y]]), np.array([1.0, 1.0]))

    def segments(self) -> Segments:
        """The segments as arrays; a line is an arc whose sweep is 0."""
        return Segments.between(self.points, self.bulges)

    def length(self) -> float:
        """Length of the whole chain, mm."""
        return float(self.segments().lengths().sum())

    def signed_area(self) -> float:
        """Area, mm2, positive counter-clockwise: shoelace formula plus the caps of the arcs."""
        return self._signed_area

    @cached_property  # every Region asks for it, and whoever looks for the largest does again
    def _signed_area(self) -> float:
        x, y = (self.points - self.points[0]).T  # near the origin, products keep their digits
        shoelace = (x[:-1] * y[1:] - x[1:] * y[:-1]).sum() / 2.0  # the last corner's with the first is 0
        caps = self.segments().cap_areas().sum() if self.bulges.any() else 0.0
        return float(shoelace + caps)

    def bounds(self) -> Bounds:
        """x_min, y_min, x_max, y_max, mm, with the bellies of the arcs."""
        reach = np.vstack((self.points, self.segments().turning_points()))
        low, high = reach.min(axis=0), reach.max(axis=0)
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])

    def scaled(self, factor: float) -> "Loop":
        """The same shape, factor (> 0, else BadShape) times as large about the origin."""
        if not factor > 0.0:
            raise BadShape(f"a scale factor is above 0, not {factor}")
        return Loop(self.points * factor, self.bulges)

    def moved(self, x: float, y: float) -> "Loop":
        """The same shape, moved by (x, y) mm."""
        return Loop(self.points + np.array([x, y]), self.bulges)

    def mirrored(self, mirror_x: float) -> "Loop":
        """X becomes 2 mirror_x - x; run the other way, so that its turning sense stays."""
        points = self.points * np.array([-1.0, 1.0]) + np.array([2.0 * mirror_x, 0.0])
        return Loop(points, -self.bulges).reversed()

    def reversed(self) -> "Loop":
        """The same shape, run the other way; its first point stays first."""
        return Loop(np.roll(self.points[::-1], 1, axis=0), -self.bulges[::-1])

    def flattened(self, tolerance: float) -> Floats:
        """Corners (m, 2) mm of a polygon within tolerance (mm, > 0, else BadShape) of the Loop."""
        if not tolerance > 0.0:
            raise BadShape(f"a tolerance is above 0, not {tolerance}")
        return self.segments().corners(tolerance)


Moved = Callable[[Loop], Loop]
