"""How often each colour occurs, and how far two colours are apart."""

from dataclasses import dataclass
from itertools import combinations
from typing import Any

import numpy as np
import numpy.typing as npt

from core.picture.oklab import Floats, to_oklab
from core.picture.plateau import Bytes

#: Bits of each channel that tell two bins apart: bins 8 grey levels wide, each kept by its true mean.
_BITS = 5


@dataclass(frozen=True, eq=False)  # no ==: arrays have no single truth value
class Tally:
    """rgb (n, 3) in 0..1, and how many pixels each stands for, counts (n,)."""

    rgb: Floats
    counts: Floats

    def __len__(self) -> int:
        return len(self.counts)

    def chosen(self, which: npt.NDArray[Any]) -> "Tally":
        """Those of the colours that a mask or list of indices tells."""
        return Tally(self.rgb[which], self.counts[which])

    def gathered(self, groups: npt.NDArray[np.intp], count: int) -> "Tally":
        """One colour per group, the mean of its members by their counts; groups (n,) in 0..count."""
        totals = np.bincount(groups, self.counts, count).astype(np.float64)
        sums = [np.bincount(groups, self.counts * channel, count) for channel in self.rgb.T]
        return Tally(np.stack(sums, axis=1) / np.maximum(totals, 1e-12)[:, np.newaxis], totals)


def tally_of(samples: Bytes, pixels_each: float) -> Tally:
    """Count samples (m, 3), each standing for so many pixels, in bins; the commonest first."""
    red, green, blue = (samples >> (8 - _BITS)).astype(np.int32).T
    bins = (red << 2 * _BITS) | (green << _BITS) | blue
    counts = np.bincount(bins, minlength=1 << 3 * _BITS)
    sums = [np.bincount(bins, channel, 1 << 3 * _BITS) for channel in samples.T]
    order = np.argsort(-counts, kind="stable")[: np.count_nonzero(counts)]
    rgb = np.stack(sums, axis=1)[order] / counts[order, np.newaxis] / 255.0
    return Tally(rgb, counts[order].astype(np.float64) * pixels_each)


def apart(some: npt.ArrayLike, others: npt.ArrayLike) -> Floats:
    """Distance of every colour (n, 3) from every other (m, 3) as (n, m): the smaller of Oklab's and RGB's.

    Oklab says what eyes tell apart, but near black eight grey levels of noise are a long way in it; there
    the plain distance of the stored numbers, 1 from black to a primary, is the smaller one.
    """
    one, two = np.asarray(some, dtype=np.float64), np.asarray(others, dtype=np.float64)
    seen = np.linalg.norm(to_oklab(one)[:, np.newaxis] - to_oklab(two), axis=2)
    stored = np.linalg.norm(one[:, np.newaxis] - two, axis=2)
    smaller: Floats = np.minimum(seen, stored)
    return smaller


def off_blend(colours: Floats, ends: Floats) -> Floats:
    """RGB distance (n,) of colours (n, 3) from the nearest straight blend of two of the ends (k, 3).

    Blends are straight on the file's own curve, where anti-aliasing and scaling mix them.
    """
    nearest: Floats = np.linalg.norm(colours[:, np.newaxis] - ends, axis=2).min(axis=1)
    for first, last in combinations(ends, 2):
        nearest = np.minimum(nearest, _off_segment(colours, first, last))
    return nearest


def off_coarse_blend(colours: Floats, ends: Floats) -> Floats:
    """Do as off_blend, where lightness and colour are each blended by a share of their own.

    So lossy formats leave an edge: lightness to the pixel, colour only to four of them.
    """
    (light, tint), (end_light, end_tint) = _parted(colours), _parted(ends)
    nearest: Floats = np.linalg.norm(colours[:, np.newaxis] - ends, axis=2).min(axis=1)
    for first, last in combinations(range(len(ends)), 2):
        low, high = sorted((end_light[first], end_light[last]))
        too_light = np.maximum(0.0, np.maximum(low - light, light - high))
        off_tint = _off_segment(tint, end_tint[first], end_tint[last])
        nearest = np.minimum(nearest, np.hypot(too_light, off_tint))
    return nearest


def lightness(colours: npt.NDArray[Any]) -> Floats:
    """Lightness (...) of R, G, B (..., 3) as lossy formats reckon it (ITU-R BT.601)."""
    light: Floats = colours @ np.array([0.299, 0.587, 0.114])
    return light


def _parted(colours: Floats) -> tuple[Floats, Floats]:
    light = lightness(colours)
    return light, colours - light[:, np.newaxis]


def _off_segment(colours: Floats, start: Floats, end: Floats) -> Floats:
    run = end - start
    place = np.clip((colours - start) @ run / max(float(run @ run), 1e-12), 0.0, 1.0)
    off: Floats = np.linalg.norm(colours - start - place[:, np.newaxis] * run, axis=1)
    return off
