"""One stretch of cutting without lifting."""

from dataclasses import dataclass, replace

import numpy as np

from core.outline.segments import Floats, Segments
from core.router.cutting import Cutting
from core.router.depths import Depths
from core.router.feeds import feeds_along
from core.router.unrolled import Unrolled


@dataclass(frozen=True, eq=False)
class Strand:
    """name in words; points (n + 1, 3) mm; bulges (n,) seen from above; feeds (n,) mm/min.

    side: 1 where it leaves the part's edge on its left, -1 on its right, 0 where it leaves none.
    """

    name: str
    points: Floats
    bulges: Floats
    feeds: Floats
    side: int = 0

    def lengths(self) -> Floats:
        """(n,) mm of each move in space."""
        return lengths_of(self.points, self.bulges)


def lengths_of(points: Floats, bulges: Floats) -> Floats:
    """(n,) mm in space of the moves through points (n + 1, 3) mm; a rising arc is a helix."""
    flat = Segments.along(points[:, :2], bulges).lengths()
    return np.asarray(np.hypot(flat, np.diff(points[:, 2])))


def strand_of(name: str, points: Floats, bulges: Floats, cutting: Cutting) -> Strand:
    """A Strand with the feeds that its slopes allow."""
    feeds = feeds_along(lengths_of(points, bulges), np.diff(points[:, 2]), cutting)
    return Strand(name, points, bulges, feeds)


def strand_along(name: str, path: Unrolled, depths: Depths, cutting: Cutting, side: int = 0) -> Strand:
    """The run along a path at the given depths, from the first knot to the last."""
    trail = path.trail(depths.distances)
    points = np.column_stack((trail.points, depths.at(trail.distances)))
    return replace(strand_of(name, points, trail.bulges, cutting), side=side)
