"""One chain's samples with the pieces they were split into: what the joint fit starts from."""

from dataclasses import dataclass

from core.outline.segments import Floats
from core.trace.breaks import Pieces, open_pieces, ring_pieces
from core.trace.cracks import CrackChain, Cracks, corners_along
from core.trace.joints import Curve, curves
from core.trace.samples import Samples
from core.trace.track import Track

#: Samples below which a chain is not split but drawn as one line (or circle).
FEWEST = 3
FEWEST_IN_RING = 5


@dataclass(frozen=True, eq=False)
class Run:
    """A chain, its lattice corners, and its samples in pieces, each with its curve.

    The track of a ring starts and ends with the same sample. pieces is None where there are too few.
    """

    chain: CrackChain
    corners: Floats
    track: Track
    pieces: Pieces | None
    curves: tuple[Curve, ...]


def run_of(chain: CrackChain, cracks: Cracks, samples: Samples, sigma: float, trim: int) -> Run:
    """The chain split into the fewest pieces its samples ask for, sigma px being their noise."""
    weight = sigma**2 / (sigma**2 + samples.extra**2)
    track = Track(samples.places, weight, samples.step, samples.bend, sigma, trim)
    corners = corners_along(chain, cracks)
    if len(track) < (FEWEST_IN_RING if chain.is_ring else FEWEST):
        return Run(chain, corners, track, None, ())
    track, pieces = ring_pieces(track) if chain.is_ring else (track, open_pieces(track))
    return Run(chain, corners, track, pieces, curves(track, pieces))
