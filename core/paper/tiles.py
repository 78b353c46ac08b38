"""A drawing at true size on as many pages as it needs: where each page lies on it.

Neighbouring pages share a strip, in which the same points are marked on both: laid over each other with
the marks in line, the pages show the whole.
"""

import math
from dataclasses import dataclass

from core.findings import Point
from core.paper.pdf import Paper

#: mm that no desktop printer is sure to print on, with room for the page's words and rulers.
LEFT, RIGHT, BELOW, ABOVE = 18.0, 8.0, 18.0, 16.0
#: mm that two neighbouring pages share.
SHARED = 12.0

#: x and y of the lower left and the upper right corner, mm.
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Tile:
    """One page: a point of the drawing plus shift is its place on the page, mm.

    seen is the box of the drawing that the page shows; column and row count from the lower left.
    """

    shift: Point
    seen: Box
    column: int
    row: int


@dataclass(frozen=True)
class Tiling:
    """All pages on this paper (perhaps turned), row by row from the lower left."""

    paper: Paper
    columns: int
    rows: int
    tiles: tuple[Tile, ...]

    def joins(self, tile: Tile) -> tuple[Point, ...]:
        """Points of the drawing inside the strips that a page shares with the next, at both their ends."""
        x_min, y_min, x_max, y_max = tile.seen
        half, inset = SHARED / 2.0, SHARED
        found: list[Point] = []
        if tile.column > 0:
            found += [(x_min + half, y_min + inset), (x_min + half, y_max - inset)]
        if tile.column < self.columns - 1:
            found += [(x_max - half, y_min + inset), (x_max - half, y_max - inset)]
        if tile.row > 0:
            found += [(x_min + inset, y_min + half), (x_max - inset, y_min + half)]
        if tile.row < self.rows - 1:
            found += [(x_min + inset, y_max - half), (x_max - inset, y_max - half)]
        return tuple(found)


def tiled(box: Box, paper: Paper) -> Tiling:
    """The pages for what lies in the box, the paper upright or on its side, whichever takes fewer."""
    sideways = Paper(f"{paper.name} on its side", paper.height_mm, paper.width_mm)
    upright, turned = _tiling(box, paper), _tiling(box, sideways)
    return turned if len(turned.tiles) < len(upright.tiles) else upright


def _tiling(box: Box, paper: Paper) -> Tiling:
    x_min, y_min, x_max, y_max = box
    room = (paper.width_mm - LEFT - RIGHT, paper.height_mm - BELOW - ABOVE)
    columns, rows = _count(x_max - x_min, room[0]), _count(y_max - y_min, room[1])
    starts_x = _starts(x_min, x_max, room[0], columns)
    starts_y = _starts(y_min, y_max, room[1], rows)
    tiles = tuple(
        Tile((LEFT - x, BELOW - y), (x, y, x + room[0], y + room[1]), column, row)
        for row, y in enumerate(starts_y)
        for column, x in enumerate(starts_x)
    )
    return Tiling(paper, columns, rows, tiles)


def _count(length: float, room: float) -> int:
    return max(1, math.ceil((length - SHARED) / (room - SHARED)))


def _starts(low: float, high: float, room: float, count: int) -> list[float]:
    """Where each page begins; what is left over lies evenly on both sides."""
    covered = count * room - (count - 1) * SHARED
    first = low - (covered - (high - low)) / 2.0
    return [first + index * (room - SHARED) for index in range(count)]
