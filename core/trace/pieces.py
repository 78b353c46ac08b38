"""One chain's samples with the pieces they were split into: what the joint fit starts from."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from core.outline.segments import Floats
from core.trace.breaks import Pieces, split
from core.trace.cracks import CrackChain, Cracks, corners_along
from core.trace.joints import Curve, curves, joint
from core.trace.samples import Samples
from core.trace.track import Track

#: Samples below which a chain is not split but drawn as one line (or circle).
FEWEST = 3
FEWEST_IN_RING = 5

#: px by which midpoints of cracks lie off a straight edge: 1 / sqrt(12).
CRACK_NOISE = 0.289


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

    @cached_property
    def inner_joints(self) -> tuple[Floats, ...]:
        """Where each piece meets the next; kept, because many outlines are tried with most runs the same."""
        if self.pieces is None:
            return ()
        breaks = self.pieces.breaks[1:-1].tolist()
        pairs = zip(self.curves, self.curves[1:], breaks, strict=False)
        return tuple(joint(one, other, self.track.places[at]) for one, other, at in pairs)


def runs_in_pieces(
    chains: tuple[CrackChain, ...],
    cracks: Cracks,
    samples: tuple[Samples, ...],
    noise: tuple[float, ...],
    trim: int,
) -> tuple[Run, ...]:
    """Every chain split into the fewest pieces its samples ask for, noise px being how far they scatter."""
    tracks = tuple(_track(own, sigma, trim) for own, sigma in zip(samples, noise, strict=True))
    fewest = tuple(FEWEST_IN_RING if chain.is_ring else FEWEST for chain in chains)
    speaks = [at for at, track in enumerate(tracks) if len(track) >= fewest[at]]
    found = split(tuple(tracks[at] for at in speaks), tuple(chains[at].is_ring for at in speaks))
    runs = [
        Run(chain, corners_along(chain, cracks), track, None, ())
        for chain, track in zip(chains, tracks, strict=True)
    ]
    for at, own, drawn in zip(speaks, found, curves(found), strict=True):
        runs[at] = Run(chains[at], runs[at].corners, own.track, own.pieces, drawn)
    return tuple(runs)


def from_cracks(runs: tuple[Run, ...], which: set[int], cracks: Cracks) -> tuple[Run, ...]:
    """The runs, those at which fitted again to nothing but the midpoints of their cracks."""
    order = sorted(which)
    chains = tuple(runs[at].chain for at in order)
    samples = tuple(_midpoints(runs[at].corners) for at in order)
    plain = runs_in_pieces(chains, cracks, samples, (CRACK_NOISE,) * len(order), 0)
    again = dict(zip(order, plain, strict=True))
    return tuple(again.get(at, run) for at, run in enumerate(runs))


def _midpoints(corners: Floats) -> Samples:
    places = (corners[:-1] + corners[1:]) / 2.0
    count = len(places)
    nothing = np.zeros(count)
    return Samples(places, np.arange(count), nothing, np.full(count, np.nan), nothing)


def _track(samples: Samples, sigma: float, trim: int) -> Track:
    weight = sigma**2 / (sigma**2 + samples.extra**2)
    return Track(samples.places, weight, samples.step, samples.bend, sigma, trim)
