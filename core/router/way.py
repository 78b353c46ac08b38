"""The least way through the air from stop to stop, under rules of which comes before which.

A stop may be made in several manners, as a contour may be begun at several places. The plot:

1. The nearest next of those whose turn it is (a greedy way), every stop in its first manner.
2. For an order that stands, the best manner of every stop: exact, by dynamic programming (Viterbi 1967).
3. For manners that stand, a better order (swaps.py).
4. 2 and 3 by turns until neither helps, then again after a small upset, a set number of times; what is
   shorter is kept. So the way is never longer than the greedy one.

Where there are many stops, 3 is done on one stretch of the way after another.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.router.swaps import SHORTER_MM, Flags, Ints, put_in_order

#: Stops in a stretch that is put in order at once, and how far the next stretch lies along.
STRETCH, STRETCH_STEP = 80, 40
#: Upsets tried for each stop, at most, and at most over the square of the stops, as each takes its time.
#: More change little: a test compares with every order there is.
UPSETS, MOST_UPSETS, UPSETS_TIMES_SQUARE = 12, 60, 72_000


@dataclass(frozen=True, eq=False)
class Stop:
    """begins, ends (k, 2) mm and within (k,) mm of way in the air inside it, for each of its k manners."""

    begins: Floats
    ends: Floats
    within: Floats


def first_manner(stop: Stop) -> Stop:
    """The stop with its first manner alone."""
    return Stop(stop.begins[:1], stop.ends[:1], stop.within[:1])


@dataclass(frozen=True, eq=False)
class Way:
    """order (n,) of the stops; manners (n,) by the number of the stop; length_mm from the start on."""

    order: Ints
    manners: Ints
    length_mm: float


@dataclass(frozen=True, eq=False)
class _Table:
    """The stops side by side, short rows filled up with manners that no way takes; here (2,) mm."""

    begins: Floats
    ends: Floats
    within: Floats
    before: Flags
    here: Floats

    @classmethod
    def of(cls, stops: tuple[Stop, ...], before: Flags, here: Floats) -> "_Table":
        most = max(stop.within.size for stop in stops)
        begins, ends = np.zeros((2, len(stops), most, 2))
        within = np.full((len(stops), most), np.inf)
        for row, stop in enumerate(stops):
            count = stop.within.size
            begins[row, :count], ends[row, :count], within[row, :count] = stop.begins, stop.ends, stop.within
        return cls(begins, ends, within, before, np.asarray(here, dtype=np.float64))

    def gaps(self, manners: Ints) -> Floats:
        """(n + 1, n) mm from the end of each stop, the start last, to the beginning of each."""
        rows = np.arange(manners.size)
        ends = np.vstack((self.ends[rows, manners], self.here))
        return _apart(ends, self.begins[rows, manners])


def least_way(stops: tuple[Stop, ...], before: Flags, here: Floats, usual: Flags | None = None) -> Way:
    """A short Way from here (2,) mm; before[i, j]: stop i must come before stop j (no rings in it).

    No longer than the greedy way under before, nor under usual, if that is given and keeps before too.
    """
    if not stops:
        return Way(np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64), 0.0)
    table = _Table.of(stops, before, here)
    best = _settled(greedy(table.begins[:, 0], table.ends[:, 0], before, here), table)
    if usual is not None:
        other = greedy(table.begins[:, 0], table.ends[:, 0], usual, here)
        best = _shorter(best, _settled(other, table) if keeps(other, before) else best)
    return _upset(best, table)


def keeps(order: Ints, before: Flags) -> bool:
    """Whether an order breaks no rule."""
    return not bool(np.tril(before[np.ix_(order, order)]).any())


def greedy(begins: Floats, ends: Floats, before: Flags, here: Floats) -> Ints:
    """(n,) always the nearest of those that all others may come after; begins, ends (n, 2) mm."""
    waits, left = before.sum(axis=0), np.ones(len(begins), dtype=np.bool_)
    order = []
    for _ in range(len(begins)):
        ready = np.flatnonzero(left & (waits == 0))
        chosen = int(ready[np.argmin(_apart(here[None, :], begins[ready])[0])])
        left[chosen] = False
        waits = waits - before[chosen]
        order.append(chosen)
        here = ends[chosen]
    return np.array(order, dtype=np.int64)


def _apart(ends: Floats, begins: Floats) -> Floats:
    """(n, m) mm from each of ends (n, 2) to each of begins (m, 2)."""
    off = ends[:, None, :] - begins[None, :, :]
    return np.asarray(np.hypot(off[..., 0], off[..., 1]))


def _shorter(one: Way, other: Way) -> Way:
    return other if other.length_mm < one.length_mm - SHORTER_MM else one


def _settled(order: Ints, table: _Table) -> Way:
    """Manners and order made better by turns, until neither helps."""
    way = _with_best_manners(order, table)
    while True:
        after = _with_best_manners(_with_better_order(way, table), table)
        if after.length_mm >= way.length_mm - SHORTER_MM:
            return way
        way = after


def _with_best_manners(order: Ints, table: _Table) -> Way:
    begins, ends, within = table.begins[order], table.ends[order], table.within[order]
    total = _apart(table.here[None, :], begins[0])[0] + within[0]
    origins = []
    for row in range(1, order.size):
        through = total[:, None] + _apart(ends[row - 1], begins[row])
        origins.append(np.argmin(through, axis=0))
        total = through.min(axis=0) + within[row]
    chosen = [int(np.argmin(total))]
    for origin in reversed(origins):
        chosen.append(int(origin[chosen[-1]]))
    manners = np.empty(order.size, dtype=np.int64)
    manners[order] = chosen[::-1]
    return Way(order, manners, float(total.min()))


def _with_better_order(way: Way, table: _Table) -> Ints:
    """Stretch by stretch, each between the stop before it and that after it, which stay."""
    order, gaps = way.order.copy(), table.gaps(way.manners)
    for first in range(0, max(order.size - STRETCH_STEP, 1), STRETCH_STEP):
        last = min(first + STRETCH, order.size)
        stretch = order[first:last]
        ahead = gaps[order[first - 1] if first else -1][stretch]
        behind = gaps[stretch, order[last]] if last < order.size else np.zeros(stretch.size)
        own = gaps[np.ix_(stretch, stretch)]
        order[first:last] = stretch[put_in_order(own, ahead, behind, table.before[np.ix_(stretch, stretch)])]
    return order


def _upset(way: Way, table: _Table) -> Way:
    """The best of what two runs side by side, swapped by chance, settle to; the same chance every time."""
    count = way.order.size
    if count < 3:
        return way
    chance = np.random.default_rng(count)
    for _ in range(min(UPSETS * count, MOST_UPSETS, UPSETS_TIMES_SQUARE // count**2)):
        first, middle, last = np.sort(chance.choice(count + 1, 3, replace=False)).tolist()
        one, other = way.order[first:middle], way.order[middle:last]
        if not table.before[np.ix_(one, other)].any():
            order = np.concatenate((way.order[:first], other, one, way.order[last:]))
            way = _shorter(way, _settled(order, table))
    return way
