"""What one rule has to say about the moves of a program."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.program.read.program import Program
from core.proof.limits import Broken, Limits

Flags = NDArray[np.bool_]

#: Breaches of one rule that are listed; a maker needs the first, and a file may break it on every line.
MOST_BREACHES = 20
#: mm below the stock's top from which the bit is in it; a bit that touches the top cuts nothing.
IN_STOCK = 1e-3


@dataclass(frozen=True)
class Looked:
    """How often a rule was laid on something, and its first breaches."""

    checked: int
    broken: tuple[Broken, ...]

    def __add__(self, other: "Looked") -> "Looked":
        return Looked(self.checked + other.checked, self.broken + other.broken)


def in_stock(program: Program, limits: Limits) -> Flags:
    """(n,) whether any of the move lies in the stock's thickness."""
    lowest = np.fmin(program.starts[:, 2], program.ends[:, 2])
    return np.asarray(lowest < limits.stock_top_z_mm - IN_STOCK)


def looked(program: Program, checked: Flags, bad: Flags, code: str, text: str) -> Looked:
    """The rule laid on the checked moves, broken by the bad ones."""
    return Looked(int(np.count_nonzero(checked)), breaches(program, bad, code, text))


def breaches(program: Program, bad: Flags, code: str, text: str) -> tuple[Broken, ...]:
    """The first of the moves that break a rule, with line and end."""
    rows = np.nonzero(bad)[0][:MOST_BREACHES]
    return tuple(Broken(code, int(program.lines[row]), _place(program, int(row)), text) for row in rows)


def _place(program: Program, row: int) -> tuple[float, float, float] | None:
    x, y, z = program.ends[row].tolist()
    return None if x != x or y != y or z != z else (x, y, z)  # noqa: PLR0124 - not a number
