"""Waste milled away wholly: rings from the middle out, none farther from the next than the bit covers.

Offsets of a piece at distances s apart leave nothing between them when s is at most the bit's radius: a
point between two rings lies nearer than s to the outer one.
"""

import math

from core.outline.loop import Loop
from core.outline.offset import shrunk
from core.outline.polygon import to_polygon
from core.outline.region import Region
from core.router.depths import descent
from core.router.passes import drop
from core.router.setup import Setup
from core.router.strand import Strand, strand_along
from core.router.unrolled import Unrolled

#: Bit radii between two rings: a tenth in hand for flattening and for a bit that is worn.
COVERED = 0.9
#: mm to which the deepest place of a piece is found.
DEEPEST_MM = 0.01
#: mm; what flattening may take from a piece while its deepest place is looked for.
FLAT_MM = 1e-3
#: mm; a ring shorter than this is a dot that the ring round it covers.
SHORTEST_RING_MM = 0.05


def milled_away(name: str, piece: Region, setup: Setup) -> tuple[Strand, ...]:
    """Strands that turn a piece of waste (without openings) into chips, the innermost first."""
    return tuple(_ring(name, loop, setup) for loop in rings(piece, setup.bit.radius_mm))


def rings(piece: Region, radius: float) -> tuple[Loop, ...]:
    """Centre paths, counter-clockwise, innermost first; the last is the piece's own edge."""
    reach = COVERED * radius
    deep = max(deepest_mm(piece) - reach, 0.0)
    count = math.ceil(deep / reach - DEEPEST_MM)
    loops = [piece.outer]
    for step in range(1, count + 1):
        loops += [region.outer for region in shrunk((piece,), deep * step / count)]
    return tuple(loop for loop in reversed(loops) if loop.length() > SHORTEST_RING_MM)


def deepest_mm(piece: Region) -> float:
    """How far the deepest place of a piece lies from its edge, mm, within DEEPEST_MM."""
    import shapely  # noqa: PLC0415 - slow to import, needed only here

    solid = to_polygon((piece,), FLAT_MM)
    return float(shapely.length(shapely.maximum_inscribed_circle(solid, tolerance=DEEPEST_MM)))


def _ring(name: str, loop: Loop, setup: Setup) -> Strand:
    path = Unrolled.of(loop if setup.rough_keeps_part_right else loop.reversed())
    return strand_along(name, path, descent(0.0, path.length, drop(setup)), setup.cutting)
