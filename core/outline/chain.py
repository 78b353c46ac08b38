"""Lines and arcs from one node to another, or round a ring: a piece of edge with a patch on each side."""

from dataclasses import dataclass, field

import numpy as np

from core.errors import BadShape
from core.outline.loop import frozen_copy
from core.outline.segments import Floats, Segments


@dataclass(frozen=True, eq=False)
class Chain:
    """points (n + 1, 2) and bulges (n,), n >= 1; left and right are the indices of the faces on each side.

    A ring ends where it begins: its first and last point are equal to the last bit. The unit is the
    Outline's, picture pixels or mm. Raises BadShape for arrays of another form or that are not finite.
    """

    points: Floats
    bulges: Floats
    left: int
    right: int
    is_ring: bool = field(init=False)

    def __post_init__(self) -> None:
        points, bulges = frozen_copy(self.points), frozen_copy(self.bulges)
        fits = bulges.ndim == 1 and bulges.size >= 1 and points.shape == (bulges.size + 1, 2)
        if not (fits and np.isfinite(points).all() and np.isfinite(bulges).all()):
            raise BadShape(f"points {points.shape}, bulges {bulges.shape}: not a finite Chain")
        object.__setattr__(self, "points", points)
        object.__setattr__(self, "bulges", bulges)
        object.__setattr__(self, "is_ring", bool((points[0] == points[-1]).all()))

    def segments(self) -> Segments:
        """The segments as arrays."""
        return Segments.along(self.points, self.bulges)

    def reversed(self) -> "Chain":
        """The same edge run the other way, its sides exchanged."""
        return Chain(self.points[::-1], -self.bulges[::-1], self.right, self.left)

    def mapped(self, scale: float, shift: Floats) -> "Chain":
        """Scaled about the origin by scale > 0, then moved by shift (2,)."""
        return Chain(self.points * scale + shift, self.bulges, self.left, self.right)
