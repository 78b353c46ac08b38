"""Copies in rows: side by side by their boxes, none turned."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor

from core.outline.loop import Bounds
from core.sheet.placement import Placement
from core.sheet.rule import GRID_MM, Clearances

#: mm of waste that stays between two slots, and the same as a share of thickness: it holds both parts.
LEAST_WEB_MM, WEB_OF_THICKNESS = 4.0, 1.3
#: mm kept for the allowance that passes leave on both walls (0.2 mm each unless chosen otherwise).
ALLOWANCES_MM = 1.0

Size = tuple[float, float]


@dataclass(frozen=True)
class CopiesWish:
    """How many pieces are cut on one sheet, and whether they may be turned and laid into bays."""

    count: int = 1
    is_tight: bool = False


def between_copies(clearances: Clearances) -> float:
    """The least distance, mm, between the as-cut edges of two copies: two slots and the web between."""
    web = max(LEAST_WEB_MM, WEB_OF_THICKNESS * clearances.thickness_mm)
    return 2.0 * clearances.bit_mm + web + ALLOWANCES_MM


@dataclass(frozen=True)
class Arrangement:
    """The copies in the coordinates of the first, and how much all of them take, mm."""

    copies: tuple[Placement, ...]
    size: Size


def pitch(length: float, gap: float) -> float:
    """From one copy to the next, on the grid, mm."""
    return ceil((length + gap) / GRID_MM - 1e-9) * GRID_MM


def in_rows(box: Bounds, gap: float, count: int, columns: int) -> Arrangement:
    """Count copies, so many beside each other, row by row away from the maker."""
    width, depth = box[2] - box[0], box[3] - box[1]
    step_x, step_y = pitch(width, gap), pitch(depth, gap)
    places = [(index % columns, index // columns) for index in range(count)]
    copies = tuple(Placement((x * step_x, y * step_y)) for x, y in places)
    rows = ceil(count / columns)
    across = min(columns, count)
    return Arrangement(copies, ((across - 1) * step_x + width, (rows - 1) * step_y + depth))


def every_row_length(box: Bounds, gap: float, count: int) -> Iterator[Arrangement]:
    """All ways to lay count copies in rows that leave no row empty."""
    seen = set()
    for columns in range(1, count + 1):
        rows = ceil(count / columns)
        if rows not in seen or columns == 1:
            seen.add(rows)
            yield in_rows(box, gap, count, ceil(count / rows))


def most_in_rows(box: Bounds, gap: float, room: Size) -> int:
    """How many copies fit a room (mm) in rows."""
    return _along(box[2] - box[0], gap, room[0]) * _along(box[3] - box[1], gap, room[1])


def _along(length: float, gap: float, room: float) -> int:
    return 0 if length > room + 1e-9 else 1 + floor((room - length) / pitch(length, gap) + 1e-9)
