"""Edge samples: where the edge crosses each row or column, read from how much of each pixel it covers.

Plot, for all cracks of all chains at once:
  1. the smoothed direction of the chain says whether the edge is read along rows or along columns;
  2. a strip of pixels across the crack is turned into shares of the colour on its low side (strips);
  3. the levels of both plateaus are read beyond the soft edge and smoothed along the chain (levels);
  4. the sum of the shares gives the place: for a straight edge exact whatever the blur, as long as the
     strip reaches both plateaus (Green's theorem on one column); a strip is cut short half-way through a
     thin neighbour (weights);
  5. samples too near a third colour are dropped.
Curvature moves such a place by a known amount, which the fit takes into account (bend_shift).
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.cracks import CrackChain, Cracks, corners_along
from core.trace.faces import Bools, Framed, Ints

#: px beyond the reach of the soft edge that still count as plateau when its level is read.
PLATEAU = 4

#: cracks on each side over which the direction of a chain is smoothed.
SMOOTHING = 5

#: samples on each side over which the level of a plateau is smoothed.
LEVEL_SMOOTHING = 12

#: px; an upright or level edge without blur ends this far from its crack, one at 45 degrees a little further.
SHARP_REACH = 1.5

#: Blur sigmas times sqrt(2), the stretch of a row across a slanted edge, that the strip goes beyond.
BLUR_REACH = 4.0

#: px; wider strips than this gather more noise than blur.
LONGEST_REACH = 9

#: Least share of contrast left between two local levels; below it the palette is believed instead.
LEAST_CONTRAST = 0.3


@dataclass(frozen=True, eq=False)
class Samples:
    """The samples of one chain in order: places (n, 2) px, normals (n, 2) unit, pointing left of the chain.

    step (n,) says which crack of the chain each belongs to; slant (n,) is the cosine between normal and
    row or column; spread (n,) px^2 the variance of the soft edge across itself (may be negative: noise).
    """

    places: Floats
    normals: Floats
    step: Ints
    slant: Floats
    spread: Floats

    def __len__(self) -> int:
        return len(self.step)


@dataclass(frozen=True, eq=False)
class Strips:
    """share (n, 2 m) of the low colour in the pixels across each crack, m on either side; ownl and owns.

    free_low and free_high (n,): how many pixels from the crack outwards keep the colour of that side.
    """

    share: Floats
    free_low: Ints
    free_high: Ints


def reach_of(blur: float) -> int:
    """Px on either side of a crack that hold the whole soft edge."""
    return int(min(np.ceil(SHARP_REACH + BLUR_REACH * blur), LONGEST_REACH))


def headings(corners: Floats, *, is_ring: bool) -> Floats:
    """(n, 2) unit direction of the chain at each crack, smoothed over its neighbours."""
    count = len(corners) - 1
    width = min(SMOOTHING, max(count // 8, 1)) if is_ring else SMOOTHING
    step = np.arange(count)
    if is_ring:
        points = corners[:-1]
        ahead, behind = points[(step + 1 + width) % count], points[(step - width) % count]
    else:
        ahead, behind = corners[np.minimum(step + 1 + width, count)], corners[np.maximum(step - width, 0)]
    along = ahead - behind
    still = np.hypot(*along.T) == 0.0
    along[still] = (corners[1:] - corners[:-1])[still]
    return np.asarray(along / np.hypot(*along.T)[:, None])


def strips(frame: Framed, low: Ints, high: Ints, reach: int) -> Strips:
    """Shares of the low colour in 2 reach pixels across each crack; beyond the frame all is ground."""
    height, width = frame.labels.shape
    step = high - low
    out = np.arange(reach)
    rows = np.hstack([low[:, :1] - step[:, :1] * out[::-1], high[:, :1] + step[:, :1] * out])
    columns = np.hstack([low[:, 1:] - step[:, 1:] * out[::-1], high[:, 1:] + step[:, 1:] * out])
    flat = np.clip(rows, 0, height - 1) * width + np.clip(columns, 0, width - 1)
    labels = frame.labels.ravel()[flat]
    one, other = labels[:, reach - 1], labels[:, reach]
    axis = frame.palette[one] - frame.palette[other]
    axis /= np.sum(axis**2, axis=1)[:, None]
    pixels = frame.pixels.reshape(-1, 3)[flat]
    share = np.einsum("nkc,nc->nk", pixels, axis) - np.sum(frame.palette[other] * axis, axis=1)[:, None]
    same_low = labels[:, reach - 1 :: -1] == one[:, None]
    same_high = labels[:, reach:] == other[:, None]
    return Strips(share, _run(same_low), _run(same_high))


def _run(same: Bools) -> Ints:
    """(n,) how many entries from the first are True without a break."""
    return np.asarray(np.where(same.all(axis=1), same.shape[1], np.argmin(same, axis=1)))


def _weights(free: Ints, reach: int, length: int) -> Floats:
    """(n, reach) outwards: 1 up to half a thin neighbour, 1/2 for its middle pixel, 0 beyond."""
    limit = np.where(free < length, free / 2.0, reach)
    return np.asarray(np.clip(limit[:, None] - np.arange(reach), 0.0, 1.0))


def _smoothed(total: Floats, count: Floats, *, is_ring: bool) -> Floats:
    """Mean level along a chain over a sliding window, the mean of the whole chain where that is empty."""
    width = min(LEVEL_SMOOTHING, (len(total) - 1) // 2)
    index = np.arange(-width, len(total) + width)
    inside = ((index >= 0) & (index < len(total))) | is_ring
    index %= len(total)
    window = []
    for values in (total, count):
        sums = np.concatenate((np.zeros(1), np.cumsum(np.where(inside, values[index], 0.0))))
        window.append(sums[2 * width + 1 :] - sums[: -2 * width - 1])
    enough = window[1] >= PLATEAU
    whole = total.sum() / count.sum() if count.sum() > 0 else np.nan
    return np.where(enough, window[0] / np.maximum(window[1], 1.0), whole)


def _levels(strip: Strips, reach: int, *, is_ring: bool) -> tuple[Floats, Floats]:
    """(n,) local share that the low and the high plateau really read (1 and 0 on a flat picture)."""
    length = reach + PLATEAU
    out = np.arange(reach, length)
    found = []
    for free, side, flat in (
        (strip.free_low, strip.share[:, length - 1 :: -1], 1.0),
        (strip.free_high, strip.share[:, length:], 0.0),
    ):
        good = free[:, None] >= np.minimum(out + 1 + reach, length)
        total = np.sum(np.where(good, side[:, reach:], 0.0), axis=1)
        level = _smoothed(total, np.sum(good, axis=1).astype(np.float64), is_ring=is_ring)
        found.append(np.where(np.isfinite(level), level, flat))
    lost = found[0] - found[1] < LEAST_CONTRAST
    return np.where(lost, 1.0, found[0]), np.where(lost, 0.0, found[1])


def sample(frame: Framed, cracks: Cracks, chain: CrackChain, reach: int) -> Samples:
    """The samples of one chain; none within reach of the chain's own nodes."""
    corners = corners_along(chain, cracks)
    heading = headings(corners, is_ring=chain.is_ring)
    crack = chain.directed >> 1
    upright = crack < cracks.upright
    fits = np.abs(np.where(upright, heading[:, 1], heading[:, 0])) >= np.sqrt(0.5)
    if not fits.any():
        fits = np.ones(len(crack), dtype=bool)
    step = np.nonzero(fits)[0]
    crack, heading, upright = crack[step], heading[step], upright[step]
    strip = strips(frame, cracks.low[crack], cracks.high[crack], reach + PLATEAU)
    low, high = _levels(strip, reach, is_ring=chain.is_ring)
    share = (strip.share - high[:, None]) / (low - high)[:, None]
    length = reach + PLATEAU
    lack = (1.0 - share[:, length - 1 : length - 1 - reach : -1]) * _weights(strip.free_low, reach, length)
    gain = share[:, length : length + reach] * _weights(strip.free_high, reach, length)
    out = np.arange(reach) + 0.5
    shift = gain.sum(axis=1) - lack.sum(axis=1)
    spread = 2.0 * ((gain + lack) @ out) - shift**2
    centre = (cracks.start[crack] + cracks.end[crack])[:, ::-1] / 2.0 - 1.0
    places = centre + np.where(upright[:, None], [1.0, 0.0], [0.0, 1.0]) * shift[:, None]
    normals = np.column_stack((-heading[:, 1], heading[:, 0]))
    slant = np.abs(np.where(upright, normals[:, 0], normals[:, 1]))
    whole = (strip.free_low >= length) & (strip.free_high >= length)
    # An upright sharp edge reads 1/12 for the pixel and 1/12 for the sums, whatever its slant but the latter.
    spread = np.where(whole, slant**2 * (spread - 1.0 / 12.0) - 1.0 / 12.0, np.nan)
    kept = (np.abs(shift) < reach) & _clear_of_nodes(centre, corners, chain, reach)
    if kept.sum() < 2:
        kept = np.abs(shift) <= reach
    return Samples(places[kept], normals[kept], step[kept], slant[kept], spread[kept])


def _clear_of_nodes(places: Floats, corners: Floats, chain: CrackChain, reach: int) -> Bools:
    if chain.is_ring:
        return np.ones(len(places), dtype=bool)
    near = np.minimum(*(np.abs(places - corners[end]).max(axis=1) for end in (0, -1)))
    return np.asarray(near > reach)


def blur_of(samples: tuple[Samples, ...]) -> float:
    """px, sigma of the blur common to all edges: from the median spread of the strips that are whole."""
    spread = np.concatenate([s.spread for s in samples]) if samples else np.array([np.nan])
    spread = spread[np.isfinite(spread)]
    return float(np.sqrt(max(np.median(spread), 0.0))) if spread.size else 0.0


def bend_shift(blur: float, slant: Floats) -> Floats:
    """Px per unit of curvature by which a sample lies on the hollow side of the true edge.

    A column reads the mean of y(x) over its width and over the blur: y + y'' (1/24 + blur^2 / 2), with
    y'' = curvature / slant^3, seen across the edge: times slant.
    """
    return np.asarray((1.0 / 24.0 + blur**2 / 2.0) / np.maximum(slant, 0.5) ** 2)
