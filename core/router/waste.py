"""Waste that would come loose: what becomes of each piece.

The bit sweeps everything within its diameter of the parts. What is left of the waste is the frame and, as
openings of that sweep, pieces that nothing holds: cores of openings, and of bays whose mouth the bit fills.
"""

import math
from dataclasses import dataclass

import numpy as np

from core.outline.loop import Loop
from core.outline.measure import contains
from core.outline.offset import grown, shrunk
from core.outline.region import Region, Regions
from core.router.bit import Bit

#: mm2: smaller waste is milled away: it is what flies (bench practice, no source).
SMALL_MM2 = 400.0
#: mm2: a smaller rest is a chip like any other.
CHIP_MM2 = 0.05


@dataclass(frozen=True, eq=False)
class Waste:
    """A loose piece: the Region that the contours leave of it, and whether it is milled away wholly."""

    piece: Region
    is_milled: bool


def loose_waste(parts: Regions, bit: Bit) -> tuple[Waste, ...]:
    """Every piece of waste that the contours of the parts (as cut) would free, small ones first.

    Openings narrower than three bits or smaller than SMALL_MM2 are milled away wholly; what holds a part
    of its own never is.
    """
    swept = grown(parts, bit.diameter_mm)
    loops = [opening.reversed() for region in swept for opening in region.openings]
    corners = np.array([region.outer.points[0] for region in parts])
    found = [_judged(loop, parts, corners, bit) for loop in loops if loop.signed_area() > CHIP_MM2]
    return tuple(sorted(found, key=lambda waste: waste.piece.area()))


def _judged(loop: Loop, parts: Regions, corners: np.ndarray, bit: Bit) -> Waste:
    inside = np.flatnonzero(contains((Region(loop),), corners))
    if inside.size:
        kept = grown(tuple(parts[index] for index in inside), bit.diameter_mm)
        return Waste(Region(loop, tuple(region.outer.reversed() for region in kept)), is_milled=False)
    piece = Region(loop)
    is_small = _waste_area(loop, bit.diameter_mm) < SMALL_MM2
    return Waste(piece, is_milled=is_small or not shrunk((piece,), bit.radius_mm))


def _waste_area(loop: Loop, distance: float) -> float:
    """Area, mm2, of what the piece was before the bit took distance round it (Steiner's formula)."""
    return loop.signed_area() + loop.length() * distance + math.pi * distance**2
