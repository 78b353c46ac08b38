"""Curves become the fewest lines and tangent arcs that stay within a tolerance of them.

1. Every curve is sampled, with its tangents; where the tangent jumps (a cusp) it is cut.
2. A biarc (K. M. Bolton, Biarc curves, Computer-Aided Design 7, 1975) meets both ends of a span with their
   tangents; its greatest distance grows with the span's change of curvature by the third power of its
   length (D. S. Meek and D. J. Walton, Approximating smooth planar curves by arc splines, J. Comput. Appl.
   Math. 59, 1995). So spans with an equal share of the integral of |d curvature / ds| to the power 1/3 are
   about equally good, and the least number of such spans that is good enough is looked for: 1, 2, 3, ...
3. A span whose two arcs are one arc, or one line, within the tolerance, is that.

All curves that still need more are tried at once. A curve is always fitted from the same one of its ends,
so that two neighbours drawn along the same curve get the same arcs.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from core.artwork.edges import Bow, Curve, Floats, Points
from core.outline.curve import distances_between
from core.outline.segments import Segments

#: Samples of a curve, from which everything about it is told.
SAMPLES = 129

#: Samples of a span at which its arcs are judged.
JUDGES = 24

#: Spans that a track is given at most; what needs more is cut in two and sampled anew.
MOST_SPANS = 8

#: How often; what is then still too far off is shorter than a thousandth of its curve and drawn straight.
MOST_CUTS = 10

#: rad; a turn between two samples that is greater is a cusp, not a bend.
CUSP = 0.9

#: An arc of a biarc that turns further (three quarters round) has lost its way.
MOST_BULGE = 2.4

#: Share of a curve below which a step between two samples counts as this long.
SHORTEST = 1e-9

#: Share of the mean by which the change of curvature is lifted, so that spans of an arc's kind get some too.
EVEN = 0.02

#: Share of a curve's greatest slope below which a slope says nothing about direction.
WEAK = 1e-6

#: rad; two arcs that turn that much alike at both ends of a span are tried as one.
ALIKE = 2e-3


#: Lengths of a biarc's first tangent that are tried, as shares of the length that makes both equal.
LENGTHS = np.geomspace(0.35, 2.9, 13)


@dataclass(frozen=True, eq=False)
class Track:
    """A smooth part of a curve as samples: spots (SAMPLES,) and unit tangents (SAMPLES,), complex.

    curve is what it is part of, from one share of the parameter to another; back to front where is_backward.
    """

    spots: Points
    tangents: Points
    curve: Curve
    low: float
    high: float
    is_backward: bool = False

    @classmethod
    def of(cls, curve: Curve, low: float, high: float, ends: tuple[complex, complex]) -> "Track":
        """Sampled from low to high, the ends to the last bit."""
        share = np.linspace(low, high, SAMPLES)
        spots = curve.at(share)
        spots[0], spots[-1] = ends
        return cls(spots, _tangents(spots, curve.slopes(share)), curve, low, high)

    def is_point(self) -> bool:
        """Whether it goes nowhere."""
        return not (np.ptp(self.spots.real) or np.ptp(self.spots.imag))

    def steadied(self) -> "Track":
        """Run from the one of its ends from which it is always run."""
        a, b = self.spots[0], self.spots[-1]
        if a == b:
            a, b = self.spots[1], self.spots[-2]
        if (a.real, a.imag) <= (b.real, b.imag):
            return self
        return Track(self.spots[::-1], -self.tangents[::-1], self.curve, self.low, self.high, True)

    def halves(self) -> "tuple[Track, Track]":
        """Both halves, in the order of the curve."""
        middle = (self.low + self.high) / 2.0
        spot = complex(self.curve.at(np.array([middle]))[0])
        spots = self.spots[::-1] if self.is_backward else self.spots
        return (
            Track.of(self.curve, self.low, middle, (complex(spots[0]), spot)).steadied(),
            Track.of(self.curve, middle, self.high, (spot, complex(spots[-1]))).steadied(),
        )


def fitted(curves: Sequence[Curve], tolerance: float) -> list[tuple[Bow, ...]]:
    """For every curve its lines and arcs, within tolerance of it; ends to the last bit."""
    tracks = [track for curve in curves for track in _tracks(curve)]
    owners = [index for index, curve in enumerate(curves) for _ in _tracks(curve)]
    found: list[list[Bow]] = [[] for _ in curves]
    for index, bows in zip(owners, _rounds(tracks, tolerance, MOST_CUTS), strict=True):
        found[index].extend(bows)
    return [tuple(each) for each in found]


def _rounds(tracks: list[Track], tolerance: float, cuts: int) -> list[list[Bow]]:
    """The lines and arcs of every track, those that are not good enough cut in two."""
    done = _all_spans(tracks, tolerance)
    missing = [k for k, bows in enumerate(done) if bows is None]
    halves = [half for k in missing for half in tracks[k].halves()]
    further = (
        _rounds(halves, tolerance, cuts - 1) if halves and cuts else [_straight(half) for half in halves]
    )
    for at, k in enumerate(missing):
        done[k] = [*further[2 * at], *further[2 * at + 1]]
    return [bows or [] for bows in done]


def _tracks(curve: Curve) -> list[Track]:
    """The smooth parts of a curve, each sampled anew."""
    found = []
    share = np.linspace(0.0, 1.0, SAMPLES)
    for piece in curve.pieces():
        spots = piece.at(share)
        spots[0], spots[-1] = piece.start, piece.end
        cuts = _cusps(spots)
        for low, high in zip([0, *cuts], [*cuts, SAMPLES - 1], strict=True):
            ends = complex(spots[low]), complex(spots[high])
            track = Track.of(piece, float(share[low]), float(share[high]), ends)
            if not track.is_point():
                found.append(track.steadied())
    return found


def _cusps(spots: Points) -> list[int]:
    steps = np.diff(spots)
    turn = np.abs(np.angle(steps[1:] * steps[:-1].conj()))
    return (np.flatnonzero((turn > CUSP) & (steps[1:] != 0.0) & (steps[:-1] != 0.0)) + 1).tolist()


def _tangents(spots: Points, slopes: Points) -> Points:
    """Unit tangents; where the slope is nothing (a handle on its end, a cusp), told from the steps beside."""
    size = np.abs(slopes)
    weak = size <= WEAK * size.max()
    if weak.any():
        steps = np.diff(spots)
        first, last = _carried_on(steps[1], steps[0]), _carried_on(steps[-2], steps[-1])
        slopes = np.where(weak, np.concatenate(([first], steps[1:] + steps[:-1], [last])), slopes)
        size = np.abs(slopes)
    return np.asarray(slopes / np.where(size > 0.0, size, 1.0))


def _carried_on(before: complex, step: complex) -> complex:
    """The direction at the far end of a step, turning on as from the step before."""
    if not (before and step):
        return step
    turn = np.angle(step * before.conjugate()) * abs(step) / (abs(step) + abs(before))
    return complex(step * np.exp(1j * turn))


def _all_spans(tracks: list[Track], tolerance: float) -> list[list[Bow] | None]:
    """For every track the fewest spans, as lines and arcs along its curve; None where MOST_SPANS are few."""
    found: list[list[Bow] | None] = [None] * len(tracks)
    waiting = list(range(len(tracks)))
    shares = [_shares(track) for track in tracks]
    for count in range(1, MOST_SPANS + 1):
        if not waiting:
            break
        spans = _Spans.of([tracks[k] for k in waiting], [shares[k] for k in waiting], count)
        good, rows = spans.judged(tolerance)
        for at, k in enumerate(waiting):
            if good[at]:
                bows = rows(at)
                found[k] = [bow.reversed() for bow in bows[::-1]] if tracks[k].is_backward else bows
        waiting = [k for at, k in enumerate(waiting) if not good[at]]
    return found


def _straight(track: Track) -> list[Bow]:
    ends = complex(track.spots[0]), complex(track.spots[-1])
    return [Bow(*(ends[::-1] if track.is_backward else ends))]


def _shares(track: Track) -> Floats:
    """(SAMPLES,) rising from 0 to 1: the share of the integral of step 2 up to each sample."""
    steps = np.abs(np.diff(track.spots))
    steps = np.maximum(steps, SHORTEST * steps.sum())
    turns = np.angle(track.tangents[1:] * track.tangents[:-1].conj())
    bend = turns / steps
    change = np.abs(np.gradient(bend)) / steps
    change = change + EVEN * change.mean() + 1e-300
    return np.concatenate(([0.0], np.cumsum(change ** (1.0 / 3.0) * steps)))


@dataclass(frozen=True, eq=False)
class _Spans:
    """Spans of m tracks, count each: starts, ends, their tangents (m, count), judges (m, count, JUDGES)."""

    starts: Points
    ends: Points
    leaving: Points
    arriving: Points
    judges: Points

    @classmethod
    def of(cls, tracks: list[Track], shares: list[Floats], count: int) -> "_Spans":
        spots = np.array([track.spots for track in tracks])
        tangents = np.array([track.tangents for track in tracks])
        index = np.array([_cuts(share, count) for share in shares])
        row = np.arange(len(tracks))[:, None]
        within = (np.arange(JUDGES) + 0.5) / JUDGES
        between = index[:, :-1, None] + (index[:, 1:] - index[:, :-1])[:, :, None] * within
        judges = spots[row[:, :, None], np.rint(between).astype(np.int64)]
        return cls(
            spots[row, index[:, :-1]], spots[row, index[:, 1:]],
            tangents[row, index[:, :-1]], tangents[row, index[:, 1:]], judges,
        )  # fmt: skip

    def judged(self, tolerance: float) -> "tuple[Floats, _Rows]":
        """Which tracks are good enough (m,), and their lines and arcs by track."""
        one, is_one = self._single(tolerance)
        middles = _joints(self)
        first = np.tan(np.angle((middles - self.starts) * self.leaving.conj()) / 2.0)
        second = np.tan(np.angle(self.arriving * (self.ends - middles).conj()) / 2.0)
        away = np.minimum(
            _distances(self.starts, middles, first, self.judges),
            _distances(middles, self.ends, second, self.judges),
        ).max(axis=2)
        tame = np.maximum(np.abs(first), np.abs(second)) <= MOST_BULGE
        good = (is_one | ((away <= tolerance) & tame)).all(axis=1)
        return good, _Rows(self, middles, first, second, one, is_one)

    def _single(self, tolerance: float) -> tuple[Floats, Floats]:
        """The bulge of one arc for each span, and whether it will do."""
        chord = self.ends - self.starts
        before = np.angle(chord * self.leaving.conj())
        after = np.angle(self.arriving * chord.conj())
        bulge = np.tan((before + after) / 4.0)
        sagitta = np.abs(bulge) * np.abs(chord) / 2.0
        flat = np.abs(before) + np.abs(after) <= ALIKE
        bulge = np.where(flat & (sagitta <= tolerance / 8.0), 0.0, bulge)
        away = _distances(self.starts, self.ends, bulge, self.judges).max(axis=2)
        return bulge, (np.abs(before - after) <= ALIKE) & (away <= tolerance)


@dataclass(frozen=True, eq=False)
class _Rows:
    """The arcs of all spans, told track by track."""

    spans: _Spans
    middles: Points
    first: Floats
    second: Floats
    one: Floats
    is_one: Floats

    def __call__(self, row: int) -> list[Bow]:
        bows = []
        for k in range(self.spans.starts.shape[1]):
            a, b = complex(self.spans.starts[row, k]), complex(self.spans.ends[row, k])
            if self.is_one[row, k]:
                bows.append(Bow(a, b, float(self.one[row, k])))
            else:
                middle = complex(self.middles[row, k])
                bows += [
                    Bow(a, middle, float(self.first[row, k])),
                    Bow(middle, b, float(self.second[row, k])),
                ]
        return [bow for bow in bows if bow.start != bow.end]


def _cuts(share: Floats, count: int) -> Floats:
    """(count + 1,) samples at which the track is cut into spans of equal share."""
    index = np.interp(np.linspace(0.0, share[-1], count + 1), share, np.arange(len(share)))
    cuts = np.rint(index).astype(np.int64)
    cuts[0], cuts[-1] = 0, len(share) - 1
    for k in range(1, count):  # every span has at least one step
        cuts[k] = min(max(cuts[k], cuts[k - 1] + 1), len(share) - 1 - (count - k))
    return np.asarray(cuts)


def _joints(spans: _Spans) -> Points:
    """(m, count) where the two arcs of each biarc meet: on the curve.

    All biarcs of a span meet on one circle; the first tangent's length says where. The one on the curve is
    found between two of the lengths tried, by the sign of the joint's distance.
    """
    chord = spans.ends - spans.starts
    even = _even_length(spans, chord)
    tried = even[:, :, None] * LENGTHS
    spots = _joint_at(spans, chord, tried)
    away = _across(spans, spots)
    flips = (away[:, :, 1:] * away[:, :, :-1] <= 0.0) & np.isfinite(away[:, :, 1:] + away[:, :, :-1])
    cost = np.where(flips, np.abs(np.log(LENGTHS[1:] * LENGTHS[:-1])), np.inf)
    at = cost.argmin(axis=2)[:, :, None]
    low, high = (np.take_along_axis(away, at + k, axis=2)[:, :, 0] for k in (0, 1))
    found = np.isfinite(np.take_along_axis(cost, at, axis=2)[:, :, 0]) & (low != high)
    share = np.where(found, low / np.where(found, low - high, 1.0), 0.0)
    first, second = LENGTHS[at[:, :, 0]], LENGTHS[at[:, :, 0] + 1]
    length = np.where(found, first + share * (second - first), 1.0) * even
    return np.asarray(_joint_at(spans, chord, length[:, :, None])[:, :, 0])


def _even_length(spans: _Spans, chord: Points) -> Floats:
    """(m, count) the length of both tangents where they are equally long."""
    along = (chord.conj() * (spans.leaving + spans.arriving)).real
    square = np.abs(chord) ** 2
    open_angle = 2.0 * (1.0 - (spans.leaving.conj() * spans.arriving).real)
    root = np.sqrt(np.maximum(along**2 + open_angle * square, 0.0))
    # the root of open d^2 + 2 along d - square = 0 that is above 0, in the form without cancellation
    return np.asarray(square / np.maximum(along + root, 1e-300))


def _joint_at(spans: _Spans, chord: Points, length: Floats) -> Points:
    """(m, count, k) the joint for each length of the first tangent; nan where the second is negative."""
    start, end = spans.starts[:, :, None], spans.ends[:, :, None]
    leaving, arriving = spans.leaving[:, :, None], spans.arriving[:, :, None]
    chord = chord[:, :, None]
    above = np.abs(chord) ** 2 - 2.0 * length * (chord.conj() * leaving).real
    below = 2.0 * (chord.conj() * arriving).real + 2.0 * length * (1.0 - (leaving.conj() * arriving).real)
    with np.errstate(divide="ignore", invalid="ignore"):
        other = above / below
        spot = (other * (start + length * leaving) + length * (end - other * arriving)) / (length + other)
    return np.asarray(np.where((other > 0.0) & np.isfinite(other), spot, np.nan))


def _across(spans: _Spans, spots: Points) -> Floats:
    """(m, count, k) how far spots lie to the left of the curve, by the chord beside the nearest judge."""
    judges = spans.judges
    gaps = np.abs(spots[:, :, :, None] - judges[:, :, None, :])
    near = np.clip(np.where(np.isfinite(gaps), gaps, np.inf).argmin(axis=3), 1, JUDGES - 2)
    before, after = (np.take_along_axis(judges, near + step, axis=2) for step in (-1, 1))
    way = after - before
    with np.errstate(invalid="ignore"):
        return np.asarray((way.conj() * (spots - before)).imag)


def _distances(starts: Points, ends: Points, bulges: Floats, judges: Points) -> Floats:
    """(m, count, JUDGES) from each judge to the arc of its span."""
    shape = judges.shape
    a, b, bulge = (np.broadcast_to(each[:, :, None], shape).ravel() for each in (starts, ends, bulges))
    same = a == b
    b = np.where(same, a + 1e-12, b)
    segments = Segments(_pairs(a), _pairs(b), np.clip(bulge, -1e6, 1e6))
    return distances_between(segments, _pairs(judges.ravel())).reshape(shape)


def _pairs(points: NDArray[Any]) -> Floats:
    return np.column_stack((points.real, points.imag))
