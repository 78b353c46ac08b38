"""Waste that would come loose: what becomes of each piece.

The bit sweeps everything near the parts. What is left of the waste is the frame and, as openings of that
sweep, pieces that nothing holds: cores of openings, and of bays whose mouth the bit fills. Pieces that hang
on the frame by a thread break off under the bit, and count as loose too.
"""

import math
from dataclasses import dataclass

import numpy as np

from core.outline.loop import Loop
from core.outline.measure import contains
from core.outline.offset import grown, shrunk
from core.outline.polygon import to_polygon
from core.outline.region import Region, Regions
from core.router.setup import Setup

#: mm2: smaller waste is milled away: it is what flies (bench practice, no source).
SMALL_MM2 = 400.0
#: mm2: a smaller rest is a chip like any other.
CHIP_MM2 = 0.05
#: mm; a quick look may err by this; what only it opens or closes hangs by a thread either way.
LOOK_MM = 0.01
#: mm; what hangs on the frame by less breaks off (bench practice, no source).
THREAD_MM = 2.0


@dataclass(frozen=True, eq=False)
class Waste:
    """A loose piece: the Region that the contours leave of it, and whether it is milled away wholly."""

    piece: Region
    is_milled: bool


def loose_waste(parts: Regions, setup: Setup) -> tuple[Waste, ...]:
    """Every piece of waste that the contours of the parts (as cut) would free, small ones first.

    Openings narrower than three bits or smaller than SMALL_MM2 are milled away wholly; what holds a part
    of its own never is.
    """
    corners = np.array([region.outer.points[0] for region in parts])
    found = [_judged(piece, parts, corners, setup) for piece in _pieces(parts, setup)]
    return tuple(sorted(found, key=lambda waste: waste.piece.area()))


def swept_mm(setup: Setup) -> float:
    """How far from a part the bit takes everything away."""
    return setup.bit.diameter_mm + setup.allowance_mm


def _pieces(parts: Regions, setup: Setup) -> list[Loop]:
    """The outer edges of all pieces: those cut free, and those that only hang by a thread."""
    free = _enclosed(parts, swept_mm(setup))
    half = THREAD_MM / 2.0
    kernels = _enclosed(parts, swept_mm(setup) + half)
    if not kernels:
        return free
    inside = contains(tuple(Region(loop) for loop in free), np.array([loop.points[0] for loop in kernels]))
    hanging = tuple(Region(loop) for loop, is_free in zip(kernels, inside, strict=True) if not is_free)
    return free + [region.outer for region in grown(hanging, half)] if hanging else free


def _enclosed(parts: Regions, distance: float) -> list[Loop]:
    """What lies farther than distance from the parts but not open to the outside, counter-clockwise."""
    if not _may_enclose(parts, distance):
        return []
    openings = [opening.reversed() for region in grown(parts, distance) for opening in region.openings]
    return [loop for loop in openings if loop.signed_area() > CHIP_MM2]


def _may_enclose(parts: Regions, distance: float) -> bool:
    """A quick look whether there is any such place: exact offsets are dear, and most parts have none."""
    import shapely  # noqa: PLC0415 - slow to import, needed only here

    swept = shapely.union_all(shapely.buffer(shapely.get_parts(to_polygon(parts, LOOK_MM)), distance))
    return any(len(part.interiors) > 0 for part in shapely.get_parts(swept))


def _judged(loop: Loop, parts: Regions, corners: np.ndarray, setup: Setup) -> Waste:
    inside = np.flatnonzero(contains((Region(loop),), corners))
    if inside.size:
        kept = grown(tuple(parts[index] for index in inside), swept_mm(setup))
        return Waste(Region(loop, tuple(region.outer.reversed() for region in kept)), is_milled=False)
    piece = Region(loop)
    is_small = _waste_area(loop, swept_mm(setup)) < SMALL_MM2
    return Waste(piece, is_milled=is_small or not shrunk((piece,), _least_core_mm(setup) / 2.0))


def _least_core_mm(setup: Setup) -> float:
    """How wide the core of an opening three bits wide is."""
    return max(3.0 * setup.bit.diameter_mm - 2.0 * swept_mm(setup), 0.0)


def _waste_area(loop: Loop, distance: float) -> float:
    """Area, mm2, of what the piece was before the bit took distance round it (Steiner's formula)."""
    return loop.signed_area() + loop.length() * distance + math.pi * distance**2
