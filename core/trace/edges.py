"""What is read from the picture before anything is fitted: areas, chains of cracks, strips, shares."""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.bands import Bands, bands_of
from core.trace.cracks import CrackChain, Cracks, find_cracks, string_together
from core.trace.faces import Areas, Framed
from core.trace.samples import Samples, blur_of, first_samples
from core.trace.strips import Strips, middle, reach_of, seen_by, shares, strips_of

#: Share of a colour from which a pixel counts as mixed. A picture in which fewer strips than HARD_SHARE have
#: such a pixel is hard: its samples are steps that scatter by HARD_SIGMA px (1 / sqrt(12)).
BETWEEN, HARD_SHARE, HARD_SIGMA = 0.12, 0.1, 0.29

#: px of blur supposed until it is measured.
FIRST_BLUR = 0.6


@dataclass(frozen=True, eq=False)
class Edges:
    """The framed picture with its areas, cracks and chains; for every chain strips, shares and first samples.

    blur is the sigma in px common to all edges, bands how lightness and hue are listened to,
    least_sigma px the least that samples scatter: more than nothing where no pixel is between two colours.
    """

    frame: Framed
    areas: Areas
    cracks: Cracks
    chains: tuple[CrackChain, ...]
    strips: tuple[Strips, ...]
    shares: tuple[Floats, ...]
    samples: tuple[Samples, ...]
    blur: float
    bands: Bands
    least_sigma: float


def read_edges(frame: Framed, found: Areas) -> Edges:
    """Read once with strips for a little blur, and again where the blur asks for longer or shorter ones."""
    cracks = find_cracks(found)
    chains = string_together(cracks, found)
    depth = frame.depth()
    strips = tuple(strips_of(frame, depth, cracks, chain, reach_of(FIRST_BLUR)) for chain in chains)
    bands = bands_of(frame, strips)
    strips = tuple(seen_by(one, frame, bands.metric) for one in strips)
    edges = _read(frame, found, cracks, chains, strips, bands)
    wanted = reach_of(edges.blur)
    if wanted == reach_of(FIRST_BLUR):
        return edges
    strips = tuple(
        seen_by(strips_of(frame, depth, cracks, chain, wanted), frame, bands.metric) for chain in chains
    )
    return _read(frame, found, cracks, chains, strips, bands)


def _read(
    frame: Framed,
    found: Areas,
    cracks: Cracks,
    chains: tuple[CrackChain, ...],
    strips: tuple[Strips, ...],
    bands: Bands,
) -> Edges:
    read = tuple(shares(strip, frame.pixels) for strip in strips)
    blur = blur_of(tuple(first_samples(s, share, 0.0) for s, share in zip(strips, read, strict=True)))
    samples = tuple(first_samples(s, share, blur) for s, share in zip(strips, read, strict=True))
    return Edges(frame, found, cracks, chains, strips, read, samples, blur, bands, _least_sigma(read))


def _least_sigma(read: tuple[Floats, ...]) -> float:
    """Px; pixels of one colour or the other tell an edge to half a pixel either way, 1 / sqrt(12) at most."""
    between = [np.any((middle(one) > BETWEEN) & (middle(one) < 1.0 - BETWEEN), axis=1) for one in read]
    return HARD_SIGMA if np.mean(np.concatenate(between)) < HARD_SHARE else 0.0
