"""How the second picture lies on the first, and how sure that is.

Plot:
  1. pictures of one size are tried as they lie, since an edited copy mostly keeps its size: when enough
     agrees, nothing else is looked for (a symmetric shape would fit itself in other ways as well);
  2. else guesses over scale, turn and shift, mirrored ones too (guesses.py), each settled (settle.py);
  3. the straight one that most edge agrees with is refined; the best that lies elsewhere is the runner-up;
  4. a stretch in one direction is measured by letting x and y scale apart from there (stretch.py).

Shares are of the second picture's edge, since parts of the first may have been removed or cut off. A piece
(line or arc) counts as whole when nearly all of it agrees: two strange rectangles share parts of their sides,
a copy shares whole sides.
"""

from dataclasses import dataclass

import numpy as np

from core.cancel import NEVER, CancelToken
from core.second.guesses import guesses
from core.second.pose import IDENTITY, Pose
from core.second.settle import Fit, Lookup, lookup_of, measured, refined, settled
from core.second.stretch import stretch_of
from core.second.traced import Edge, Samples, Traced, edge_of, samples_of

#: px between samples, and the most of them: enough for a pose to a thousandth of a pixel.
STEP, MOST_SAMPLES = 0.5, 3000
#: Share of a piece's samples that agree from which it is the same piece.
WHOLE_PIECE = 0.9
#: Share of the second picture's edge that belongs, at least, and of its whole pieces (common practice, no
#: source; tests/campaigns/second_pictures.py tells what copies keep and how far strangers come).
LEAST_MATCHED, LEAST_WHOLE = 0.6, 0.45
#: Whole pieces that must agree unless nearly all of the edge does: a scale, a turn and a shift alone can
#: bring three sides of any two rectangles onto each other.
LEAST_PIECES, NEARLY_ALL = 4, 0.95
#: Share of another place's matched length from which this place is nearly as likely.
NEARLY = 0.9
#: px at the rim by which a pose may differ from lying as it is before it is taken as moved.
SAME_PLACE = 0.05
#: Settled places this near each other (px of a fit's own reach, root mean square) are one place.
ELSEWHERE = 4.0


@dataclass(frozen=True)
class RunnerUp:
    """The next best place: the share that agrees there, and how it lies."""

    matched: float
    pose: Pose


@dataclass(frozen=True, eq=False)
class Match:
    """pose brings px of the second picture onto px of the first (y up in both).

    matched is the share of the second's edge that agrees, whole that of whole pieces, pieces their number;
    rms and growth are px of the first (growth positive where the darker side has grown); stretch is how much
    longer one way is than the other, a share; runner_up is None where nothing else was looked for; as_it_lies
    says that both pictures lie alike; by_hand that points were given, which miss each other by pairs_off px.
    """

    pose: Pose
    matched: float
    whole: float
    pieces: int
    rms: float
    growth: float
    stretch: float
    runner_up: RunnerUp | None
    as_it_lies: bool = False
    by_hand: bool = False
    pairs_off: float = 0.0

    @property
    def is_mirror_image(self) -> bool:
        """Whether the second picture fits clearly better turned over."""
        other = self.runner_up
        is_better = other is not None and other.pose.is_mirrored and other.matched >= LEAST_MATCHED
        return is_better and other is not None and self.matched < NEARLY * other.matched

    @property
    def belongs(self) -> bool:
        """Whether enough agrees for both to be pictures of one thing."""
        has_evidence = self.pieces >= LEAST_PIECES or self.matched >= NEARLY_ALL
        return has_evidence and self.matched >= LEAST_MATCHED and self.whole >= LEAST_WHOLE


@dataclass(frozen=True, eq=False)
class _Both:
    """Everything asked of two pictures."""

    first: Edge
    second: Edge
    samples: Samples
    lookup: Lookup
    same_size: bool
    base: float


def match(first: Traced, second: Traced, token: CancelToken = NEVER) -> Match:
    """Bring the second picture onto the first. Raises Cancelled."""
    both = _both(first, second)
    if both is None:
        return _nothing(first, second)
    if both.same_size and (found := _as_it_lies(both)) is not None:
        return found
    token.check()
    straight = _settled(both, is_mirrored=False)
    token.check()
    mirrored = _settled(both, is_mirrored=True)
    every = sorted((*straight, *mirrored), key=lambda fit: -_share(fit.held, both.samples))
    best = refined(both.first, both.samples, next(fit for fit in every if not fit.pose.is_mirrored))
    return _told(both, best, _runner_up(both, best.pose, every))


def placed_by_hand(first: Traced, second: Traced, pose: Pose, pairs_off: float) -> Match:
    """The Match of a place that was given: taken to the edges near it where most agrees, else kept."""
    both = _both(first, second)
    if both is None:
        return Match(pose, 0.0, 0.0, 0, np.inf, 0.0, 0.0, None, by_hand=True, pairs_off=pairs_off)
    near = refined(both.first, both.samples, settled(both.lookup, both.samples, pose, near=True))
    found = _told(both, near, None, by_hand=True, pairs_off=pairs_off)
    if found.belongs:
        return found
    given = measured(both.first, both.samples, pose, 0.0)
    return _told(both, given, None, by_hand=True, pairs_off=pairs_off)


def _both(first: Traced, second: Traced) -> _Both | None:
    edges = edge_of(first), edge_of(second)
    if not all(len(edge.lighter) for edge in edges):
        return None
    samples = samples_of(edges[1], second.size, max(STEP, edges[1].length() / MOST_SAMPLES))
    lookup = lookup_of(edges[0], first.size)
    if not len(samples.at) or not len(lookup.samples.at):
        return None
    area = [width * height for width, height in (first.size, second.size)]
    return _Both(*edges, samples, lookup, first.size == second.size, float(np.sqrt(area[0] / area[1])))


def _nothing(first: Traced, second: Traced) -> Match:
    """One of them has no edge inside its picture: laid over the whole of the first, and nothing agrees."""
    scale = first.size[1] / second.size[1]
    return Match(Pose(scale, 0.0, (0.0, 0.0)), 0.0, 0.0, 0, np.inf, 0.0, 0.0, None)


def _as_it_lies(both: _Both) -> Match | None:
    fit = refined(both.first, both.samples, settled(both.lookup, both.samples, IDENTITY, near=True))
    away = np.hypot(*(fit.pose.of(both.samples.at) - both.samples.at).T)
    if float(np.sqrt((away**2).mean())) <= SAME_PLACE:
        fit = measured(both.first, both.samples, IDENTITY, fit.growth)
    found = _told(both, fit, None, as_it_lies=fit.pose == IDENTITY)
    return found if found.belongs else None


def _settled(both: _Both, *, is_mirrored: bool) -> list[Fit]:
    found = guesses(both.lookup.samples, both.samples, both.base, is_mirrored=is_mirrored)
    return [settled(both.lookup, both.samples, guess.pose) for guess in found]


def _runner_up(both: _Both, best: Pose, every: list[Fit]) -> RunnerUp | None:
    """The best Fit that does not lie where the best one lies; every is in falling order."""
    few = both.samples.thinned(200).at
    for fit in every[1:]:
        apart = float(np.sqrt((np.hypot(*(fit.pose.of(few) - best.of(few)).T) ** 2).mean()))
        if fit.pose.is_mirrored != best.is_mirrored or apart > ELSEWHERE * max(best.scale, both.lookup.cell):
            exact = refined(both.first, both.samples, fit)
            return RunnerUp(_share(exact.held, both.samples), exact.pose)
    return None


def _told(
    both: _Both,
    fit: Fit,
    runner_up: RunnerUp | None,
    *,
    as_it_lies: bool = False,
    by_hand: bool = False,
    pairs_off: float = 0.0,
) -> Match:
    return Match(
        fit.pose,
        _share(fit.held, both.samples),
        *_whole(fit.held, both.samples),
        fit.rms,
        fit.growth,
        0.0 if as_it_lies else stretch_of(both.lookup, both.samples, fit),
        runner_up,
        as_it_lies,
        by_hand,
        pairs_off,
    )


def _share(held: np.ndarray, samples: Samples) -> float:
    return float(samples.weight[held].sum() / samples.weight.sum())


def _whole(held: np.ndarray, samples: Samples) -> tuple[float, int]:
    """The share of edge in pieces that agree nearly from end to end, and how many such pieces there are."""
    pieces = int(samples.piece.max()) + 1
    length = np.bincount(samples.piece, samples.weight, pieces)
    agreeing = np.bincount(samples.piece, samples.weight * held, pieces)
    whole = (length > 0.0) & (agreeing >= WHOLE_PIECE * length)
    return float(length[whole].sum() / length.sum()), int(whole.sum())
