"""The crack graph: the unit steps between pixels of different areas, strung into chains and rings.

A crack runs between two pixels that touch by a side and belong to different areas. On the lattice of
pixel corners cracks meet in twos (the chain goes on), in threes or fours (a node), or in fours at a joined
saddle, where two chains pass each other. Every crack has two directions: 2 k runs up or right, 2 k + 1
back; a chain is a list of directed cracks, each followed by ``after`` until a node or the start.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Areas, Ints

#: Slots of a lattice corner, counter-clockwise.
EAST, NORTH, WEST, SOUTH = range(4)


@dataclass(frozen=True, eq=False)
class Cracks:
    """All cracks, undirected: start and end corner (m, 2) as (row, column) on the framed lattice.

    low and high (m, 2) are the pixels (row, column) on the two sides: left and right of an upright crack,
    below and above a level one. The first ``upright`` cracks are upright.
    """

    start: Ints
    end: Ints
    low: Ints
    high: Ints
    upright: int


@dataclass(frozen=True, eq=False)
class CrackChain:
    """directed (n,) cracks in order; its areas; the corners (numbered) it starts and ends at."""

    directed: Ints
    left: int
    right: int
    is_ring: bool
    tail: int
    head: int


def find_cracks(found: Areas) -> Cracks:
    """Every step between two areas."""
    index = found.index
    up, right = np.array([1, 0]), np.array([0, 1])
    beside = np.argwhere(index[:, :-1] != index[:, 1:])
    below = np.argwhere(index[:-1] != index[1:])
    start = np.vstack((beside + right, below + up))
    upright = len(beside)
    return Cracks(
        start=start,
        end=np.vstack((start[:upright] + up, start[upright:] + right)),
        low=np.vstack((beside, below)),
        high=np.vstack((beside + right, below + up)),
        upright=upright,
    )


def _spokes(cracks: Cracks, width: int) -> tuple[Ints, Ints]:
    """Corners (c,) in use, and (c, 4) the directed crack that leaves each towards every side, or -1."""
    count, upright = len(cracks.start), cracks.upright
    crack = np.arange(count)
    at_start, at_end = (side[:, 0] * width + side[:, 1] for side in (cracks.start, cracks.end))
    corners, place = np.unique(np.concatenate((at_start, at_end)), return_inverse=True)
    spokes = np.full((corners.size, 4), -1, dtype=np.int64)
    is_upright = crack < upright
    spokes[place[:count], np.where(is_upright, NORTH, EAST)] = 2 * crack
    spokes[place[count:], np.where(is_upright, SOUTH, WEST)] = 2 * crack + 1
    return corners, spokes


def _pair_up(after: Ints, one: Ints, other: Ints) -> None:
    after[one ^ 1] = other
    after[other ^ 1] = one


def follow(cracks: Cracks, found: Areas) -> tuple[Ints, Ints]:
    """What follows each directed crack (2 m,), -1 at a node, and the corner it ends at (2 m,)."""
    width = found.index.shape[1] + 1
    corners, spokes = _spokes(cracks, width)
    after = np.full(2 * len(cracks.start), -1, dtype=np.int64)
    degree = np.sum(spokes >= 0, axis=1)
    two = np.sort(spokes[degree == 2], axis=1)
    _pair_up(after, two[:, 2], two[:, 3])
    for places, pairs in (
        (found.saddles.rising, ((WEST, NORTH), (EAST, SOUTH))),
        (found.saddles.falling, ((NORTH, EAST), (WEST, SOUTH))),
    ):
        row = np.searchsorted(corners, places[:, 0] * width + places[:, 1])
        for one, other in pairs:
            _pair_up(after, spokes[row, one], spokes[row, other])
    ends = np.empty(after.size, dtype=np.int64)
    ends[0::2] = cracks.end[:, 0] * width + cracks.end[:, 1]
    ends[1::2] = cracks.start[:, 0] * width + cracks.start[:, 1]
    return after, ends


def string_together(cracks: Cracks, found: Areas) -> tuple[CrackChain, ...]:
    """Chains from node to node first, then rings, in an order that depends on the picture alone."""
    after, ends = follow(cracks, found)
    step = after.tolist()
    used = bytearray(len(cracks.start))
    leaving = np.sort(np.nonzero(after == -1)[0] ^ 1).tolist()
    runs = [_walk(first, step, used) for first in leaving if not used[first >> 1]]
    open_runs = len(runs)
    runs += [_walk(2 * crack, step, used) for crack in range(len(used)) if not used[crack]]
    return tuple(
        _chain(np.array(run), cracks, found, ends, is_ring=at >= open_runs) for at, run in enumerate(runs)
    )


def _walk(first: int, after: list[int], used: bytearray) -> list[int]:
    run = []
    here = first
    while here >= 0 and not used[here >> 1]:
        used[here >> 1] = 1
        run.append(here)
        here = after[here]
    return run


def _chain(run: Ints, cracks: Cracks, found: Areas, ends: Ints, *, is_ring: bool) -> CrackChain:
    first = int(run[0])
    crack = first >> 1
    low, high = (int(found.index[tuple(side[crack])]) for side in (cracks.low, cracks.high))
    left_is_low = (crack < cracks.upright) == (first % 2 == 0)
    left, right = (low, high) if left_is_low else (high, low)
    tail, head = int(ends[first ^ 1]), int(ends[run[-1]])
    return CrackChain(run, left, right, is_ring, tail, head)


def corners_along(chains: tuple[CrackChain, ...], cracks: Cracks) -> Floats:
    """(n, 2) px, x right, y up: the lattice corners the chains run through, one more than each has cracks."""
    ends = np.stack((cracks.start, cracks.end), axis=1).reshape(-1, 2)  # where each directed crack begins
    lasts = np.array([chain.directed[-1] ^ 1 for chain in chains])
    begins = np.concatenate(
        [np.append(chain.directed, last) for chain, last in zip(chains, lasts, strict=True)]
    )
    return np.asarray(ends[begins][:, ::-1] - 1.0, dtype=np.float64)
