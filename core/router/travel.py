"""How far the bit travels through the air, against the least that any order of the same cuts could do.

A way through all cuts is a tree that spans them, so it is no shorter than the shortest such tree (a minimum
spanning tree, R. C. Prim 1957), with the least distance from the end of one cut to the start of another
either way round. It passes every cut once and ends at one of them: a toll on each cut that the tree meets too
often, taken off again for a way, makes the tree longer and stays a bound (M. Held and R. M. Karp 1970). The
rules of order may forbid what it allows; the bound says how much they, and we, cost.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.router.swaps import Ints
from core.router.toolpath import Motion, Toolpath

#: Rounds of tolls at most, and at most over the number of cuts, as each takes its time; more raise the bound
#: by less than a hundredth.
MOST_ROUNDS, ROUNDS_TIMES_CUTS = 80, 8000
#: Share of the bound that is left to the shortest way, roughly; what is left of a step from round to round.
REACH, STEP_SHARE = 0.15, 0.95


@dataclass(frozen=True)
class AirTravel:
    """Across in the air from the work zero through all cuts, and the least that any order needs; mm."""

    travelled_mm: float
    least_mm: float


def air_travel(toolpath: Toolpath) -> AirTravel:
    """Of the rapids seen from above; the way down and up is the same in every order."""
    starts, ends = toolpath.starts()[:, :2], toolpath.ends[:, :2]
    is_rapid = toolpath.motions == Motion.RAPID
    travelled = float(np.hypot(*(ends - starts)[is_rapid].T).sum())
    begins = np.flatnonzero(~is_rapid & np.append(True, is_rapid[:-1])[: is_rapid.size])
    finishes = np.flatnonzero(~is_rapid & np.append(is_rapid[1:], True)[: is_rapid.size])
    least = _least(_gaps(toolpath.start[:2], starts[begins], ends[finishes]))
    return AirTravel(travelled, min(least, travelled))


def _gaps(zero: Floats, begins: Floats, finishes: Floats) -> Floats:
    """(n, n) mm from each cut, the zero first, to each other, the shorter way round."""
    into, out_of = np.vstack((zero, begins)), np.vstack((zero, finishes))
    off = out_of[:, None, :] - into[None, :, :]
    across = np.hypot(off[..., 0], off[..., 1])
    return np.asarray(np.minimum(across, across.T))


def _least(gaps: Floats) -> float:
    """The bound, mm: the best over rounds of tolls, from none on."""
    count = len(gaps)
    if count < 2:
        return 0.0
    tolls, best, share = np.zeros(count), 0.0, 1.0
    passed = np.append(1.0, np.full(count - 1, 2.0))
    for _ in range(min(MOST_ROUNDS, max(ROUNDS_TIMES_CUTS // count, 1))):
        length, met = _tree(gaps + tolls[:, None] + tolls[None, :])
        best = max(best, length - float(passed @ tolls) + float(tolls[1:].min()))
        off = met - passed
        worth = float((off**2).sum())
        # One cut is passed once: the last one. A tree that only misses that is a way.
        if worth <= 1.0:
            break
        tolls = tolls + share * REACH * best / worth * off
        share *= STEP_SHARE
    return best


def _tree(gaps: Floats) -> tuple[float, Ints]:
    """The length of the shortest tree that spans all, mm, and how often it meets each (n,)."""
    count = len(gaps)
    near, via = gaps[0].copy(), np.zeros(count, dtype=np.int64)
    met = np.zeros(count, dtype=np.int64)
    near[0] = np.inf
    left = np.ones(count, dtype=np.bool_)
    left[0] = False
    total = 0.0
    for _ in range(count - 1):
        chosen = int(np.argmin(near))
        total += float(near[chosen])
        met[chosen] += 1
        met[via[chosen]] += 1
        left[chosen] = False
        closer = left & (gaps[chosen] < near)
        near[closer], via[closer] = gaps[chosen][closer], chosen
        near[chosen] = np.inf
    return total, met
