"""How far samples scatter about a smooth edge: the measure every tolerance of the fit hangs on.

Windows of samples are compared with their own best arc. Long windows feel noise that goes along with the
8 px blocks of JPEG, but on a small or toothed shape every one of them holds a corner; short ones find
smooth edge nearly everywhere, but let such noise pass for shape. So the long speak unless the short
contradict them by more than what goes along can explain.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.faces import Bools
from core.trace.moments import SUMS, fits, powers
from core.trace.rows import Rows

#: samples per window, and how far the next one is.
LONG, SHORT = 21, 9
HOP = 4
#: The windows below this share are taken as free of corners; the others may hold one.
QUANTILE = 0.4
#: Windows a chain needs to speak for itself.
ENOUGH = 6
#: Noise that goes along with its neighbours looks smaller to short windows by at most this.
SHORTSIGHT = 1.6

#: px; nothing is known better than this: rounding to 8 bits, and renderers that draw curves in chords up to
#: a tenth of a px off, which are not to come back one by one.
LEAST_SIGMA = 0.012


@dataclass(frozen=True, eq=False)
class Scatter:
    """px (k,), rms distance of every window to its own best arc, and which chain each window is of."""

    off: Floats
    rows: Rows

    def levels(self) -> Floats:
        """(c,) px, of each chain; nan where it has no window."""
        return self.rows.quantiles(self.off, QUANTILE)

    def common(self) -> float:
        """px, of all chains together."""
        return float(Rows(np.array([self.off.size])).quantiles(self.off, QUANTILE)[0])


def scatter_of(places: Floats, rows: Rows, is_ring: Bools, width: int) -> Scatter:
    """The scatter of all chains' samples (n, 2) px in windows of so many; a ring's go on past its end."""
    ring = is_ring & (rows.count > width)
    count = rows.count + np.where(ring, width, 0)
    windows = Rows(np.maximum((count - width) // HOP + 1, 0))
    start = windows.within * HOP
    index = start[:, None] + np.arange(width)
    index = rows.first[windows.owner][:, None] + index % np.maximum(rows.count, 1)[windows.owner][:, None]
    every = places[index] - places[index[:, :1]]
    found = fits(powers(every.reshape(-1, 2)).reshape(SUMS, *index.shape).sum(axis=2))
    return Scatter(np.sqrt(np.minimum(found.arc, found.line) / (width - 3)), windows)


def sigmas(long: Scatter, short: Scatter) -> Floats:
    """(c,) px: the own scatter of each chain; everybody's where it has too few windows."""
    common = np.fmin(short.common() * SHORTSIGHT, long.common())
    own = np.fmin(short.levels() * SHORTSIGHT, long.levels())
    found = np.where(short.rows.count >= ENOUGH, own, common)
    return np.fmax(found, LEAST_SIGMA)
