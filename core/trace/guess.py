"""An outline put to the test: what the pixels should read if it were true, against what they do read.

Plot: fit the runs (guess_of) -> forecast the picture and read the forecast with the same strips -> from the
differences come the noise of the pixels (noise_of) and better samples (read_again).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats
from core.trace.edges import Edges
from core.trace.ends import blunted
from core.trace.feet import feet
from core.trace.forecast import cut_off, forecast, grain_of, hue_softened
from core.trace.noise import scatters_of, sigmas
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
    """Runs in pieces, the chains fitted to them, what every chain's strips read in the forecast, and that."""

    runs: tuple[Run, ...]
    traced: Traced
    told: tuple[Floats, ...]
    pixels: NDArray[np.float32]


def runs_of(
    edges: Edges, samples: tuple[Samples, ...], least: tuple[float, ...], trim: int
) -> tuple[Run, ...]:
    """The pieces of every chain; no chain's noise is taken for less than least px."""
    rings = tuple(chain.is_ring for chain in edges.chains)
    scatter = sigmas(scatters_of(tuple(s.places for s in samples), rings))
    noise = tuple(
        max(min(max(pair), MOST_NOISE), edges.least_sigma) for pair in zip(scatter, least, strict=True)
    )
    runs = runs_in_pieces(edges.chains, edges.cracks, samples, noise, trim)
    return tuple(blunted(run, edges.blur) for run in runs)


def guess_of(edges: Edges, runs: tuple[Run, ...]) -> Guess:
    """The outline that fits the runs, and its forecast."""
    return guess_from(edges, runs, fitted(runs, ROUGH))


def guess_from(
    edges: Edges, runs: tuple[Run, ...], traced: Traced, known: dict[int, Floats] | None = None
) -> Guess:
    """An outline already drawn from the runs, and its forecast; known are readings that need no renewal."""
    frame = edges.frame
    told = forecast(
        tuple(chain for chain, _ in traced),
        frame.palette[edges.areas.colour],
        frame.palette[frame.ground],
        frame.labels.shape,
        edges.blur,
    )
    told = hue_softened(told, edges.bands.hue_blur)
    told = cut_off(told, grain_of(frame.pixels, told))
    return Guess(runs, traced, _readings(edges, told, known or {}), told)


def _readings(edges: Edges, told: NDArray[np.float32], known: dict[int, Floats]) -> tuple[Floats, ...]:
    return tuple(known[at] if at in known else shares(strips, told) for at, strips in enumerate(edges.strips))


def noise_of(edges: Edges, guess: Guess) -> tuple[float, ...]:
    """Per chain, as a share of contrast: how far its pixels typically read from the forecast."""
    found = []
    for seen, told in zip(edges.shares, guess.told, strict=True):
        off = np.abs(middle(seen) - middle(told)).ravel()
        most = np.partition(off, last := int(ALL_BUT_MISTAKES * (off.size - 1)))[: last + 1]
        found.append(float(np.sqrt(np.mean(most**2))))
    return tuple(found)


def read_again(edges: Edges, guess: Guess, distrust: float) -> tuple[Samples, ...]:
    """Samples from the difference between the picture and its forecast; see Footing for distrust."""
    samples = []
    for strips, seen, told, run, (chain, _) in zip(
        edges.strips, edges.shares, guess.told, guess.runs, guess.traced, strict=True
    ):
        near = strips.centre + strips.along * sums(strips, told)[:, None]
        on = feet(chain, run, strips.step, near)
        footing = Footing(on, np.hypot(*(on - near).T), distrust)
        samples.append(second_samples(strips, seen, told, footing))
    return tuple(samples)
