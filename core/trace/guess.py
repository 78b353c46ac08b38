"""An outline put to the test: what the pixels should read if it were true, against what they do read.

Plot: fit the runs (guess_of) -> forecast the picture and read the forecast with the same strips -> from the
differences come the noise of the pixels and better samples (read_again).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats
from core.trace.bands import looks_small
from core.trace.edges import Edges
from core.trace.ends import blunted
from core.trace.feet import feet
from core.trace.forecast import cut_off, forecast, grain_of, hue_softened
from core.trace.noise import LONG, SHORT, scatter_of, sigmas
from core.trace.pieces import Run, runs_in_pieces
from core.trace.samples import Footing, Samples, second_samples, sums
from core.trace.strips import middle, shares
from core.trace.together import ROUGH, Traced, fitted

#: Weighted by how they change with the edge, the pixels of a strip leave this much of their own noise.
NOISE_LEFT = 0.6

#: px; samples that scatter by more are those of an edge with teeth or fur, not of noise.
MOST_NOISE = 0.6

#: Differences beyond this share of all are mistakes of the outline, not noise.
ALL_BUT_MISTAKES = 0.98


@dataclass(frozen=True, eq=False)
class Guess:
    """Runs in pieces, the chains fitted to them, and their forecast, the pixels of the framed picture.

    told (n, 2 m) are the shares that all strips read in it; noise (c,), as a share of contrast, is how far
    each chain's pixels typically read from it.
    """

    runs: tuple[Run, ...]
    traced: Traced
    told: Floats
    noise: Floats
    pixels: NDArray[np.float32]


def runs_of(edges: Edges, samples: Samples, least: Floats, trim: int) -> tuple[Run, ...]:
    """The pieces of every chain; no chain's noise is taken for less than least (c,) px."""
    is_ring = edges.strips.is_ring
    long, short = (scatter_of(samples.places, samples.rows, is_ring, width) for width in (LONG, SHORT))
    found = sigmas(long, short) * looks_small(edges.bands, edges.frame, edges.strips)
    noise = np.clip(np.maximum(found, least), edges.least_sigma, MOST_NOISE)
    return blunted(runs_in_pieces(edges.chains, edges.corners, samples, noise, trim), edges.blur)


def guess_of(edges: Edges, runs: tuple[Run, ...]) -> Guess:
    """The outline that fits the runs, and its forecast."""
    return guess_from(edges, runs, fitted(runs, ROUGH))


def guess_from(edges: Edges, runs: tuple[Run, ...], traced: Traced) -> Guess:
    """An outline already drawn from the runs, and its forecast."""
    frame = edges.frame
    told = forecast(
        tuple(chain for chain, _ in traced),
        frame.palette[edges.areas.colour],
        frame.palette[frame.ground],
        frame.labels.shape,
        edges.blur,
    )
    told = hue_softened(told, edges.bands)
    told = cut_off(told, grain_of(frame.pixels, told))
    read = shares(edges.strips, told)
    return Guess(runs, traced, read, _noise(edges, read), told)


def _noise(edges: Edges, told: Floats) -> Floats:
    off = np.abs(middle(edges.shares) - middle(told))
    found = []
    for chain in range(len(edges.chains)):
        own = off[edges.strips.rows.own(chain)].ravel()
        most = np.partition(own, last := int(ALL_BUT_MISTAKES * (own.size - 1)))[: last + 1]
        found.append(float(np.sqrt(np.mean(most**2))))
    return np.array(found)


def read_again(edges: Edges, guess: Guess, distrust: float) -> Samples:
    """Samples from the difference between the picture and its forecast; see Footing for distrust."""
    strips = edges.strips
    near = strips.centre + strips.along * sums(strips, guess.told)[:, None]
    on = feet(tuple(chain for chain, _ in guess.traced), guess.runs, strips, near)
    return second_samples(strips, edges.shares, guess.told, Footing(on, np.hypot(*(on - near).T), distrust))
