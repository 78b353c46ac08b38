"""What makes a machine's measured errors good: scales first, then skew, applied last to its own files.

How much wider than told a machine cuts is made good in the offset: of the router's path from the part, of
the film's edge from where it is meant to be.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import degrees, radians, tan
from typing import Self

import numpy as np

from core.findings import Finding, Level, Point
from core.outline.segments import Floats

#: A machine that is off by more has a fault that no correction should hide (common practice, no source).
LARGEST_SCALE, LARGEST_SKEW = 0.02, radians(1.0)


@dataclass(frozen=True)
class Correction:
    """A point (x, y) is written as (scale_x x + tan(skew) scale_y y, scale_y y); skew in rad."""

    scale_x: float = 1.0
    scale_y: float = 1.0
    skew: float = 0.0
    width_mm: float = 0.0

    @property
    def is_none(self) -> bool:
        """Whether every place is written as it is."""
        return replace(self, width_mm=0.0) == Correction()

    @property
    def bends(self) -> float:
        """How much it changes an arc's radius with direction, as a share; 0 keeps arcs arcs."""
        return abs(self.scale_x / self.scale_y - 1.0) + abs(tan(self.skew))

    @property
    def is_large(self) -> bool:
        """Whether it is more than a machine in order needs."""
        scale = max(abs(self.scale_x - 1.0), abs(self.scale_y - 1.0))
        return scale > LARGEST_SCALE or abs(self.skew) > LARGEST_SKEW

    def words(self) -> str:
        """As the papers say it."""
        return (
            f"x {100.0 * self.scale_x:.2f} %, y {100.0 * self.scale_y:.2f} %, "
            f"leaning {degrees(self.skew):.2f} degrees"
        )

    def findings(self, machine: str) -> tuple[Finding, ...]:
        """A caution where it is large; machine: router or cutter."""
        if not self.is_large:
            return ()
        text = f"The {machine} is corrected by {self.words()}; a machine in order is off by less."
        remedy = "Look for a wrong step setting, a loose belt or a rail out of square before cutting by it."
        return (Finding(Level.CAUTION, "correction-large", text, remedy),)

    def of(self, points: Floats) -> Floats:
        """(n, 2) mm as written."""
        y = self.scale_y * points[:, 1]
        return np.column_stack((self.scale_x * points[:, 0] + tan(self.skew) * y, y))

    def back(self, point: Point) -> Point:
        """The point that is written as this one."""
        y = point[1] / self.scale_y
        return (point[0] - tan(self.skew) * point[1]) / self.scale_x, y

    @classmethod
    def as_reported(cls, stated: Mapping[str, float] | None) -> Self:
        """From what a report states; none where it states none."""
        if stated is None:
            return cls()
        width = stated.get("width_mm", 0.0)
        return cls(stated["scale_x"], stated["scale_y"], radians(stated["skew_deg"]), width)

    def reported(self) -> dict[str, float] | None:
        """As the report states it; None where there is none."""
        if self == Correction():
            return None
        return {
            "scale_x": self.scale_x,
            "scale_y": self.scale_y,
            "skew_deg": degrees(self.skew),
            "width_mm": self.width_mm,
        }
