"""Runs of different lengths kept one behind the other in one array, so that all are worked on at once."""

from collections.abc import Sequence, Sized
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Bools, Ints


@dataclass(frozen=True, eq=False)
class Rows:
    """count (c,) items in each of c runs."""

    count: Ints

    @cached_property
    def first(self) -> Ints:
        """(c,) the place where each run begins."""
        return np.cumsum(self.count) - self.count

    @cached_property
    def owner(self) -> Ints:
        """(n,) the run of every item."""
        return np.repeat(np.arange(len(self.count)), self.count)

    @cached_property
    def within(self) -> Ints:
        """(n,) how many of its own run come before every item."""
        return np.arange(len(self.owner)) - self.first[self.owner]

    def __len__(self) -> int:
        return len(self.count)

    def own(self, run: int) -> slice:
        """Where the items of one run lie."""
        first = int(self.first[run])
        return slice(first, first + int(self.count[run]))

    def kept(self, which: Bools) -> "Rows":
        """The runs of the items (n,) that are kept."""
        return Rows(np.bincount(self.owner[which], minlength=len(self)))

    def quantiles(self, values: Floats, share: float) -> Floats:
        """(c,) the quantile of each run's values (n,), half-way values in proportion; nan for no value."""
        order = np.lexsort((values, self.owner))
        place = share * (self.count - 1)
        low = np.floor(np.maximum(place, 0.0)).astype(np.int64)
        high = np.minimum(low + 1, np.maximum(self.count - 1, 0))
        there = self.count > 0
        found = np.full(len(self), np.nan)
        one, other = (values[order[(self.first + side)[there]]] for side in (low, high))
        found[there] = one + (other - one) * (place - low)[there]
        return found


def rows_of(runs: Sequence[Sized]) -> Rows:
    """The lengths of these runs."""
    return Rows(np.array([len(run) for run in runs], dtype=np.int64))
