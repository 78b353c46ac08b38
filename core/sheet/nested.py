"""Copies nested: turned by half a turn where that helps, and laid into each other's bays.

1. The part, grown by half the distance that two copies keep, is drawn in cells; a cell counts as taken when
   any of it may be, so that copies whose cells differ keep their distance for certain.
2. Where a second copy may not lie beside a first follows for all shifts at once (beside.py).
3. Either the copies stand in a pattern that repeats (lattice.py), or copy by copy the nearest free place,
   then the leftmost, is taken in a room of a given width. Whoever asked picks what takes least of the sheet.
"""

from dataclasses import dataclass
from itertools import islice
from math import ceil, floor

import numpy as np
import shapely
from numpy.typing import NDArray

from core.outline.loop import Bounds
from core.sheet.beside import Beside
from core.sheet.lattice import Lattice
from core.sheet.placement import Placement, size_of
from core.sheet.rows import Arrangement, Size
from core.sheet.rule import GRID_MM

#: Cells along the longer side of the room: more cost time, fewer cost room.
MOST_CELLS = 900
#: Chords of a quarter circle where the part is grown, which keeps them within 0.03 mm of 8.
CHORDS_PER_QUARTER = 16
#: mm added for them.
RESERVE_MM = 0.05

Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Drawn:
    """The grown part in cells of cell_mm, rows from near to far; origin is the lower left cell's corner."""

    cells: Flags
    origin: tuple[float, float]
    cell_mm: float


def drawn(solid: shapely.Geometry, gap: float, cell_mm: float) -> Drawn:
    """The solid (its openings filled) grown by half the gap, mm."""
    filled = shapely.union_all([shapely.Polygon(piece.exterior) for piece in shapely.get_parts(solid)])
    reach = gap / 2.0 + RESERVE_MM + cell_mm * np.sqrt(0.5)
    area = shapely.buffer(filled, reach, quad_segs=CHORDS_PER_QUARTER)
    shapely.prepare(area)
    low = np.floor(np.array(area.bounds[:2]) / cell_mm)
    high = np.ceil(np.array(area.bounds[2:]) / cell_mm)
    x, y = (cell_mm * (np.arange(a, b) + 0.5) for a, b in zip(low, high, strict=True))
    cells = shapely.contains_xy(area, *np.meshgrid(x, y))
    return Drawn(np.asarray(cells), (float(low[0] * cell_mm), float(low[1] * cell_mm)), cell_mm)


def cell_for(room: Size) -> float:
    """How large a cell is for a room (mm): a whole number of steps of the grid."""
    return max(1, ceil(max(room) / MOST_CELLS / GRID_MM)) * GRID_MM


@dataclass(frozen=True, eq=False)
class Nester:
    """One part's drawing and where its copies may not lie beside each other."""

    part: Drawn
    box: Bounds
    beside: Beside

    @classmethod
    def of(cls, solid: shapely.Geometry, box: Bounds, gap: float, cell_mm: float) -> "Nester":
        """For a part's polygon and its box, mm."""
        part = drawn(solid, gap, cell_mm)
        return cls(part, box, Beside.of(part.cells))

    def in_room(self, room: Size, most: int) -> Arrangement:
        """As many copies as fit the room (mm), at most so many; the first is not turned."""
        taken = self._room(room)
        if taken is None:
            return Arrangement((), (0.0, 0.0))
        # Two maps of where a copy's lower left cell may not lie: one not turned, one turned.
        maps = np.zeros((2, *taken), dtype=bool)
        spots: list[tuple[int, int, bool]] = []
        while len(spots) < most:
            spot = _first_free(maps, is_first=not spots)
            if spot is None:
                break
            spots.append(spot)
            self._take(maps, spot)
        return self._arranged(spots)

    def in_lattice(self, lattice: Lattice, columns: int, count: int) -> Arrangement:
        """Count copies in the rows of a pattern, so many beside each other."""
        spots = islice(lattice.spots(columns), count)
        return self._arranged([(y, x, is_turned) for x, y, is_turned in spots])

    def _room(self, room: Size) -> tuple[int, int] | None:
        """How many places (rows, columns) a copy's lower left cell has; the grown edge may reach out."""
        over = self._overhang()
        cells = [
            floor((length + extra) / self.part.cell_mm) for length, extra in zip(room, over, strict=True)
        ]
        places = cells[1] - self.part.cells.shape[0] + 1, cells[0] - self.part.cells.shape[1] + 1
        return places if min(places) > 0 else None

    def _overhang(self) -> tuple[float, float]:
        """How much larger the drawing is than the part, mm."""
        rows, columns = (size * self.part.cell_mm for size in self.part.cells.shape)
        return columns - (self.box[2] - self.box[0]), rows - (self.box[3] - self.box[1])

    def _take(self, maps: Flags, spot: tuple[int, int, bool]) -> None:
        row, column, is_turned = spot
        for turned in (False, True):
            high, wide = self.part.cells.shape
            beside = self.beside.map_of(first=is_turned, second=turned)
            _stamp(maps[int(turned)], beside, row - (high - 1), column - (wide - 1))

    def _arranged(self, spots: list[tuple[int, int, bool]]) -> Arrangement:
        """The spots as Placements in the coordinates of the first."""
        placed = [self._placement(*spot) for spot in spots]
        if not placed:
            return Arrangement((), (0.0, 0.0))
        x, y = placed[0].at
        copies = tuple(Placement((one.at[0] - x, one.at[1] - y), one.is_turned) for one in placed)
        return Arrangement(copies, size_of(self.box, copies))

    def _placement(self, row: int, column: int, is_turned: bool) -> Placement:  # noqa: FBT001 - one of a spot's three
        cell, (left, near) = self.part.cell_mm, self.part.origin
        x, y = column * cell, row * cell
        if not is_turned:
            return Placement((x - left, y - near))
        rows, columns = self.part.cells.shape
        return Placement((x + left + columns * cell, y + near + rows * cell), is_turned=True)


def _first_free(maps: Flags, *, is_first: bool) -> tuple[int, int, bool] | None:
    """The nearest row with a free place, there the leftmost; not turned before turned."""
    found = []
    for turned in (False,) if is_first else (False, True):
        flat = maps[int(turned)].ravel()
        at = int(flat.argmin())
        if not flat[at]:
            row, column = divmod(at, maps.shape[2])
            found.append((row, column, turned))
    return min(found, default=None)


def _stamp(onto: Flags, what: Flags, row: int, column: int) -> None:
    """Mark what (its lower left at row, column, which may lie outside) on the map."""
    low, left = max(row, 0), max(column, 0)
    high = min(row + what.shape[0], onto.shape[0])
    right = min(column + what.shape[1], onto.shape[1])
    if low < high and left < right:
        onto[low:high, left:right] |= what[low - row : high - row, left - column : right - column]
