"""The joint fit of all chains that hang together at nodes.

Plot: first joints and nodes (knots.py) -> samples handed to their segments, none beside a corner (pull_of)
-> Gauss-Newton free, then with every likely joint held smooth; a joint stays smooth where holding it costs
the samples little -> arcs that are straight within their doubt become lines -> Gauss-Newton
again -> Chains with the standard deviation expected of their place.
"""

from dataclasses import dataclass, replace

import numpy as np

from core.outline.chain import Chain
from core.outline.segments import Floats
from core.trace.faces import Bools, Ints
from core.trace.knots import Knotted, knots_of
from core.trace.pieces import Run
from core.trace.refine import Bends, Effort, Knots, Pull, Refined, equations, refined, turns
from core.trace.track import trims

#: Squared sigmas that holding a joint smooth may cost its two neighbours, MOST_COUNTED samples at most.
SMOOTH_COST = 12.0
MOST_COUNTED = 40
#: By how much more a joint may seem to cost before it is tried.
LENIENCE = 4.0
#: Standard deviations of its sagitta below which an arc is a line.
STRAIGHT = 3.5

#: For an outline that is only compared with the picture, loose for the very first: its joints are not yet
#: held smooth; and for the one that is handed on.
LOOSE, ROUGH, FINE = Effort(2, 0, 1.0, 1e-4), Effort(2, 2, 1.0, 1e-4), Effort(4, 10, 1e-4, 1e-5)

Traced = tuple[tuple[Chain, float], ...]


def fitted(runs: tuple[Run, ...], effort: Effort) -> Traced:
    """A Chain for every run, in the same order, with its doubt in px."""
    if not runs:
        return ()
    knotted = knots_of(runs)
    return _chains(runs, knotted, _settled(knotted, spans_of(runs, knotted), effort))


def sketched(runs: tuple[Run, ...]) -> Traced:
    """The same from each piece's own line or circle alone, joined where they cross: quick but rough."""
    if not runs:
        return ()
    knotted = knots_of(runs)
    return _chains(runs, knotted, knotted.knots)


def _chains(runs: tuple[Run, ...], knotted: Knotted, knots: Knots) -> Traced:
    return tuple(
        (_chain(run, knots, points, segments), _doubt(run, segments))
        for run, points, segments in zip(runs, knotted.points_of, knotted.segments_of, strict=True)
    )


@dataclass(frozen=True, eq=False)
class Spans:
    """All samples of all runs, and for every segment (s,) the first and last of its own, and its trim.

    Segments without samples have last < first.
    """

    places: Floats
    sigma: Floats
    bend: Floats
    first: Ints
    last: Ints
    trim: Ints


def spans_of(runs: tuple[Run, ...], knotted: Knotted) -> Spans:
    """Which samples speak for which segment."""
    size = len(knotted.knots.tail)
    first, last, trim = np.zeros(size, dtype=np.int64), np.full(size, -1), np.zeros(size, dtype=np.int64)
    start = 0
    for run, segments in zip(runs, knotted.segments_of, strict=True):
        cuts = _cuts(run, len(segments))
        if len(cuts):
            own = slice(int(segments[0]), int(segments[-1]) + 1)
            first[own], last[own], trim[own] = cuts[:-1] + start, cuts[1:] + start, run.track.trim
        start += len(run.track)
    tracks = [run.track for run in runs]
    counts = [len(track) for track in tracks]
    weight = np.concatenate([track.weight for track in tracks])
    return Spans(
        np.concatenate([track.places for track in tracks]),
        np.repeat([track.sigma for track in tracks], counts) / np.sqrt(weight),
        np.concatenate([track.bend for track in tracks]),
        first,
        last,
        trims(last - first, trim),
    )


def pull_of(spans: Spans, smooth: Bends) -> Pull:
    """Samples by segment; those beside a corner are left out, those beside a smooth joint are kept."""
    first, last = spans.first + np.maximum(spans.trim, 1), spans.last - spans.trim
    first[smooth.after] = spans.first[smooth.after]
    last[smooth.before] = spans.last[smooth.before]
    counts = np.maximum(last - first + 1, 0)
    segment = np.repeat(np.arange(len(counts)), counts)
    index = np.arange(segment.size) + (first - np.cumsum(counts) + counts)[segment]
    return Pull(segment, spans.places[index], spans.sigma[index], spans.bend[index])


def _cuts(run: Run, segments: int) -> Ints:
    """The samples (segments + 1,) at which segments end; none where too few speak for a line or circle."""
    if run.pieces is None:
        enough = run.chain.is_ring and len(run.track) > segments + 1
        return _even(len(run.track), segments) if enough else np.empty(0, dtype=np.int64)
    if run.chain.is_ring and len(run.curves) == 1:
        return _even(len(run.track) - 1, segments)
    return run.pieces.breaks


def _even(count: int, pieces: int) -> Ints:
    return np.linspace(0, count - 1, pieces + 1).astype(np.int64)


def _settled(knotted: Knotted, spans: Spans, effort: Effort) -> Knots:
    smooth = knotted.maybe
    put = equations(knotted.knots, smooth, knotted.frozen)
    none = np.zeros(len(smooth.before), dtype=bool)
    apart = pull_of(spans, _some(smooth, none))
    trying = replace(ROUGH, rounds=effort.first)
    free = refined(knotted.knots, apart, smooth, put, none, trying)
    if not effort.rounds:
        return free.knots
    best, kept = free, _likely(free.knots, apart, smooth)
    if kept.any():
        best = refined(free.knots, pull_of(spans, _some(smooth, kept)), smooth, put, kept, trying)
        dear = kept & ~_affordable(best, free, apart, smooth)
        if dear.any():
            kept &= ~dear
            best = refined(free.knots, pull_of(spans, _some(smooth, kept)), smooth, put, kept, trying)
    straight = _straight(best.knots, pull_of(spans, _some(smooth, kept)))
    if effort is ROUGH and not straight.any():
        return best.knots
    is_arc = best.knots.is_arc & ~straight
    kept &= is_arc[smooth.before] | is_arc[smooth.after]
    knots = replace(best.knots, is_arc=is_arc, bulges=np.where(is_arc, best.knots.bulges, 0.0))
    return refined(knots, pull_of(spans, _some(smooth, kept)), smooth, put, kept, effort).knots


def _likely(knots: Knots, pull: Pull, smooth: Bends) -> Bools:
    """Joints (j,) that turn little beside what their headings are known to.

    The end of a line of n samples has a heading of variance 12 sigma^2 / (L^2 n), that of a parabola 192.
    """
    size = len(knots.tail)
    count = np.maximum(np.bincount(pull.segment, minlength=size), 1)
    square = np.bincount(pull.segment, weights=pull.sigma**2, minlength=size) / count
    chord = np.sum((knots.points[knots.head] - knots.points[knots.tail]) ** 2, axis=1)
    share = np.where(knots.is_arc, 192.0, 12.0) / np.minimum(count, MOST_COUNTED)
    variance = square * share / np.maximum(chord, 1.0)
    expected = variance[smooth.before] + variance[smooth.after]
    return np.asarray(turns(knots, smooth) ** 2 < LENIENCE * SMOOTH_COST * expected)


def _some(bends: Bends, kept: Bools) -> Bends:
    return Bends(bends.before[kept], bends.after[kept])


def _affordable(held: Refined, free: Refined, pull: Pull, smooth: Bends) -> Bools:
    count = np.minimum(np.bincount(pull.segment, minlength=len(held.chi2)), MOST_COUNTED)
    extra = np.maximum(held.chi2 - free.chi2, 0.0) * count
    return np.asarray(extra[smooth.before] + extra[smooth.after] < SMOOTH_COST)


def _straight(knots: Knots, pull: Pull) -> Bools:
    """Arcs whose sagitta is within its doubt: a parabola's height has sd 3.35 sigma / sqrt n."""
    count = np.bincount(pull.segment, minlength=len(knots.tail))
    sigma = np.bincount(pull.segment, weights=pull.sigma, minlength=len(knots.tail)) / np.maximum(count, 1)
    chord = np.hypot(*(knots.points[knots.head] - knots.points[knots.tail]).T)
    sagitta = np.abs(knots.bulges) * chord / 2.0
    flat = sagitta < STRAIGHT * 3.35 * sigma / np.sqrt(np.maximum(count, 1))
    return np.asarray(knots.is_arc & flat & ~_twins(knots))


def _twins(knots: Knots) -> Bools:
    """Segments (s,) between the same two points as another, which must not both be lines."""
    low, high = np.minimum(knots.tail, knots.head), np.maximum(knots.tail, knots.head)
    _, which, count = np.unique(low * len(knots.points) + high, return_inverse=True, return_counts=True)
    return np.asarray(count[which] > 1)


def _chain(run: Run, knots: Knots, points: Ints, segments: Ints) -> Chain:
    return Chain(knots.points[points], knots.bulges[segments], run.chain.left, run.chain.right)


def _doubt(run: Run, segments: Ints) -> float:
    """px: sd of the place of an edge of n samples said by about 2.5 numbers a segment."""
    numbers = 2.5 * len(segments)
    return float(run.track.sigma * np.sqrt(min(numbers / max(len(run.track), 1), 1.0)))
