"""An outline put to the test: what the pixels should read if it were true, against what they do read.

Plot: fit the runs (guess_of) -> forecast the picture and read the forecast with the same strips -> where the
outline has short pieces that the pixels do not ask for, take them away (simplified) -> from the differences
left come better samples (read_again) and the noise of the pixels themselves.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.edges import Edges
from core.trace.feet import feet
from core.trace.forecast import cut_off, forecast, grain_of, hue_softened
from core.trace.noise import scatters_of, sigmas
from core.trace.pieces import Run, runs_in_pieces
from core.trace.samples import Footing, Samples, second_samples, sums
from core.trace.simpler import Doubtful, dispensable, doubtful, without
from core.trace.strips import middle, shares
from core.trace.together import ROUGH, Traced, fitted

#: Weighted by how they change with the edge, the pixels of a strip leave this much of their own noise.
NOISE_LEFT = 0.6

#: Differences beyond this share of all are mistakes of the outline, not noise.
ALL_BUT_MISTAKES = 0.98

#: px; blur from which short pieces beside corners spoil what is read next.
SPOILING_BLUR = 0.7


@dataclass(frozen=True, eq=False)
class Guess:
    """Runs in pieces, the chains fitted to them, and per chain what its strips read in the forecast."""

    runs: tuple[Run, ...]
    traced: Traced
    told: tuple[Floats, ...]


def runs_of(
    edges: Edges, samples: tuple[Samples, ...], least: tuple[float, ...], trim: int
) -> tuple[Run, ...]:
    """The pieces of every chain; no chain's noise is taken for less than least px."""
    rings = tuple(chain.is_ring for chain in edges.chains)
    scatter = sigmas(scatters_of(tuple(s.places for s in samples), rings))
    noise = tuple(max(pair) for pair in zip(scatter, least, strict=True))
    return runs_in_pieces(edges.chains, edges.cracks, samples, noise, trim)


def guess_of(edges: Edges, runs: tuple[Run, ...]) -> Guess:
    """The outline that fits the runs, and its forecast."""
    traced = fitted(runs, ROUGH)
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
    return Guess(runs, traced, tuple(shares(strips, told) for strips in edges.strips))


def noise_of(edges: Edges, guess: Guess) -> tuple[float, ...]:
    """Per chain, as a share of contrast: how far its pixels typically read from the forecast."""
    found = []
    for seen, told in zip(edges.shares, guess.told, strict=True):
        off = np.abs(middle(seen) - middle(told)).ravel()
        most = np.partition(off, last := int(ALL_BUT_MISTAKES * (off.size - 1)))[: last + 1]
        found.append(float(np.sqrt(np.mean(most**2))))
    return tuple(found)


@dataclass(frozen=True, eq=False)
class Trial:
    """A guess, the same without any of the short pieces asked about, and those of them that may go."""

    guess: Guess
    bare: Guess
    asked: tuple[Doubtful, ...]
    gone: tuple[Doubtful, ...]

    def is_mixed(self) -> bool:
        """Whether a run has both pieces that may go and pieces that may not."""
        return not {d.run for d in self.gone}.isdisjoint(d.run for d in set(self.asked) - set(self.gone))

    def unmixed(self) -> Guess:
        """Each run from the bare guess where all that was asked about it may go, else as it was."""
        stay = {doubt.run for doubt in set(self.asked) - set(self.gone)}
        sources = [self.guess if run in stay else self.bare for run in range(len(self.guess.runs))]
        return Guess(
            tuple(source.runs[run] for run, source in enumerate(sources)),
            tuple(source.traced[run] for run, source in enumerate(sources)),
            tuple(source.told[run] for run, source in enumerate(sources)),
        )

    def simplest(self) -> tuple[Run, ...]:
        """The runs without every piece that may go."""
        return _without(self.guess.runs, self.gone)


def tried(edges: Edges, guess: Guess) -> Trial:
    """Which short pieces the pixels can do without."""
    asked = doubtful(guess.runs, edges.blur)
    if not asked:
        return Trial(guess, guess, (), ())
    bare = guess_of(edges, _without(guess.runs, asked))
    noise = noise_of(edges, bare)
    gone = tuple(doubt for doubt in asked if _can_go(edges, doubt, guess, bare, noise[doubt.run]))
    return Trial(guess, bare, asked, gone)


def better(edges: Edges, guess: Guess) -> Guess:
    """The guess without short pieces that the pixels can do without.

    In a sharp picture it does little harm to leave some for the next reading, and saves a fit.
    """
    trial = tried(edges, guess)
    if trial.is_mixed() and edges.blur > SPOILING_BLUR:
        return guess_of(edges, trial.simplest())
    return trial.unmixed()


def _without(runs: tuple[Run, ...], gone: tuple[Doubtful, ...]) -> tuple[Run, ...]:
    thinner = list(runs)
    for index in sorted({doubt.run for doubt in gone}):
        thinner[index] = without(runs[index], sorted(d.piece for d in gone if d.run == index))
    return tuple(thinner)


def _can_go(edges: Edges, doubt: Doubtful, guess: Guess, bare: Guess, noise: float) -> bool:
    strips, seen = edges.strips[doubt.run], edges.shares[doubt.run]
    off, off_bare = (
        np.sum((middle(seen) - middle(told.told[doubt.run])) ** 2, axis=1) for told in (guess, bare)
    )
    cracks = len(edges.chains[doubt.run].directed)
    return dispensable(doubt, strips.step, cracks, off, off_bare, noise)


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
