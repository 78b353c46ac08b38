"""What is read from the picture before anything is fitted: areas, chains of cracks, strips, shares."""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.bands import Bands, bands_of
from core.trace.cracks import CrackChain, Cracks, corners_along, find_cracks, string_together
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
    """The framed picture with its areas, cracks and chains, and of all chains strips, shares, first samples.

    corners are the lattice corners along each chain; blur is the sigma in px common to all edges,
    bands how lightness and hue are listened to,
    least_sigma px the least that samples scatter: more than nothing where no pixel is between two colours.
    """

    frame: Framed
    areas: Areas
    cracks: Cracks
    chains: tuple[CrackChain, ...]
    corners: tuple[Floats, ...]
    strips: Strips
    shares: Floats
    samples: Samples
    blur: float
    bands: Bands
    least_sigma: float


def read_edges(frame: Framed, found: Areas) -> Edges:
    """Read once with strips for a little blur, and again where the blur asks for longer or shorter ones."""
    cracks = find_cracks(found)
    chains = string_together(cracks, found)
    corners = corners_along(chains, cracks)
    depth = frame.depth()
    strips = strips_of(frame, depth, cracks, chains, corners, reach_of(FIRST_BLUR))
    bands = bands_of(frame, strips)
    strips = seen_by(strips, frame, bands.metric)
    read = shares(strips, frame.pixels)
    blur = blur_of(first_samples(strips, read, 0.0))
    if reach_of(blur) != reach_of(FIRST_BLUR):
        strips = strips_of(frame, depth, cracks, chains, corners, reach_of(blur))
        strips = seen_by(strips, frame, bands.metric)
        read = shares(strips, frame.pixels)
        blur = blur_of(first_samples(strips, read, 0.0))
    cuts = np.cumsum([len(chain.directed) + 1 for chain in chains])[:-1]
    return Edges(
        frame,
        found,
        cracks,
        chains,
        tuple(np.split(corners, cuts)),
        strips,
        read,
        first_samples(strips, read, blur),
        blur,
        bands,
        _least_sigma(read),
    )


def _least_sigma(read: Floats) -> float:
    """Px; pixels of one colour or the other tell an edge to half a pixel either way, 1 / sqrt(12) at most."""
    near = middle(read)
    between = np.any((near > BETWEEN) & (near < 1.0 - BETWEEN), axis=1)
    return HARD_SIGMA if np.mean(between) < HARD_SHARE else 0.0
