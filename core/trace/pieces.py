"""One chain's samples with the pieces they were split into: what the joint fit starts from."""

from dataclasses import dataclass, replace

import numpy as np

from core.outline.segments import Floats
from core.trace.breaks import Judge, Pieces, open_pieces, ring_pieces, rolled
from core.trace.cracks import CrackChain, Cracks, corners_along
from core.trace.joints import Curve, curves
from core.trace.samples import Samples, bend_shift

#: Samples below which a chain is not split but drawn as one line (or circle).
FEWEST = 3
FEWEST_IN_RING = 5


@dataclass(frozen=True, eq=False)
class Run:
    """A chain, its lattice corners, and its samples from ``start`` (a ring's last is its first again).

    places (n, 2), bend (n,) px of shift per curvature; pieces None where there are too few samples.
    """

    chain: CrackChain
    corners: Floats
    places: Floats
    bend: Floats
    judge: Judge
    pieces: Pieces | None
    curves: tuple[Curve, ...]


def run_of(chain: CrackChain, cracks: Cracks, samples: Samples, judge: Judge, blur: float) -> Run:
    """The chain split into the fewest pieces its samples ask for."""
    bend = bend_shift(blur, samples.slant)
    corners = corners_along(chain, cracks)
    places = samples.places
    empty = Run(chain, corners, places, bend, judge, None, ())
    if len(places) < (FEWEST_IN_RING if chain.is_ring else FEWEST):
        return empty
    if chain.is_ring:
        start, pieces = ring_pieces(places, judge)
        places = rolled(places, start)
        bend = np.concatenate((bend[start:], bend[: start + 1]))
    else:
        pieces = open_pieces(places, judge)
    return replace(empty, places=places, bend=bend, pieces=pieces, curves=curves(places, pieces, judge))
