"""How far samples scatter about a smooth edge: the measure every tolerance of the fit hangs on.

Windows of samples are compared with their own best arc. Long windows feel noise that goes along with the
8 px blocks of JPEG, but on a small or toothed shape every one of them holds a corner; short ones find
smooth edge nearly everywhere, but let such noise pass for shape. So the long speak unless the short
contradict them by more than what goes along can explain.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.moments import SUMS, fits, powers

#: samples per window, and how far the next one is.
LONG, SHORT = 21, 9
HOP = 4
#: The windows below this share are taken as free of corners; the others may hold one.
QUANTILE = 0.4
#: Windows a chain needs to speak for itself.
ENOUGH = 6
#: Noise that goes along with its neighbours looks smaller to short windows by at most this.
SHORTSIGHT = 1.6

#: px; nothing is known better than this: rounding to 8 bits and the renderer's own arithmetic.
LEAST_SIGMA = 0.006


@dataclass(frozen=True, eq=False)
class Scatter:
    """px, rms distance of every long and every short window to its own best arc."""

    long: Floats
    short: Floats


def scatters_of(places: tuple[Floats, ...], is_ring: tuple[bool, ...]) -> tuple[Scatter, ...]:
    """The scatter of each chain's samples (n, 2) px."""
    both = tuple(zip(places, is_ring, strict=True))
    long, short = (
        _windows(tuple(_windowed(own, width, is_ring=ring) for own, ring in both)) for width in (LONG, SHORT)
    )
    return tuple(Scatter(*pair) for pair in zip(long, short, strict=True))


def _windowed(places: Floats, width: int, *, is_ring: bool) -> Floats:
    """(k, width, 2) the windows of one chain."""
    if is_ring and len(places) > width:
        places = np.vstack((places, places[:width]))
    starts = np.arange(0, len(places) - width + 1, HOP)
    return np.asarray(places[starts[:, None] + np.arange(width)])


def _windows(runs: tuple[Floats, ...]) -> tuple[Floats, ...]:
    """For every chain the rms distances (k,) of its windows (k, width, 2)."""
    if not runs:
        return ()
    every = np.concatenate(runs)
    every = every - every[:, :1]
    sums = powers(every.reshape(-1, 2)).reshape(SUMS, *every.shape[:2]).sum(axis=2)
    found = fits(sums)
    off = np.sqrt(np.minimum(found.arc, found.line) / (every.shape[1] - 3))
    return tuple(np.split(off, np.cumsum([len(run) for run in runs])[:-1]))


def _level(scatter: Scatter) -> float:
    levels = [float(np.quantile(scatter.short, QUANTILE)) * SHORTSIGHT] if scatter.short.size else []
    if scatter.long.size:
        levels.append(float(np.quantile(scatter.long, QUANTILE)))
    return min(levels, default=LEAST_SIGMA)


def sigmas(scatters: tuple[Scatter, ...]) -> tuple[float, ...]:
    """Px per chain: its own scatter; everybody's where it has too few windows."""
    every = Scatter(
        *(np.concatenate([np.empty(0), *(getattr(s, side) for s in scatters)]) for side in ("long", "short"))
    )
    common = _level(every)
    own = (_level(s) if s.short.size >= ENOUGH else common for s in scatters)
    return tuple(max(sigma, LEAST_SIGMA) for sigma in own)
