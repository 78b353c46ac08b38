"""Where a second copy of a part may not lie beside a first, for every shift of whole cells.

The cells that both take are the correlation of the two drawings, computed for all shifts at once (FFT).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]


def forbidden(one: Flags, other: Flags) -> Flags:
    """Shifts of other against one, from -(its size - 1) on, at which they share a cell."""
    shape = tuple(a + b - 1 for a, b in zip(one.shape, other.shape, strict=True))
    spectrum = np.fft.rfft2(one, shape) * np.fft.rfft2(other[::-1, ::-1], shape)
    return np.asarray(np.fft.irfft2(spectrum, shape) > 0.5)


@dataclass(frozen=True, eq=False)
class Beside:
    """Shifts at which copies meet: of two alike, and of one turned by half a turn against one that is not.

    size: rows and columns of the drawing in cells.
    """

    size: tuple[int, int]
    alike: Flags
    turned: Flags

    @classmethod
    def of(cls, cells: Flags) -> "Beside":
        """For a drawing in cells."""
        rows, columns = cells.shape
        return cls((rows, columns), forbidden(cells, cells), forbidden(cells, cells[::-1, ::-1]))

    def map_of(self, *, first: bool, second: bool) -> Flags:
        """The shifts of a second copy against a first, each turned or not."""
        if first is second:
            return self.alike
        # Seen from a turned copy all shifts are the other way round.
        return self.turned[::-1, ::-1] if first else self.turned

    def meets(self, x: Ints, y: Ints, *, first: bool, second: bool) -> Flags:
        """(n,) whether a second copy, shifted by x to the right and y away (n,), meets the first."""
        where = self.map_of(first=first, second=second)
        rows, columns = y + self.size[0] - 1, x + self.size[1] - 1
        known = (rows >= 0) & (rows < where.shape[0]) & (columns >= 0) & (columns < where.shape[1])
        met = np.zeros(len(x), dtype=bool)
        met[known] = where[rows[known], columns[known]]
        return met
