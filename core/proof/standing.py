"""What stands after a program: pieces of the sheet, the tabs between them, and what has come loose.

Everything is in the program's coordinates, mm. `sheet` is the stock seen from above. A piece that touches
the sheet's border is held by what holds the sheet; every other piece at the stock's true bottom is loose.
"""

from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from core.program.read.program import Program
from core.proof.removal import Cuts, cuts_below, swept, without_repeats

#: mm; a remnant narrower than twice this is dust on the edge and no piece.
DUST = 0.01
#: mm2; a smaller remnant is a chip like any other (a tooth's bite of 0.04 mm across a 2 mm slot has 0.08).
CHIP = 0.06
#: mm; edges this near each other are one edge, as both are flattened within a twentieth of 0.01 mm.
TOUCHING = 2e-3

Point = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Pieces:
    """Polygons left of the sheet at one depth: held touch its border, free do not."""

    held: tuple[shapely.Polygon, ...]
    free: tuple[shapely.Polygon, ...]


@dataclass(frozen=True, eq=False)
class Loose:
    """A piece that nothing holds: its area, a point inside it, and the line that cut it free."""

    piece: shapely.Polygon
    at: Point
    line: int


def pieces_left(sheet: BaseGeometry, gone: BaseGeometry) -> Pieces:
    """What is left of the sheet, largest first; dust and chips are no pieces."""
    left = shapely.get_parts(shapely.difference(sheet, gone))
    whole = [piece for piece in left if piece.area > CHIP and not shapely.buffer(piece, -DUST).is_empty]
    ordered = sorted(whole, key=lambda piece: (-piece.area, piece.bounds))
    border = shapely.boundary(sheet)
    is_held = shapely.distance(np.array(ordered, dtype=object), border) < TOUCHING
    return Pieces(
        tuple(piece for piece, held in zip(ordered, is_held, strict=True) if held),
        tuple(piece for piece, held in zip(ordered, is_held, strict=True) if not held),
    )


def loose_pieces(program: Program, sheet: BaseGeometry, bit_mm: float, bottom_z: float) -> tuple[Loose, ...]:
    """Every piece that is loose at the end, and the line that freed it; bottom_z: the stock's bottom."""
    cuts = without_repeats(program, cuts_below(program, bottom_z))
    free = pieces_left(sheet, swept(program, cuts, bit_mm)).free
    return tuple(_loose(program, bit_mm, cuts, piece) for piece in free)


def _loose(program: Program, bit_mm: float, cuts: Cuts, piece: shapely.Polygon) -> Loose:
    """The first move after which the piece is free, by halving: what is cut stays cut, and is kept."""
    inside = piece.representative_point()
    low, high = 0, cuts.rows.size
    gone: BaseGeometry = shapely.Polygon()
    while high - low > 1:
        middle = (low + high) // 2
        more = shapely.union(gone, swept(program, _between(cuts, low, middle), bit_mm))
        if _encloses(more, inside):
            high = middle
        else:
            low, gone = middle, more
    return Loose(piece, (inside.x, inside.y), int(program.lines[cuts.rows[high - 1]]))


def _between(cuts: Cuts, low: int, high: int) -> Cuts:
    return Cuts(cuts.rows[low:high], cuts.first[low:high], cuts.last[low:high])


def _encloses(gone: BaseGeometry, inside: shapely.Point) -> bool:
    """Whether the place lies in an opening of what is gone: then nothing leads from it to the border."""
    around = [part for part in shapely.get_parts(gone) if _in_box(part, inside)]
    openings = [ring for part in around for ring in part.interiors if _in_box(ring, inside)]
    return any(shapely.Polygon(ring).contains(inside) for ring in openings)


def _in_box(shape: BaseGeometry, place: shapely.Point) -> bool:
    x_min, y_min, x_max, y_max = shape.bounds
    return bool(x_min <= place.x <= x_max and y_min <= place.y <= y_max)
