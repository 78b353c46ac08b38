"""How far the bit travels through the air, against the least that any order of the same cuts could do.

A way through all cuts is a tree that spans them, so it is no shorter than the shortest such tree (a minimum
spanning tree, R. C. Prim 1957), with the least distance from the end of one cut to the start of another
either way round. The rules of order may forbid that; the bound says how much they, and we, cost.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.router.toolpath import Motion, Toolpath


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
    return AirTravel(travelled, _least(toolpath.start[:2], starts[begins], ends[finishes]))


def _least(zero: Floats, begins: Floats, finishes: Floats) -> float:
    """The length of the shortest tree that spans the zero and all cuts, mm."""
    into, out_of = np.vstack((zero, begins)), np.vstack((zero, finishes))
    near = np.full(len(into), np.inf)
    near[0] = 0.0
    left, total = np.ones(len(into), dtype=np.bool_), 0.0
    for _ in range(len(into)):
        chosen = int(np.argmin(np.where(left, near, np.inf)))
        left[chosen] = False
        total += float(near[chosen])
        after = np.hypot(*(into - out_of[chosen]).T)
        before = np.hypot(*(out_of - into[chosen]).T)
        near = np.minimum(near, np.minimum(after, before))
    return total
