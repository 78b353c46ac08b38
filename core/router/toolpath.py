"""The path of the bit's centre as arrays, in the frame; z is measured from the stock's bare top."""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from core.outline.loop import frozen_copy
from core.outline.segments import Floats

Ints = NDArray[np.int64]


class Motion(IntEnum):
    """How the machine gets to the end of a move."""

    RAPID = 0
    FEED = 1


@dataclass(frozen=True)
class Operation:
    """One thing being cut: its name in words ("mark bored", "opening", "edge, last lap"), for comments."""

    name: str


@dataclass(frozen=True, eq=False)
class Toolpath:
    """Move i runs from ends[i - 1] (the first from start) to ends[i].

    start (3,) mm, ends (n, 3) mm, bulges (n,) of the move seen from above (0 a line; z runs in
    proportion to the arc), motions (n,) of Motion, feeds (n,) mm/min (0 for rapids), operations (n,)
    index into names. sides (n,): the part lies to the left of the move (1), to its right (-1), or the move
    leaves no edge of it (0); None is 0 throughout.
    """

    start: Floats
    ends: Floats
    bulges: Floats
    motions: Ints
    feeds: Floats
    operations: Ints
    names: tuple[Operation, ...]
    sides: Ints | None = None

    def __post_init__(self) -> None:
        for name in ("start", "ends", "bulges", "feeds"):
            object.__setattr__(self, name, frozen_copy(getattr(self, name)))
        sides = np.zeros(len(self.ends)) if self.sides is None else self.sides
        for name, values in (("motions", self.motions), ("operations", self.operations), ("sides", sides)):
            array = np.array(values, dtype=np.int64)
            array.setflags(write=False)
            object.__setattr__(self, name, array)

    def sides_of_part(self) -> Ints:
        """(n,) sides, known."""
        assert self.sides is not None  # noqa: S101 - made so when the path was
        return self.sides

    def starts(self) -> Floats:
        """(n, 3) mm: where each move begins."""
        return np.vstack((self.start[None, :], self.ends[:-1]))
