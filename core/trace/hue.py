"""Hue kept for every other pixel, as JPEG, WebP and video mostly keep it: seen in the picture, and imitated.

Who writes such a picture takes the mean hue of two pixels side by side, along rows, along columns or both
(JFIF, ITU-T T.871, 6.1, centres it so); who reads it shows in each pixel 3/4 of the nearer and 1/4 of the
further value (common practice: the triangle filter of the usual decoders of JPEG and WebP). Along a line of
pixels hue then has u[-1] - 3 u[0] + 3 u[1] - u[2] = 0 wherever u[0] and u[1] are a pair, and nowhere else.
That tells whether hue was thinned and where pairs begin, whatever file the pixels come in by now.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.trace.faces import Bools

#: ITU-T T.871: rows Y, Cb, Cr of R, G, B.
BANDS = np.array(
    [[0.299, 0.587, 0.114], [-0.168736, -0.331264, 0.5], [0.5, -0.418688, -0.081312]], dtype=np.float64
)

#: 0..1; what rounding to 8 bits leaves of a sum that should be nothing: the median is 0.006 to 0.009.
ROUNDING = 0.011

#: Where pixels are no pair the sum is at least so many times as large.
APART = 1.8

#: 0..1; where hue changes by less from one pixel to the next, no pairs show.
LEAST_CHANGE = 0.03

#: Places that must speak for either beginning, and lines of pixels that are asked at most.
ENOUGH, MOST_LINES = 40, 300

#: 0..1 from black and white within which a band, and hue with it, is cut off.
CUT_OFF = 0.006

#: Shares of the nearer and the further value of hue that a pixel shows.
NEARER, FURTHER = np.float32(0.75), np.float32(0.25)

Pixels = NDArray[np.float32]


@dataclass(frozen=True)
class Pairs:
    """Whether the pairs of pixels that share one value of hue begin at 0 or 1: those of rows, of columns.

    None: every row, or column, has its own hue.
    """

    rows: int | None = None
    columns: int | None = None

    def __bool__(self) -> bool:
        return self.rows is not None or self.columns is not None


#: Every pixel has its own hue.
NO_PAIRS = Pairs()


def pairs_in(pixels: Pixels) -> Pairs:
    """The pairs of a picture (h, w, 3)."""
    height, width = pixels.shape[:2]
    upright, level = (max(1, side // MOST_LINES) for side in (width, height))
    return Pairs(_beginning(pixels[:, ::upright]), _beginning(pixels[::level].swapaxes(0, 1)))


def _beginning(lines: Pixels) -> int | None:
    """0 or 1 where hue goes in pairs along the first axis."""
    hue = lines @ BANDS[1:].T.astype(np.float32)
    whole = np.all((lines > CUT_OFF) & (lines < 1.0 - CUT_OFF), axis=2)
    step = np.diff(hue, axis=0)
    off = np.abs(2.0 * step[1:-1] - step[:-2] - step[2:]).max(axis=2)
    asked = whole[:-3] & whole[1:-2] & whole[2:-1] & whole[3:] & _changes(step)
    found = [off[start::2][asked[start::2]] for start in (0, 1)]
    if min(part.size for part in found) < ENOUGH:
        return None
    within = [float(np.median(part)) for part in found]  # of pairs that begin at 1, and at 0 (or 2)
    best = int(np.argmin(within))
    return 1 - best if within[best] < ROUNDING and within[1 - best] > APART * within[best] else None


def _changes(step: Pixels) -> Bools:
    return np.asarray(np.abs(step[1:-1]).max(axis=2) > LEAST_CHANGE)


def thinned(told: Pixels, pairs: Pairs) -> Pixels:
    """The picture (h, w, 3) as it would read with its hue kept for pairs alone; lightness stays."""
    shown = told
    if pairs.rows is not None:
        shown = _shown(shown, pairs.rows)
    if pairs.columns is not None:
        shown = _shown(shown.swapaxes(0, 1), pairs.columns).swapaxes(0, 1)
    return with_lightness_of(told, shown)


def with_lightness_of(told: Pixels, shown: Pixels) -> Pixels:
    """What is shown (h, w, 3), as light as what is told; then cut off at black and white."""
    lightness = BANDS[0].astype(np.float32)
    return np.asarray(np.clip(shown + ((told - shown) @ lightness)[..., None], 0.0, 1.0), dtype=np.float32)


def _shown(lines: Pixels, beginning: int) -> Pixels:
    """Along the first axis: means of pairs, and of them 3/4 of the own and 1/4 of the next nearest."""
    count = len(lines)
    after = (count - beginning) % 2
    padded = np.concatenate((lines[:1],) * beginning + (lines,) + (lines[-1:],) * after)
    kept = (padded[::2] + padded[1::2]) * np.float32(0.5)
    before, next_one = np.concatenate((kept[:1], kept[:-1])), np.concatenate((kept[1:], kept[-1:]))
    out = np.empty_like(padded)
    out[::2] = NEARER * kept + FURTHER * before
    out[1::2] = NEARER * kept + FURTHER * next_one
    return out[beginning : beginning + count]
