"""Corners tried: the outline with each as it is, sharp and rounded, and what the pixels say to that.

Plot: ask which corners are in doubt (simpler.py) -> forecast them sharp -> what the picture lacks of each
gives the radius of its arc -> forecast them rounded -> the cheapest of the three at every corner (tried).
"""

from dataclasses import dataclass, replace

import numpy as np

from core.trace.edges import Edges
from core.trace.guess import Guess, guess_from, guess_of
from core.trace.pieces import Run
from core.trace.rows import Rows
from core.trace.simpler import (
    LEAST_NOISE,
    SHORTFALL,
    Corner,
    Doubtful,
    chosen,
    doubtful,
    radius_of,
    reshaped,
    strips_near,
)
from core.trace.strips import LEAST_DIFFERENCE, middle
from core.trace.together import sketched

#: px; blur from which mistaken corners spoil what is read next.
SPOILING_BLUR = 0.7

#: px round a corner that are searched for what it lacks: the edge of pixels, and for every px of blur; and
#: how far a corner reaches where no short pieces say so.
MARGIN, MARGIN_PER_BLUR = 2.0, 2.5
LEAST_REACH = 3.0

Verdicts = tuple[tuple[Doubtful, Corner], ...]


@dataclass(frozen=True, eq=False)
class Trial:
    """The same outline with every doubtful corner as it is, sharp and rounded, and the verdict on each.

    rows tells whose the strips are that the guesses speak of.
    """

    rows: Rows
    guesses: dict[Corner, Guess]
    verdicts: Verdicts

    def runs(self) -> tuple[Run, ...]:
        """The runs with every corner as the pixels would have it."""
        return _reshaped(self.guesses[Corner.AS_IT_IS].runs, self.verdicts)

    def ways(self) -> list[set[Corner]]:
        """For every run the different verdicts on its corners."""
        found: list[set[Corner]] = [set() for _ in self.guesses[Corner.AS_IT_IS].runs]
        for doubt, corner in self.verdicts:
            found[doubt.run].add(corner)
        return found

    def unmixed(self) -> Guess:
        """Runs whose corners are all judged alike as the pixels would have them, the others as they are."""
        known = self.guesses[Corner.AS_IT_IS]
        sources = [self.guesses[next(iter(way)) if len(way) == 1 else Corner.AS_IT_IS] for way in self.ways()]
        told = known.told.copy()
        for run, source in enumerate(sources):
            if source is not known:
                told[self.rows.own(run)] = source.told[self.rows.own(run)]
        return Guess(
            tuple(source.runs[run] for run, source in enumerate(sources)),
            tuple(source.traced[run] for run, source in enumerate(sources)),
            told,
            np.array([source.noise[run] for run, source in enumerate(sources)]),
            known.pixels,
        )


def better(edges: Edges, guess: Guess) -> Guess:
    """The guess with its corners as the pixels would have them.

    In a sharp picture it does little harm to leave some for the next reading, and saves a fit.
    """
    trial = tried(edges, guess)
    if edges.blur > SPOILING_BLUR and any(len(way) > 1 for way in trial.ways()):
        return guess_of(edges, trial.runs())
    return trial.unmixed()


def tried(edges: Edges, guess: Guess) -> Trial:
    """What the pixels say about corners."""
    asked = doubtful(guess.runs, edges.blur)
    spoilt = tuple((doubt, Corner.SHARP) for doubt in asked if doubt.short())
    sharp = _sketch(edges, guess, spoilt) if spoilt else guess
    asked = tuple(_with_radius(edges, sharp, doubt, float(guess.noise[doubt.run])) for doubt in asked)
    asked = tuple(doubt for doubt in asked if doubt.short() or doubt.radius)
    guesses = {Corner.AS_IT_IS: guess}
    if spoilt:
        guesses[Corner.SHARP] = sharp
    if any(doubt.radius for doubt in asked):
        round_all = tuple((doubt, Corner.ROUNDED if doubt.radius else Corner.SHARP) for doubt in asked)
        guesses[Corner.ROUNDED] = _sketch(edges, guess, round_all)
    noise = np.min([one.noise for one in guesses.values()], axis=0)
    verdicts = tuple((d, chosen(d, _off(edges, guesses, d), float(noise[d.run]))) for d in asked)
    return Trial(edges.strips.rows, guesses, verdicts)


def _sketch(edges: Edges, guess: Guess, verdicts: Verdicts) -> Guess:
    """The guess with other corners; in a sharp picture chains without any are not fitted again."""
    runs = _reshaped(guess.runs, verdicts)
    if edges.blur > SPOILING_BLUR:
        return guess_of(edges, runs)
    changed = {doubt.run for doubt, _ in verdicts}
    drawn = zip(sketched(runs), guess.traced, strict=True)
    traced = tuple(new if at in changed else old for at, (new, old) in enumerate(drawn))
    return guess_from(edges, runs, traced)


def _reshaped(runs: tuple[Run, ...], verdicts: Verdicts) -> tuple[Run, ...]:
    own: dict[int, list[tuple[Doubtful, Corner]]] = {}
    for doubt, corner in verdicts:
        own.setdefault(doubt.run, []).append((doubt, corner))
    return tuple(reshaped(run, tuple(own[at])) if at in own else run for at, run in enumerate(runs))


def _with_radius(edges: Edges, sharp: Guess, doubt: Doubtful, noise: float) -> Doubtful:
    """The doubt with the radius that explains what the picture lacks of the corner forecast as sharp."""
    chain, frame = edges.chains[doubt.run], edges.frame
    one, other = (frame.palette[edges.areas.colour[face]] for face in (chain.left, chain.right))
    axis = (one - other) @ edges.bands.metric
    axis = axis / max(float(axis @ (one - other)), LEAST_DIFFERENCE)
    span = (doubt.last - doubt.first) % len(chain.directed)
    reach = max(span / 2.0, LEAST_REACH) + MARGIN + MARGIN_PER_BLUR * edges.blur
    at = np.array(doubt.at)[::-1] + 1.0  # row and column in the framed picture
    low = np.maximum(np.floor(at - reach).astype(int), 0)
    high = np.maximum(np.ceil(at + reach).astype(int), low)
    window = slice(low[0], high[0]), slice(low[1], high[1])
    more = (frame.pixels[window] - sharp.pixels[window]) @ axis
    cut = float(more.sum()) * (-1.0 if doubt.turn > 0.0 else 1.0)
    sure = cut > SHORTFALL * max(noise, LEAST_NOISE) * np.sqrt(more.size)
    return replace(doubt, radius=radius_of(cut, doubt.turn) if sure else 0.0)


def _off(edges: Edges, guesses: dict[Corner, Guess], doubt: Doubtful) -> dict[Corner, float]:
    """Sum of squared differences near a doubtful corner between the picture and each of its forecasts."""
    own = edges.strips.rows.own(doubt.run)
    near = np.nonzero(strips_near(doubt, edges.strips.step[own], len(edges.chains[doubt.run].directed)))[0]
    near += own.start
    seen = middle(edges.shares[near])
    return {
        corner: float(np.sum((seen - middle(guess.told[near])) ** 2))
        for corner, guess in guesses.items()
        if corner is not Corner.ROUNDED or doubt.radius
    }
