"""Waste that would come loose: what becomes of each piece.

The bit sweeps everything near the parts. What is left of the waste is the frame and, as openings of that
sweep, pieces that nothing holds: cores of openings, and of bays whose mouth the bit fills. Pieces that hang
on the frame by a thread break off under the bit, and count as loose too; where they are milled away, the bit
goes beyond them, and may cut crumbs off the frame: these are milled away in turn.
"""

import math
from dataclasses import dataclass

import numpy as np

from core.findings import Point
from core.outline.boolean import union
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
#: Rounds of crumbs that milling crumbs cuts off in turn; each round's are smaller.
MOST_ROUNDS = 8


@dataclass(frozen=True, eq=False)
class Waste:
    """A loose piece: the Region that the contours leave of it, and whether it is milled away wholly."""

    piece: Region
    is_milled: bool


def loose_waste(parts: Regions, setup: Setup, *, is_tight: bool = False) -> tuple[Waste, ...]:
    """Every piece of waste that the contours of the parts (as cut) would free, small ones first.

    Openings narrower than three bits or smaller than SMALL_MM2 are milled away wholly; what holds a part
    of its own never is. is_tight: the passes of some contour run on its exact path, so that the bit takes
    its width and no allowance beside it.
    """
    swept = _Swept(setup.bit.diameter_mm if is_tight else swept_mm(setup), swept_mm(setup))
    corners = np.array([region.outer.points[0] for region in parts])
    free, hanging = _pieces(parts, swept)
    found = [_judged(piece, parts, corners, swept, setup) for piece in (*free, *hanging)]
    torn = tuple(waste.piece for waste in found[len(free) :] if waste.is_milled)
    known = tuple(waste.piece for waste in found)
    found += [Waste(piece, is_milled=True) for piece in _crumbs(parts, torn, known, swept, setup)]
    return tuple(sorted(found, key=lambda waste: waste.piece.area()))


@dataclass(frozen=True)
class _Swept:
    """How far from a part the bit takes everything away, mm: at least, and at most."""

    least: float
    most: float


def swept_mm(setup: Setup) -> float:
    """How far from a part the bit takes everything away, where its passes leave an allowance."""
    return setup.bit.diameter_mm + setup.allowance_mm


def _pieces(parts: Regions, swept: _Swept) -> tuple[list[Loop], list[Loop]]:
    """The outer edges of all pieces: those cut free, and those that only hang by a thread."""
    free = _enclosed(parts, swept.least)
    half = THREAD_MM / 2.0 + swept.most - swept.least
    kernels = _enclosed(parts, swept.least + half)
    if not kernels:
        return free, []
    inside = contains(tuple(Region(loop) for loop in free), np.array([loop.points[0] for loop in kernels]))
    hanging = tuple(Region(loop) for loop, is_free in zip(kernels, inside, strict=True) if not is_free)
    return free, [region.outer for region in grown(hanging, half)] if hanging else []


def _crumbs(parts: Regions, torn: Regions, known: Regions, swept: _Swept, setup: Setup) -> tuple[Region, ...]:
    """What milling the torn pieces cuts off the frame; known: all pieces that are seen to already."""
    if not torn:
        return ()
    crumbs, gone = list[Region](), grown(parts, swept.least)
    for _ in range(MOST_ROUNDS):
        gone = union(gone, grown(torn, setup.bit.radius_mm))
        loops = [opening.reversed() for region in gone for opening in region.openings]
        pieces = [Region(loop) for loop in loops if loop.signed_area() > CHIP_MM2]
        seen = contains((*known, *parts), np.array([_inside(piece) for piece in pieces]).reshape(-1, 2))
        torn = tuple(piece for piece, is_seen in zip(pieces, seen, strict=True) if not is_seen)
        if not torn:
            break
        crumbs += torn
    return tuple(crumbs)


def _inside(piece: Region) -> Point:
    """A place well inside a piece."""
    place = to_polygon((piece,), LOOK_MM).representative_point()
    return (float(place.x), float(place.y))


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


def _judged(loop: Loop, parts: Regions, corners: np.ndarray, swept: _Swept, setup: Setup) -> Waste:
    inside = np.flatnonzero(contains((Region(loop),), corners))
    if inside.size:
        kept = grown(tuple(parts[index] for index in inside), swept.least)
        return Waste(Region(loop, tuple(region.outer.reversed() for region in kept)), is_milled=False)
    piece = Region(loop)
    is_small = _waste_area(loop, swept.least) < SMALL_MM2
    return Waste(piece, is_milled=is_small or not shrunk((piece,), _least_core_mm(swept, setup) / 2.0))


def _least_core_mm(swept: _Swept, setup: Setup) -> float:
    """How wide the core of an opening three bits wide is."""
    return max(3.0 * setup.bit.diameter_mm - 2.0 * swept.least, 0.0)


def _waste_area(loop: Loop, distance: float) -> float:
    """Area, mm2, of what the piece was before the bit took distance round it (Steiner's formula)."""
    return loop.signed_area() + loop.length() * distance + math.pi * distance**2
