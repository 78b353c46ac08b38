"""Film that stands back from holding tabs: they are cut level with it, by a blade that would take it along.

Films behind the stock lie on the side on which the tabs stand; from the stub of each on the part's wall they
keep so much farther than from the rest of the edge.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce

import numpy as np

from core.findings import Point
from core.outline.boolean import difference, union
from core.outline.loop import Loop
from core.outline.region import Region, Regions

#: mm that film stands back at a tab beyond the inset (common practice, no source).
RELIEF_MM = 1.0
#: mm; a wall whose ends lie nearer to its middle is a point.
SHORTEST_MM = 1e-3


@dataclass(frozen=True)
class Relief:
    """A tab's stub on the part's wall (start, middle, end), and how far film keeps from it; mm, frame."""

    wall: tuple[Point, Point, Point]
    reach_mm: float

    def regions(self) -> Regions:
        """What no film lies in: both halves of the wall, grown by the reach."""
        start, middle, end = self.wall
        return union(_grown(start, middle, self.reach_mm), _grown(middle, end, self.reach_mm))


def relieved(face: Regions, reliefs: Sequence[Relief]) -> Regions:
    """The face less what is kept free at tabs."""
    if not reliefs:
        return face
    return difference(face, reduce(union, (relief.regions() for relief in reliefs)))


def _grown(start: Point, end: Point, reach_mm: float) -> Regions:
    """A line grown by reach: two sides and two half circles."""
    one, other = np.array(start), np.array(end)
    length = float(np.hypot(*(other - one)))
    if length < SHORTEST_MM:
        return (Region(Loop.circle(start, reach_mm)),)
    aside = reach_mm * np.array([-(other - one)[1], (other - one)[0]]) / length
    points = np.array([one - aside, other - aside, other + aside, one + aside])
    return (Region(Loop(points, np.array([0.0, 1.0, 0.0, 1.0]))),)
