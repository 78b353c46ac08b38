"""Where a copy lies: moved, and turned by half a turn where it is nested into another's bays."""

from dataclasses import dataclass

import numpy as np

from core.findings import Point
from core.outline.loop import Bounds, Loop
from core.outline.region import Regions, mapped
from core.outline.segments import Floats


@dataclass(frozen=True)
class Placement:
    """The point (x, y) goes to at + (x, y), or to at - (x, y) where the copy is turned; mm.

    Half a turn and steps of 0.5 mm keep every number that a file says exact.
    """

    at: Point = (0.0, 0.0)
    is_turned: bool = False

    def points(self, points: Floats) -> Floats:
        """(n, 2) mm, moved."""
        return np.asarray(np.array(self.at) + (-points if self.is_turned else points))

    def point(self, point: Point) -> Point:
        """One point, moved."""
        x, y = self.points(np.array([point]))[0].tolist()
        return float(x), float(y)

    def back(self, points: Floats) -> Floats:
        """(n, 2) mm: where points of the copy come from."""
        away = points - np.array(self.at)
        return np.asarray(-away if self.is_turned else away)

    def loop(self, loop: Loop) -> Loop:
        """A Loop, moved; half a turn keeps its turning sense and its bulges."""
        return loop if self == Placement() else Loop(self.points(loop.points), loop.bulges)

    def regions(self, regions: Regions) -> Regions:
        """Regions, moved."""
        return regions if self == Placement() else mapped(regions, self.loop)

    def after(self, first: "Placement") -> "Placement":
        """What takes the copy placed by first to where this one lies."""
        is_turned = self.is_turned is not first.is_turned
        x, y = first.at
        return Placement(
            (self.at[0] + x, self.at[1] + y) if is_turned else (self.at[0] - x, self.at[1] - y), is_turned
        )


def repeated(regions: Regions, copies: tuple[Placement, ...]) -> Regions:
    """The Regions of every copy, copy by copy."""
    return tuple(region for copy in copies for region in copy.regions(regions))


def box_of(box: Bounds, copies: tuple[Placement, ...]) -> Bounds:
    """The box round all copies of something with this box, mm."""
    corners = np.array([copy.points(np.array([box[:2], box[2:]])) for copy in copies]).reshape(-1, 2)
    (left, near), (right, far) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
    return float(left), float(near), float(right), float(far)


def size_of(box: Bounds, copies: tuple[Placement, ...]) -> tuple[float, float]:
    """Width and depth of that box, mm."""
    left, near, right, far = box_of(box, copies)
    return right - left, far - near
