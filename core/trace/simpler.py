"""Short pieces put to the question, whether the picture reads any worse without them.

Beside a corner blur and noise leave room for a short chamfer or a tiny arc that the samples alone cannot
tell from the corner itself. The pixels can: both outlines are forecast, and where the one without the
short piece reads the picture as well, within its noise, the piece goes.
"""

from dataclasses import dataclass, replace

import numpy as np

from core.outline.segments import Floats
from core.trace.breaks import LINE_PRICE, Pieces
from core.trace.faces import Bools
from core.trace.joints import crossings
from core.trace.pieces import Run

#: px a short piece is shorter than, and for every px of blur.
SHORT, SHORT_PER_BLUR = 4.0, 4.0

#: Strips to either side of a short piece that tell for or against it.
ROUND = 4

#: A share of contrast; pixels are never known better than half a grey level in 200.
LEAST_NOISE = 1.0 / 400.0


@dataclass(frozen=True)
class Doubtful:
    """A short piece of a run, and the cracks it spans; a ring's span may run past its end."""

    run: int
    piece: int
    first: int
    last: int


def doubtful(runs: tuple[Run, ...], blur: float) -> tuple[Doubtful, ...]:
    """Short pieces whose neighbours would meet near by without them, no two next to each other."""
    longest = SHORT + SHORT_PER_BLUR * blur
    found = []
    for index, run in enumerate(runs):
        if run.pieces is None or len(run.curves) < (4 if run.chain.is_ring else 3):
            continue
        before = -1
        for piece in _short(run, longest):
            if piece > before + 1 and not (
                run.chain.is_ring and piece == len(run.curves) - 1 and before == 0
            ):
                first, last = (int(run.track.step[at]) for at in run.pieces.breaks[piece : piece + 2])
                found.append(Doubtful(index, piece, first, last))
                before = piece
    return tuple(found)


def _short(run: Run, longest: float) -> list[int]:
    assert run.pieces is not None  # noqa: S101 - asked by doubtful only of runs in pieces
    count = len(run.curves)
    places = run.track.places[run.pieces.breaks]
    length = np.hypot(*np.diff(places, axis=0).T)
    inner = range(count) if run.chain.is_ring else range(1, count - 1)
    return [k for k in inner if length[k] < longest and _would_meet(run, k, longest)]


def _would_meet(run: Run, piece: int, reach: float) -> bool:
    assert run.pieces is not None  # noqa: S101 - as above
    count = len(run.curves)
    met = crossings(run.curves[piece - 1], run.curves[(piece + 1) % count])
    middle = run.track.places[run.pieces.breaks[piece : piece + 2]].mean(axis=0)
    return bool(len(met) and np.hypot(*(met - middle).T).min() < 2.0 * reach)


def without(run: Run, pieces: list[int]) -> Run:
    """The run without some of its pieces, no two next to each other: their neighbours meet half-way."""
    assert run.pieces is not None  # noqa: S101 - only runs in pieces have pieces to lose
    breaks = run.pieces.breaks.astype(np.float64)
    count = len(run.curves)
    for piece in pieces:
        middle = np.floor((breaks[piece] + breaks[piece + 1]) / 2.0)
        breaks[piece], breaks[piece + 1] = middle, middle
    gone = set(pieces)
    if run.chain.is_ring and (0 in gone or count - 1 in gone):
        return _rolled_without(run, pieces)
    kept = [k for k in range(count) if k not in gone]
    ends = [*(int(breaks[k]) for k in kept), int(breaks[count])]
    thinner = Pieces(np.array(ends), run.pieces.is_arc[kept], run.pieces.cost)
    return replace(run, pieces=thinner, curves=tuple(run.curves[k] for k in kept))


def _rolled_without(run: Run, pieces: list[int]) -> Run:
    """A ring whose first or last piece goes is opened at a break in its middle first."""
    assert run.pieces is not None  # noqa: S101 - as in without
    count, size = len(run.curves), len(run.track) - 1
    shift = next((k for k in range(1, count) if {k - 1, k}.isdisjoint(pieces)), 0)
    if shift == 0:  # every other piece is in doubt; one less leaves two neighbours that stay
        return without(run, [piece for piece in pieces[:-1] if piece != 0])
    order = [(k + shift) % count for k in range(count)]
    start = int(run.pieces.breaks[shift])
    opened = replace(
        run.track, **{name: getattr(run.track, name)[:-1] for name in ("places", "weight", "step", "bend")}
    ).rolled(start)
    breaks = (run.pieces.breaks[order] - start) % size
    turned = Pieces(np.append(breaks, size), run.pieces.is_arc[order], run.pieces.cost)
    again = replace(run, track=opened, pieces=turned, curves=tuple(run.curves[k] for k in order))
    return without(again, sorted((k - shift) % count for k in pieces))


def dispensable(
    doubt: Doubtful, step: np.ndarray, cracks: int, off: Floats, off_without: Floats, noise: float
) -> bool:
    """Whether strips (crack steps (n,)) near a doubtful piece read no worse without it.

    off and off_without (n,) are each strip's sum of squared differences from the two forecasts.
    """
    near = _near(doubt, step, cracks)
    return bool(off_without[near].sum() - off[near].sum() < LINE_PRICE * max(noise, LEAST_NOISE) ** 2)


def _near(doubt: Doubtful, step: np.ndarray, cracks: int) -> Bools:
    span = (doubt.last - doubt.first) % cracks + 2 * ROUND
    return np.asarray((step - doubt.first + ROUND) % cracks <= span)
