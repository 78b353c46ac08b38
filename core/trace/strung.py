"""The samples of many chains in one row, and the sums of any piece of them."""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Ints
from core.trace.moments import moved, powers
from core.trace.track import Track, trims


@dataclass(frozen=True, eq=False)
class Strung:
    """places (n, 2) px and weight (n,) of all samples; first (t,) sample and sigma (t,) px of every track.

    trim is the number of samples left out at either end of a piece, because they feel its neighbour; where
    none is, the sample at a break still belongs to the piece before it alone.
    """

    places: Floats
    weight: Floats
    first: Ints
    sigma: Floats
    trim: int

    def trims(self, length: Ints) -> Ints:
        """Samples to leave out at either end of pieces that span length steps."""
        return trims(length, self.trim)

    def powers(self, sample: Ints, origin: Floats) -> Floats:
        """(9, n): what samples (n,) add to sums about origins (n, 2)."""
        return powers(self.places[sample] - origin, self.weight[sample])

    def trimmed(self, sums: Floats, low: Ints, high: Ints, origin: Floats) -> Floats:
        """Sums (9, n) of the samples from low to high, high left out, made those of trimmed pieces."""
        off = self.trims(high - low)
        bare = np.nonzero(off == 0)[0]
        sums[:, bare] += self.powers(high[bare], origin[bare]) - self.powers(low[bare], origin[bare])
        for step in range(self.trim):
            gone = np.nonzero(off > step)[0]
            sums[:, gone] -= self.powers(low[gone] + step, origin[gone])
            gone = np.nonzero(off > step + 1)[0]
            sums[:, gone] -= self.powers(high[gone] - step - 1, origin[gone])
        return sums

    def pieces(self, low: Ints, high: Ints) -> Floats:
        """(9, n) sums about the first sample of every trimmed piece from low (n,) to high (n,)."""
        off = self.trims(high - low)
        return self.runs(low + np.maximum(off, 1), high - off + 1, self.places[low])

    def runs(self, low: Ints, stop: Ints, origin: Floats) -> Floats:
        """(9, n) sums about origins (n, 2) of the samples from low to stop, stop left out; may be none."""
        counts = np.maximum(stop - low, 0)
        there = np.nonzero(counts > 0)[0]
        sums = np.zeros((9, len(low)))
        if there.size:
            begin = np.cumsum(counts) - counts
            sample = np.arange(int(counts.sum())) + np.repeat(low - begin, counts)
            own = self.powers(sample, np.repeat(origin, counts, axis=0))
            sums[:, there] = np.add.reduceat(own, begin[there], axis=1)
        return sums


def strung(tracks: tuple[Track, ...]) -> Strung:
    """At least one track in one row, all of one trim."""
    sizes = np.array([len(track) for track in tracks])
    return Strung(
        np.vstack([track.places for track in tracks]),
        np.concatenate([track.weight for track in tracks]),
        np.cumsum(sizes) - sizes,
        np.array([track.sigma for track in tracks]),
        tracks[0].trim,
    )


@dataclass(frozen=True, eq=False)
class Pairs:
    """Every two marks of one track: the marks low (n,) and high (n,), and the sums (9, n) of that piece."""

    low: Ints
    high: Ints
    sums: Floats


def pairs(row: Strung, marks: Ints, count: Ints) -> Pairs:
    """For marks (m,), sample indices rising within each track, count (t,) of them in each.

    The pieces between neighbouring marks are summed once; a longer piece is the next shorter one from the
    same mark and one more of those, moved to its origin.
    """
    left = np.repeat(np.cumsum(count), count) - np.arange(len(marks)) - 1
    order = np.argsort(-left, kind="stable")
    order = order[left[order] > 0]
    single = np.zeros((9, len(marks)))
    single[:, order] = row.runs(marks[order], marks[order + 1], row.places[marks[order]])
    most = int(left.max(initial=0))
    alive = np.searchsorted(-left[order], -np.arange(1, most + 1), side="right")
    span = np.repeat(np.arange(1, most + 1), alive)
    first = np.cumsum(alive) - alive
    low = order[np.arange(len(span)) - np.repeat(first, alive)]
    high = low + span
    sums = moved(single[:, high - 1], row.places[marks[high - 1]] - row.places[marks[low]])
    for step in range(1, most):
        here, size = int(first[step]), int(alive[step])
        before = int(first[step - 1])
        sums[:, here : here + size] += sums[:, before : before + size]
    return Pairs(low, high, row.trimmed(sums, marks[low], marks[high], row.places[marks[low]]))
