"""Spreading tabs along a closed contour: the cheapest places with no gap too long.

The plot: places on an even grid round the contour each have a cost. From every promising first place,
dynamic programming finds the cheapest way round in a given number of steps, each step within limits; the
cheapest of all these is the answer.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats

Ints = NDArray[np.int64]

#: What a gap costs that is twice, or none of, the even one; a fault-free place costs up to 1.
UNEVEN_COST = 4.0
#: First places tried: the cheapest of the first gap. More change the answer by less than a grid step.
FIRST_PLACES = 12


@dataclass(frozen=True)
class Gaps:
    """How many tabs, and the shortest and longest gap between two of them, in steps of the grid."""

    count: int
    shortest: int
    longest: int

    def are_possible(self, size: int) -> bool:
        """Whether so many gaps can close a round of size steps."""
        return self.count * self.shortest <= size <= self.count * self.longest


def spread_round(costs: Floats, gaps: Gaps) -> Ints:
    """Indices (count,), rising from the first place, of the cheapest places round a closed grid (n,).

    Empty when so many gaps cannot close the round.
    """
    size = costs.size
    if not gaps.are_possible(size):
        return np.empty(0, dtype=np.int64)
    reach = max(min(-(-size // gaps.count), size), 1)
    firsts = np.argsort(costs[:reach], kind="stable")[:FIRST_PLACES]
    ways = [_round_from(np.roll(costs, -first), gaps) for first in firsts.tolist()]
    best = int(np.argmin([way.cost for way in ways]))
    return np.asarray((ways[best].places + firsts[best]) % size)


@dataclass(frozen=True, eq=False)
class _Way:
    cost: float
    places: Ints


def _round_from(costs: Floats, gaps: Gaps) -> _Way:
    """The cheapest way round that begins at place 0."""
    size, steps = costs.size, np.arange(gaps.shortest, gaps.longest + 1)
    prices = UNEVEN_COST * (steps * gaps.count / size - 1.0) ** 2
    total = np.full(size, np.inf)
    total[0] = costs[0]
    origins: list[Ints] = []
    before = np.arange(size)[:, None] - steps[None, :]
    allowed, before = before >= 0, np.maximum(before, 0)
    for _ in range(gaps.count - 1):
        through = np.where(allowed, total[before] + prices[None, :], np.inf)
        choice = np.argmin(through, axis=1)
        rows = np.arange(size)
        origins.append(before[rows, choice])
        total = through[rows, choice] + costs
    return _closed(total, origins, prices, gaps)


def _closed(total: Floats, origins: list[Ints], prices: Floats, gaps: Gaps) -> _Way:
    size = total.size
    homeward = size - np.arange(size)
    fits = (homeward >= gaps.shortest) & (homeward <= gaps.longest)
    price = np.where(fits, prices[np.clip(homeward - gaps.shortest, 0, prices.size - 1)], np.inf)
    last = int(np.argmin(total + price))
    places = [last]
    for origin in reversed(origins):
        places.append(int(origin[places[-1]]))
    return _Way(float((total + price)[last]), np.array(places[::-1]))


def spread_among(costs: Floats, allowed: Ints, count: int) -> Ints:
    """Indices of count places: allowed (m,), rising, in count equal shares, from each the cheapest."""
    shares = np.array_split(allowed, min(count, allowed.size))
    return np.array([share[int(np.argmin(costs[share]))] for share in shares if share.size], dtype=np.int64)
