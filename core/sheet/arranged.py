"""Ways to lay all copies on one sheet, the most promising first.

Rows of every length, and nested ones for rooms of several widths where that is asked for. What fits the
sheet that is there, and the machine, comes before what does not; then what takes the smaller sheet.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

import shapely

from core.outline.loop import Bounds
from core.sheet.lattice import lattices
from core.sheet.nested import Nester, cell_for
from core.sheet.placement import Placement
from core.sheet.rows import (
    Arrangement,
    CopiesWish,
    Size,
    between_copies,
    every_row_length,
    most_in_rows,
    pitch,
)
from core.sheet.rule import Clearances
from core.sheet.wish import StockWish

#: Widths of room tried for nested copies.
MOST_WIDTHS = 8


@dataclass(frozen=True, eq=False)
class Sheet:
    """One part (polygon and box in its own coordinates), and what it is to be laid on; mm."""

    solid: shapely.Geometry
    box: Bounds
    wish: StockWish
    clearances: Clearances
    travel_mm: Size

    @property
    def gap_mm(self) -> float:
        """Between two copies."""
        return between_copies(self.clearances)

    def rooms(self) -> tuple[Size, Size]:
        """What sheet and machine leave for all copies: with the hinge along a long or a short side."""
        frame, hinged = self.clearances.frame(), self.clearances.hinged_frame()
        told = [
            min(length if length is not None else travel + frame, travel + frame - self.clearances.bit_mm)
            for length, travel in zip((self.wish.width_mm, self.wish.depth_mm), self.travel_mm, strict=True)
        ]
        across = (told[0] - frame - hinged, told[1] - 2.0 * frame)
        away = (told[0] - 2.0 * frame, told[1] - frame - hinged)
        return (away, across)

    def fits(self, size: Size) -> bool:
        """Whether copies that take so much have room."""
        return any(size[0] <= room[0] + 1e-9 and size[1] <= room[1] + 1e-9 for room in self.rooms())

    def area(self, size: Size) -> float:
        """Of the sheet that would be used, mm2."""
        frame, hinged = self.clearances.frame(), self.clearances.hinged_frame()
        return (size[0] + 2.0 * frame) * (size[1] + frame + hinged)


def arrangements(sheet: Sheet, count: int, *, is_tight: bool) -> list[Arrangement]:
    """All that were thought of, best first; at least one."""
    if count == 1:
        return [Arrangement((Placement(),), (sheet.box[2] - sheet.box[0], sheet.box[3] - sheet.box[1]))]
    found = list(every_row_length(sheet.box, sheet.gap_mm, count))
    if is_tight:
        found += _nested(sheet, count)
    return sorted(found, key=lambda one: (not sheet.fits(one.size), sheet.area(one.size), one.size))


def _nested(sheet: Sheet, count: int) -> Iterator[Arrangement]:
    rooms = list(_widths(sheet, count))
    nester = Nester.of(sheet.solid, sheet.box, sheet.gap_mm, cell_for(_largest(rooms)))
    for room in rooms:
        found = nester.in_room(room, count)
        if len(found.copies) == count:
            yield found
    for lattice in lattices(nester.beside):
        for columns in _row_lengths(count):
            yield nester.in_lattice(lattice, columns, count)


def _row_lengths(count: int) -> list[int]:
    """How many copies stand in a row: every number that needs another number of rows."""
    return sorted({ceil(count / rows) for rows in range(1, count + 1)})


def _widths(sheet: Sheet, count: int) -> Iterator[Size]:
    """Rooms for nested copies: as wide as so many rows of them, as deep as those rows need at most."""
    width, depth = sheet.box[2] - sheet.box[0], sheet.box[3] - sheet.box[1]
    widest, step = max(room[0] for room in sheet.rooms()), pitch(width, sheet.gap_mm)
    columns = max(1, min(count, int(max(widest - width, 0.0) // step) + 1))
    tried = sorted({ceil(columns * share / MOST_WIDTHS) for share in range(1, MOST_WIDTHS + 1)})
    for across in tried:
        rows = ceil(count / across)
        room = width + (across - 1) * step
        yield (max(room, min(widest, room + step / 2.0)), depth + (rows - 1) * pitch(depth, sheet.gap_mm))


def _largest(rooms: list[Size]) -> Size:
    return max(room[0] for room in rooms), max(room[1] for room in rooms)


def most_that_fit(sheet: Sheet, wish: CopiesWish) -> int:
    """How many copies have room, as far as boxes tell; marks may ask for more of the sheet."""
    in_rows = max(most_in_rows(sheet.box, sheet.gap_mm, room) for room in sheet.rooms())
    if not wish.is_tight:
        return in_rows
    rooms = [room for room in sheet.rooms() if min(room) > 0.0]
    if not rooms:
        return in_rows
    nester = Nester.of(sheet.solid, sheet.box, sheet.gap_mm, cell_for(_largest(rooms)))
    nested = [len(nester.in_room(room, wish.count).copies) for room in rooms]
    patterns = lattices(nester.beside)
    patterned = (
        count
        for count in range(wish.count, max([in_rows, *nested]), -1)
        for lattice in patterns
        for columns in _row_lengths(count)
        if sheet.fits(nester.in_lattice(lattice, columns, count).size)
    )
    return next(patterned, max([in_rows, *nested]))
