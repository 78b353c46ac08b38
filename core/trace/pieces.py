"""One chain's samples with the pieces they were split into: what the joint fit starts from."""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.breaks import Pieces, split
from core.trace.cracks import CrackChain
from core.trace.joints import NO_CURVES, Curves, curves
from core.trace.rows import rows_of
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
    curves: Curves


def runs_in_pieces(
    chains: tuple[CrackChain, ...],
    corners: tuple[Floats, ...],
    samples: Samples,
    noise: Floats,
    trim: int,
) -> tuple[Run, ...]:
    """Every chain split into the fewest pieces its samples ask for, noise (c,) px: how far they scatter."""
    tracks = _tracks(samples, noise, trim)
    fewest = tuple(FEWEST_IN_RING if chain.is_ring else FEWEST for chain in chains)
    speaks = [at for at, track in enumerate(tracks) if len(track) >= fewest[at]]
    found = split(tuple(tracks[at] for at in speaks), tuple(chains[at].is_ring for at in speaks))
    runs = [Run(*known, None, NO_CURVES) for known in zip(chains, corners, tracks, strict=True)]
    for at, own, drawn in zip(speaks, found, curves(found), strict=True):
        runs[at] = Run(chains[at], corners[at], own.track, own.pieces, drawn)
    return tuple(runs)


def from_cracks(runs: tuple[Run, ...], which: set[int]) -> tuple[Run, ...]:
    """The runs, those at which fitted again to nothing but the midpoints of their cracks."""
    order = sorted(which)
    chains, corners = tuple(runs[at].chain for at in order), tuple(runs[at].corners for at in order)
    noise = np.full(len(order), CRACK_NOISE)
    plain = runs_in_pieces(chains, corners, _midpoints(corners), noise, 0)
    again = dict(zip(order, plain, strict=True))
    return tuple(again.get(at, run) for at, run in enumerate(runs))


def _midpoints(corners: tuple[Floats, ...]) -> Samples:
    places = tuple((own[:-1] + own[1:]) / 2.0 for own in corners)
    rows = rows_of(places)
    nothing = np.zeros(len(rows.owner))
    return Samples(rows, np.vstack(places), rows.within, nothing, np.full(len(nothing), np.nan), nothing)


def _tracks(samples: Samples, noise: Floats, trim: int) -> tuple[Track, ...]:
    square = noise[samples.rows.owner] ** 2
    weight = square / (square + samples.extra**2)
    owns = [samples.rows.own(chain) for chain in range(len(samples.rows))]
    return tuple(
        Track(samples.places[own], weight[own], samples.step[own], samples.bend[own], sigma, trim)
        for own, sigma in zip(owns, noise.tolist(), strict=True)
    )
