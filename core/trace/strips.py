"""Strips of pixels across a chain, one for each row or column it crosses, and the shares they read.

Plot: the smoothed direction of the chain says whether its edge is read along rows or along columns; each
crack that fits gives a strip of pixels from deep inside one patch to deep inside the other (strips_of).
Laid over any picture of the same size, real or forecast, a strip reads the share of the colour on its low
side in every pixel (shares), once the levels of both plateaus are known: the local ones, read beyond the
soft edge and smoothed along the chain, so that uneven light and a palette a little off do not matter.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats
from core.trace.cracks import CrackChain, Cracks, corners_along
from core.trace.faces import Bools, Framed, Ints

#: px beyond the reach of the soft edge that still count as plateau when its level is read, if no other edge
#: is within reach of them.
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

#: Squared difference of two colours (0..1 each band) below which they are one and the same.
LEAST_DIFFERENCE = 1e-9

#: Least share of contrast left between two local levels; below it the palette is believed instead.
LEAST_CONTRAST = 0.3


@dataclass(frozen=True, eq=False)
class Strips:
    """Where one chain's strips lie: n of them, 2 (reach + PLATEAU) pixels long, low side first.

    step (n,) the crack of the chain; centre (n, 2) px its middle; along (n, 2) the unit step of the strip
    from low to high; slant (n,) the cosine between strip and edge normal. flat (n, 2 m) the pixels, as
    indices into the framed picture. free_low and free_high (n,): how many pixels from the crack outwards
    keep the label of that side; depth (n, 2 m) px how far each pixel is from any edge.
    axis (n, 3) and level (n,): share = pixel . axis - level. first (n,): whether
    the low side has the colour that the first strip's low side has.
    """

    step: Ints
    centre: Floats
    along: Floats
    slant: Floats
    flat: Ints
    free_low: Ints
    free_high: Ints
    depth: NDArray[np.float32]
    axis: Floats
    level: Floats
    first: Bools
    reach: int
    is_ring: bool

    def __len__(self) -> int:
        return len(self.step)


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


def strips_of(
    frame: Framed, depth: NDArray[np.float32], cracks: Cracks, chain: CrackChain, reach: int
) -> Strips:
    """The strips of one chain, in its order; all bands of a colour count alike."""
    heading = headings(corners_along(chain, cracks), is_ring=chain.is_ring)
    crack = chain.directed >> 1
    upright = crack < cracks.upright
    x, y = np.abs(heading).T
    across = np.where(upright, y, x)
    step = np.nonzero(np.where(upright, y >= x, x > y))[0]
    if not step.size:
        step = np.arange(len(crack))
    crack, upright = crack[step], upright[step]
    flat = _pixels(cracks.low[crack], cracks.high[crack], reach + PLATEAU, frame.labels.shape)
    labels = frame.labels.ravel()[flat]
    middle = reach + PLATEAU
    low, high = labels[:, middle - 1], labels[:, middle]
    strips = Strips(
        step=step,
        centre=(cracks.start[crack] + cracks.end[crack])[:, ::-1] / 2.0 - 1.0,
        along=np.where(upright[:, None], [1.0, 0.0], [0.0, 1.0]),
        slant=np.maximum(across[step], np.sqrt(0.5)),
        flat=flat,
        depth=depth.ravel()[flat],
        free_low=_run(labels[:, middle - 1 :: -1] == low[:, None]),
        free_high=_run(labels[:, middle:] == high[:, None]),
        axis=np.zeros((len(crack), 3)),
        level=np.zeros(len(crack)),
        first=low == low[0],
        reach=reach,
        is_ring=chain.is_ring,
    )
    return seen_by(strips, frame, np.eye(3))


def seen_by(strips: Strips, frame: Framed, metric: Floats) -> Strips:
    """The same strips, told apart by the difference of their colours through a metric (3, 3)."""
    low, high = (frame.palette[frame.labels.ravel()[strips.flat[:, at]]] for at in _beside(strips))
    axis = (low - high) @ metric
    axis = axis / np.maximum(np.sum(axis * (low - high), axis=1), LEAST_DIFFERENCE)[:, None]
    return replace(strips, axis=axis, level=np.sum(high * axis, axis=1))


def _beside(strips: Strips) -> tuple[int, int]:
    """Which pixels of a strip lie on the low and on the high side of its crack."""
    return strips.reach + PLATEAU - 1, strips.reach + PLATEAU


def _pixels(low: Ints, high: Ints, length: int, shape: tuple[int, ...]) -> Ints:
    """(n, 2 length) flat indices; beyond the frame its rim of ground goes on."""
    step = high - low
    out = np.arange(length)
    rows = np.hstack([low[:, :1] - step[:, :1] * out[::-1], high[:, :1] + step[:, :1] * out])
    columns = np.hstack([low[:, 1:] - step[:, 1:] * out[::-1], high[:, 1:] + step[:, 1:] * out])
    return np.asarray(np.clip(rows, 0, shape[0] - 1) * shape[1] + np.clip(columns, 0, shape[1] - 1))


def _run(same: Bools) -> Ints:
    """(n,) how many entries from the first are True without a break."""
    return np.asarray(np.where(same.all(axis=1), same.shape[1], np.argmin(same, axis=1)))


def shares(strips: Strips, pixels: NDArray[np.float32]) -> Floats:
    """(n, 2 m) share of the low colour, by the local levels of both plateaus."""
    seen = np.einsum("nkc,nc->nk", pixels.reshape(-1, 3)[strips.flat], strips.axis) - strips.level[:, None]
    one, other = _plateau(strips, seen, strips.first), _plateau(strips, seen, ~strips.first)
    low, high = np.where(strips.first, one, other), np.where(strips.first, other, one)
    lost = low - high < LEAST_CONTRAST
    low, high = np.where(lost, 1.0, low), np.where(lost, 0.0, high)
    return np.asarray((seen - high[:, None]) / (low - high)[:, None])


def _plateau(strips: Strips, seen: Floats, low: Bools) -> Floats:
    """(n,) the share that the plateau of one colour really reads; it lies on the low side where low (n,).

    What is smoothed along the chain is how far it reads from what it should, towards the other colour.
    """
    length = strips.reach + PLATEAU
    out = np.arange(strips.reach, length)
    depth = np.where(low[:, None], seen[:, length - 1 - out], seen[:, length + out])
    free = np.where(low, strips.free_low, strips.free_high)
    deep = np.where(low[:, None], strips.depth[:, length - 1 - out], strips.depth[:, length + out])
    good = (free[:, None] > out) & (deep >= strips.reach - 1)
    lack = np.where(low[:, None], 1.0 - depth, depth)
    total = np.sum(np.where(good, lack, 0.0), axis=1)
    level = _smoothed(total, np.sum(good, axis=1).astype(np.float64), is_ring=strips.is_ring)
    level = np.where(np.isfinite(level), level, 0.0)
    return np.where(low, 1.0 - level, level)


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
    return np.asarray(np.where(enough, window[0] / np.maximum(window[1], 1.0), whole))


def weights(strips: Strips) -> Floats:
    """(n, 2 reach) what each pixel counts: 1, half-way through a thin neighbour 1/2, beyond it 0."""
    length = strips.reach + PLATEAU
    out = np.arange(strips.reach)
    low, high = (
        np.clip(np.where(free < length, free / 2.0, strips.reach)[:, None] - out, 0.0, 1.0)
        for free in (strips.free_low, strips.free_high)
    )
    return np.hstack((low[:, ::-1], high))


def middle(share: Floats) -> Floats:
    """(n, 2 reach) the shares of the pixels that weights speaks of."""
    return share[:, PLATEAU:-PLATEAU]
