"""Copies in a pattern that repeats: each row of pairs, one of each pair turned, or of copies all alike.

1. For a pair, the turned copy is tried at every height beside the first, each time as near as it may lie;
   the next pair then comes as near as it may.
2. Rows are alike, every other one shifted along; each shift is tried with the nearest distance between rows
   at which nothing of any two rows meets.
3. The pattern that takes the least area for each copy wins. It is laid out in rooms of every width.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.sheet.beside import Beside

Ints = NDArray[np.int64]

#: Heights of the turned copy, and shifts of a row, that are tried.
HEIGHTS, SHIFTS = 48, 12


@dataclass(frozen=True)
class Lattice:
    """In cells: where in a pair its copies lie and whether turned, from pair to pair, from row to row."""

    members: tuple[tuple[int, int, bool], ...]
    along: int
    shift: int
    away: int

    @property
    def area(self) -> float:
        """Cells for each copy."""
        return self.along * self.away / len(self.members)

    def spots(self, columns: int) -> Iterator[tuple[int, int, bool]]:
        """(x, y, turned) in cells of ever more copies, so many beside each other, row after row."""
        row = 0
        while True:
            for index in range(columns):
                pair, member = divmod(index, len(self.members))
                x, y, is_turned = self.members[member]
                yield pair * self.along + (row % 2) * self.shift + x, row * self.away + y, is_turned
            row += 1


def lattices(beside: Beside) -> tuple[Lattice, ...]:
    """The best pattern of copies all alike, and the best of pairs."""
    alike = _best(beside, [((0, 0, False),)])
    pairs = _best(beside, list(_pairs(beside)))
    return tuple(one for one in (alike, pairs) if one is not None)


def _pairs(beside: Beside) -> Iterator[tuple[tuple[int, int, bool], ...]]:
    high, wide = beside.size
    for y in np.unique(np.linspace(-high + 1, high - 1, HEIGHTS).astype(int)).tolist():
        free = ~beside.meets(np.arange(wide + 1), np.full(wide + 1, y), first=False, second=True)
        yield ((0, 0, False), (int(free.argmax()), y, True))


def _best(beside: Beside, groups: list[tuple[tuple[int, int, bool], ...]]) -> Lattice | None:
    found = [lattice for members in groups for lattice in _rows(beside, members)]
    return min(found, key=lambda one: (one.area, one.members, one.shift), default=None)


def _rows(beside: Beside, members: tuple[tuple[int, int, bool], ...]) -> Iterator[Lattice]:
    """The rows of one group of copies, for every shift between rows."""
    _, wide = beside.size
    span = wide + max(x for x, _, _ in members) + 1
    steps = np.arange(span + 1)
    taken = _meeting(beside, members, steps, np.zeros_like(steps))
    along = int(np.flatnonzero(taken)[-1]) + 1  # nothing beyond it meets, so no pair farther on does
    for shift in np.unique(np.linspace(0, along, SHIFTS, endpoint=False).astype(int)).tolist():
        yield Lattice(members, along, shift, _away(beside, members, along, shift))


def _meeting(
    beside: Beside, members: tuple[tuple[int, int, bool], ...], x: Ints, y: Ints
) -> NDArray[np.bool_]:
    """(n,) whether a group moved by x, y (n,) cells meets the group."""
    met = np.zeros(len(x), dtype=bool)
    for from_x, from_y, first in members:
        for to_x, to_y, second in members:
            met |= beside.meets(x + to_x - from_x, y + to_y - from_y, first=first, second=second)
    return met


def _away(beside: Beside, members: tuple[tuple[int, int, bool], ...], along: int, shift: int) -> int:
    """The least distance between rows at which no two of them meet."""
    high, _ = beside.size
    tall = high + max(y for _, y, _ in members) - min(y for _, y, _ in members) + 1
    near = [_rows_meet(beside, members, along, shifted, tall) for shifted in (shift, 0)]
    for away in range(1, tall + 1):
        rows = range(1, tall // away + 1)
        if not any(near[0 if row % 2 else 1][row * away] for row in rows):
            return away
    return tall


def _rows_meet(
    beside: Beside, members: tuple[tuple[int, int, bool], ...], along: int, shift: int, tall: int
) -> NDArray[np.bool_]:
    """(tall + 1,) whether a row, moved so many cells away and shifted either way, meets the row."""
    _, wide = beside.size
    most = (2 * wide + max(x for x, _, _ in members)) // along + 2
    y = np.arange(tall + 1)
    met = np.zeros(tall + 1, dtype=bool)
    for pairs in range(-most, most + 1):
        for way in (shift, -shift):
            met |= _meeting(beside, members, np.full_like(y, pairs * along + way), y)
    return met
