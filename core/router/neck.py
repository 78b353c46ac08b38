"""How long a path is lifted so that a tab has the neck that was asked for.

The neck is what the bit's rounds leave between them: the least distance between what is run before the
lift and what is run after it, less the bit. On a straight or gently curved run that is the chord of the lift;
round a tight bend the path comes back towards the tab, and the lift grows until the neck is as asked.
"""

import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats
from core.router.unrolled import Unrolled

Flags = NDArray[np.bool_]

#: Halvings of the search for the lifted length: 2^-20 of 5 mm is 5e-6 mm.
HALVINGS = 20
#: mm to which the chord of a lift is found: far below what is measured of a tab.
NEAR_MM = 1e-5
#: mm by which the neck may be less than asked before the lift grows: a tenth of what is measured of a tab.
NECK_WITHIN_MM = 2e-3
#: Places looked at on each side of a tab: on a span of 9 mm, 0.3 mm apart, they miss 1.3e-3 mm at most.
LOOKS = 31


def half_lift_mm(path: Unrolled, middle: Floats, span: float) -> Floats:
    """(n,) mm on each side of middle (n,) so that what is run beyond lies span mm apart.

    span: the neck and the bit's diameter. Half the path's length where nothing less will do.
    """
    halves = half_by_chord(path, middle, span)
    for index in np.flatnonzero(_are_short(path, middle, halves, span)).tolist():
        halves[index] = _grown(path, middle[index : index + 1], float(halves[index]), span)
    return halves


def comes_back(path: Unrolled, middle: Floats, span: float) -> Flags:
    """(n,) whether the path comes back towards a tab there, so that its lift would have to grow."""
    return _are_short(path, middle, half_by_chord(path, middle, span), span)


def half_by_chord(path: Unrolled, middle: Floats, span: float) -> Floats:
    """(n,) mm on each side, so that the ends of the lift lie span mm apart as the crow flies.

    By false positions between half the span and all of it, the end that stays weighed down (the Illinois
    way, M. Dowell and P. Jarratt 1971).
    """
    low, high = np.full(middle.shape, span / 2.0), np.full(middle.shape, min(span, path.length / 2.0))
    short, over = _chords(path, middle, low) - span, _chords(path, middle, high) - span
    found = np.where(short > -NEAR_MM, low, high)
    left = np.flatnonzero((short <= -NEAR_MM) & (over > NEAR_MM))
    for _ in range(HALVINGS):
        if not left.size:
            break
        a, b, fa, fb = low[left], high[left], short[left], over[left]
        half = a - fa * (b - a) / (fb - fa)
        off = _chords(path, middle[left], half) - span
        found[left] = half
        is_low = off < 0.0
        low[left], short[left] = np.where(is_low, half, a), np.where(is_low, off, fa / 2.0)
        high[left], over[left] = np.where(is_low, b, half), np.where(is_low, fb / 2.0, off)
        left = left[np.abs(off) > NEAR_MM]
    return found


def _chords(path: Unrolled, middle: Floats, half: Floats) -> Floats:
    """(n,) mm from half before each middle to half after it, as the crow flies."""
    before, after = np.split(path.points_at(np.concatenate((middle - half, middle + half))), 2)
    off = after - before
    return np.asarray(np.hypot(off[:, 0], off[:, 1]))


def _are_short(path: Unrolled, middle: Floats, halves: Floats, span: float) -> Flags:
    return np.asarray(_gaps(path, middle, halves, span) < span - NECK_WITHIN_MM)


def _grown(path: Unrolled, middle: Floats, low: float, span: float) -> float:
    """The least half lift, mm, from low up, beyond which the path stays span mm apart."""
    high = path.length / 2.0
    for _ in range(HALVINGS):
        half = (low + high) / 2.0
        is_short = _gaps(path, middle, np.array([half]), span)[0] < span
        low, high = (half, high) if is_short else (low, half)
    return high


def _gaps(path: Unrolled, middle: Floats, half: Floats, span: float) -> Floats:
    """(n,) mm: the least distance between span mm of path before a lift and as much after it."""
    reach = np.clip(path.length / 2.0 - half, 0.0, span)
    off = half[:, None] + reach[:, None] * np.linspace(0.0, 1.0, LOOKS)
    before = path.points_at((middle[:, None] - off).ravel()).reshape(middle.size, LOOKS, 1, 2)
    after = path.points_at((middle[:, None] + off).ravel()).reshape(middle.size, 1, LOOKS, 2)
    apart = before - after
    return np.asarray(np.sqrt((apart[..., 0] ** 2 + apart[..., 1] ** 2).min(axis=(1, 2))))
