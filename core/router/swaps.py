"""An order made shorter by one swap after another, as long as no rule of what comes first is broken.

A swap moves a run of stops elsewhere, either way round (I. Or 1976), or turns a run round where it is
(G. A. Croes 1958). All are looked at, the best is made, until none is left that helps. The way from one stop
to another need not be as long as the way back: what is turned round is measured anew.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats

Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]

#: Stops in a run that is moved: longer ones hardly ever help.
LONGEST_RUN = 3
#: mm; what counts as shorter: more than rounding.
SHORTER_MM = 1e-6


def put_in_order(own: Floats, ahead: Floats, behind: Floats, before: Flags) -> Ints:
    """(n,) a better order of stops than 0 to n - 1, which keeps before.

    own (n, n) mm from stop to stop; ahead (n,) mm from what comes before them; behind (n,) to what follows.
    """
    count = len(own)
    gaps = np.zeros((count + 2, count + 2))  # what comes before them is stop 0, what follows the last one
    gaps[1:-1, 1:-1], gaps[0, 1:-1], gaps[1:-1, -1] = own, ahead, behind
    rules = np.zeros(gaps.shape, dtype=np.bool_)
    rules[1:-1, 1:-1] = before
    rules[0, 1:], rules[:-1, -1] = True, True
    order = np.arange(count + 2)
    while True:
        swap = _best_swap(gaps[np.ix_(order, order)], rules[np.ix_(order, order)])
        if swap.gain < SHORTER_MM:
            return np.asarray(order[1:-1] - 1)
        order = swap.made(order)


@dataclass(frozen=True)
class _Swap:
    """The run from first to last (its places) is put behind the place after, turned round or not."""

    gain: float
    first: int
    last: int
    after: int
    is_turned: bool

    def made(self, order: Ints) -> Ints:
        run = order[self.first : self.last + 1]
        rest = np.delete(order, np.s_[self.first : self.last + 1])
        at = self.after + 1 if self.after < self.first else self.after + 1 - run.size
        return np.concatenate((rest[:at], run[::-1] if self.is_turned else run, rest[at:]))


def _best_swap(gaps: Floats, rules: Flags) -> _Swap:
    """The best swap of an order; gaps and rules (m, m) stand in that order, both ends included."""
    swaps = [_best_turn(gaps, rules)]
    for length in range(1, min(LONGEST_RUN, len(gaps) - 3) + 1):
        swaps += _best_moves(gaps, rules, length)
    return max(swaps, key=lambda swap: swap.gain)


def _run_costs(gaps: Floats) -> tuple[Floats, Floats]:
    """(m,) each: the length from the first place to each, and the same walked backwards."""
    places = np.arange(len(gaps) - 1)
    onward, backward = gaps[places, places + 1], gaps[places + 1, places]
    return np.append(0.0, np.cumsum(onward)), np.append(0.0, np.cumsum(backward))


def _first_after(rules: Flags) -> Ints:
    """(m,) the first place that must stay behind each place; m where there is none."""
    return np.where(rules.any(axis=1), rules.argmax(axis=1), len(rules))


def _last_before(rules: Flags) -> Ints:
    """(m,) the last place that must stay before each place; -1 where there is none."""
    return np.where(rules.any(axis=0), len(rules) - 1 - rules[::-1].argmax(axis=0), -1)


def _best_turn(gaps: Floats, rules: Flags) -> _Swap:
    """The best run to be turned round where it is."""
    count = len(gaps)
    onward, backward = _run_costs(gaps)
    first, last = np.arange(1, count - 1)[:, None], np.arange(1, count - 1)[None, :]
    now = gaps[first - 1, first] + gaps[last, last + 1] + onward[last] - onward[first]
    then = gaps[first - 1, last] + gaps[first, last + 1] + backward[last] - backward[first]
    free = np.minimum.accumulate(_first_after(rules)[::-1])[::-1]
    gain = np.where((last > first) & (last < free[first]), now - then, -np.inf)
    return _picked(gain, lambda row, column: (row + 1, column + 1, row, True))


def _best_moves(gaps: Floats, rules: Flags, length: int) -> list[_Swap]:
    """The best run of so many stops to be put elsewhere, as it is, and turned round."""
    count = len(gaps)
    first = np.arange(1, count - length)[:, None]
    last = first + length - 1
    after = np.arange(count - 1)[None, :]
    onward, backward = _run_costs(gaps)
    saved = gaps[first - 1, first] + gaps[last, last + 1] - gaps[first - 1, last + 1]
    opened = gaps[after, after + 1]
    behind, ahead = _first_after(rules), _last_before(rules)
    runs = np.arange(length)[None, :] + first
    soonest = behind[runs].min(axis=1)[:, None]
    is_free = (after < soonest) & (after >= ahead[runs].max(axis=1)[:, None])
    is_free &= (after < first - 1) | (after > last)
    moved = np.where(is_free, saved + opened - gaps[after, first] - gaps[last, after + 1], -np.inf)
    swaps = [_picked(moved, lambda row, column: (row + 1, row + length, column, False))]
    if length > 1:
        longer = backward[last] - backward[first] - onward[last] + onward[first]
        turned = saved + opened - gaps[after, last] - gaps[first, after + 1] - longer
        turned = np.where(is_free & (soonest > last), turned, -np.inf)
        swaps.append(_picked(turned, lambda row, column: (row + 1, row + length, column, True)))
    return swaps


def _picked(gain: Floats, swap: Callable[[int, int], tuple[int, int, int, bool]]) -> _Swap:
    """The best of gain (rows, columns), and the swap that is told by its row and column."""
    row, column = divmod(int(np.argmax(gain)), gain.shape[1])
    return _Swap(float(gain[row, column]), *swap(row, column))
