"""On to the wall and off it again: tangent arcs on the scrap side, inside the slot that is already cut.

A lead arc touches the exact path where the last lap begins or ends, and leaves it sideways by what the
passes left, so that it lies in the slot of the passes and cuts nothing new that matters.
"""

import math
from dataclasses import dataclass

import numpy as np

from core.outline.measure import Inside
from core.outline.segments import Floats, Segments
from core.router.unrolled import SHORTEST_MM, Unrolled

#: Radii tried, in radii of the bit: at least the bit's where there is room (trade press on plastics).
RADII = (3.0, 1.0, 0.5)
#: mm sideways where the passes left nothing on the wall, and bit radii: it is cut at full depth.
LEAST_SIDEWAYS_MM, SIDEWAYS = 0.1, 0.5
#: Places along a lead at which it is looked at.
LOOKS = np.linspace(0.05, 1.0, 6)


@dataclass(frozen=True)
class LeadShape:
    """radius and sideways in mm; scrap: +1 where the waste lies to the left of travel, else -1."""

    radius: float
    sideways: float
    scrap: int

    @property
    def sweep(self) -> float:
        """How far the arc turns, rad."""
        return math.acos(1.0 - min(self.sideways / self.radius, 1.0))

    @property
    def bulge(self) -> float:
        """The arc's bulge, for leading in and out alike."""
        return self.scrap * math.tan(self.sweep / 4.0)

    @property
    def along_mm(self) -> float:
        """How far along the path the arc's far end lies from its touch."""
        return self.radius * math.sin(self.sweep)

    def far_ends(self, path: Unrolled, at: Floats, way: int) -> Floats:
        """(n, 2) mm: where leads start that touch path at distances at (n,); way -1 in, +1 out."""
        spots = path.at(at)
        along = way * self.along_mm
        ahead = np.column_stack((np.cos(spots.headings), np.sin(spots.headings)))
        return np.asarray(spots.to_left(self.scrap * self.sideways) + along * ahead)


def shapes(bit_radius: float, allowance: float, scrap: int) -> tuple[LeadShape, ...]:
    """The leads to try, the widest first."""
    sideways = allowance if allowance >= SHORTEST_MM else min(LEAST_SIDEWAYS_MM, SIDEWAYS * bit_radius)
    return tuple(LeadShape(share * bit_radius, sideways, scrap) for share in RADII)


def are_free(path: Unrolled, at: Floats, shape: LeadShape, overlap: float, kept: Inside) -> np.ndarray:
    """(n,) bool: whether leads in at distances at (n,) and out overlap mm later stay out of kept.

    kept: the parts grown by the bit's radius, where its centre may never be.
    """
    touch_in, touch_out = path.at(at).points, path.at(at + overlap).points
    points = np.vstack(
        (
            _looks(shape.far_ends(path, at, -1), touch_in, shape.bulge),
            _looks(shape.far_ends(path, at + overlap, 1), touch_out, -shape.bulge),
        )
    )
    return np.asarray(~kept.holds(points).reshape(2, at.size, LOOKS.size).any(axis=(0, 2)))


def _looks(far: Floats, touch: Floats, bulge: float) -> Floats:
    """(n m, 2): points of each arc from its touch to its far end, the touch itself left out."""
    rows = np.repeat(np.arange(len(far)), LOOKS.size)
    arcs = Segments(touch[rows], far[rows], np.full(rows.size, -bulge))
    return arcs.points_at(np.tile(LOOKS, len(far)))
