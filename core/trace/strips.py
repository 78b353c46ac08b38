"""Strips of pixels across every chain, one for each row or column it crosses, and the shares they read.

Plot: the smoothed direction of the chain says whether its edge is read along rows or along columns; each
crack that fits gives a strip of pixels from deep inside one patch to deep inside the other (strips_of).
Laid over any picture of the same size, real or forecast, a strip reads the share of the colour on its low
side in every pixel (shares), once the levels of both plateaus are known: the local ones, read beyond the
soft edge and smoothed along the chain, so that uneven light and a palette a little off do not matter.
"""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats
from core.trace.cracks import CrackChain, Cracks
from core.trace.faces import Bools, Framed, Ints
from core.trace.rows import Rows, rows_of

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
    """Where the strips of all chains lie: n of them, 2 (reach + PLATEAU) pixels long, low side first.

    rows tells whose each strip is; cracks (c,) and is_ring (c,) are of the chains.
    step (n,) the crack of the chain; centre (n, 2) px its middle; along (n, 2) the unit step of the strip
    from low to high; slant (n,) the cosine between strip and edge normal. flat (n, 2 m) the pixels, as
    indices into the framed picture. free_low and free_high (n,): how many pixels from the crack outwards
    keep the label of that side; depth (n, 2 m) px how far each pixel is from any edge.
    axis (n, 3) and level (n,): share = pixel . axis - level. first (n,): whether
    the low side has the colour that the chain's first strip has on its low side.
    """

    rows: Rows
    cracks: Ints
    is_ring: Bools
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

    def __len__(self) -> int:
        return len(self.step)

    @cached_property
    def plateaus(self) -> tuple["Plateau", "Plateau"]:
        """Where the level of each chain's one and other colour is read."""
        window = _window(self)
        return _plateau(self, window, self.first), _plateau(self, window, ~self.first)

    @cached_property
    def weights(self) -> Floats:
        """(n, 2 reach) what each pixel counts: 1, half-way through a thin neighbour 1/2, beyond it 0."""
        length = self.reach + PLATEAU
        out = np.arange(self.reach)
        low, high = (
            np.clip(np.where(free < length, free / 2.0, self.reach)[:, None] - out, 0.0, 1.0)
            for free in (self.free_low, self.free_high)
        )
        return np.hstack((low[:, ::-1], high))

    def of_chains(self, chains: Ints) -> "Strips":
        """The strips of some chains alone; the others have none."""
        wanted = np.zeros(len(self.rows), dtype=bool)
        wanted[chains] = True
        kept = wanted[self.rows.owner]
        names = ("step", "centre", "along", "slant", "flat", "free_low", "free_high", "depth")
        own = {name: getattr(self, name)[kept] for name in (*names, "axis", "level", "first")}
        return replace(self, rows=self.rows.kept(kept), **own)


def reach_of(blur: float) -> int:
    """Px on either side of a crack that hold the whole soft edge."""
    return int(min(np.ceil(SHARP_REACH + BLUR_REACH * blur), LONGEST_REACH))


def headings(corners: Floats, rows: Rows, is_ring: Bools) -> Floats:
    """(n, 2) unit direction of each chain at each crack, smoothed over its neighbours.

    rows are the cracks of every chain, corners (n + c, 2) its corners, one more each. From middle of crack to
    middle of crack, so that a staircase at 45 degrees climbs as much as it runs wherever it is looked at.
    """
    count, ring = rows.count[rows.owner], is_ring[rows.owner]
    width = np.where(is_ring, np.clip(rows.count // 8, 1, SMOOTHING), SMOOTHING)[rows.owner]
    first = rows.first[rows.owner] + rows.owner
    along = np.zeros((len(first), 2))
    for side, sign in ((width, 1.0), (1 + width, 1.0), (-width, -1.0), (1 - width, -1.0)):
        place = rows.within + side
        place = np.where(ring, place % count, np.clip(place, 0, count))
        along += sign * corners[first + place]
    still = np.nonzero((along == 0.0).all(axis=1))[0]
    here = first[still] + rows.within[still]
    along[still] = corners[here + 1] - corners[here]
    return np.asarray(along / np.hypot(*along.T)[:, None])


def strips_of(
    frame: Framed,
    depth: NDArray[np.float32],
    cracks: Cracks,
    chains: tuple[CrackChain, ...],
    corners: Floats,
    reach: int,
) -> Strips:
    """The strips of all chains through these corners, in their order; all bands of a colour count alike."""
    rows = rows_of(tuple(chain.directed for chain in chains))
    is_ring = np.array([chain.is_ring for chain in chains])
    crack = np.concatenate([chain.directed for chain in chains]) >> 1
    upright = crack < cracks.upright
    x, y = np.abs(headings(corners, rows, is_ring)).T
    fits = np.where(upright, y >= x, x > y)
    fits |= (rows.kept(fits).count == 0)[rows.owner]
    across = np.where(upright, y, x)[fits]
    step, own = rows.within[fits], rows.kept(fits)
    crack, upright = crack[fits], upright[fits]
    flat = _pixels(cracks.low[crack], cracks.high[crack], reach + PLATEAU, frame.labels.shape)
    labels = frame.labels.ravel()[flat]
    middle = reach + PLATEAU
    low, high = labels[:, middle - 1], labels[:, middle]
    strips = Strips(
        rows=own,
        cracks=rows.count,
        is_ring=is_ring,
        step=step,
        centre=(cracks.start[crack] + cracks.end[crack])[:, ::-1] / 2.0 - 1.0,
        along=np.where(upright[:, None], [1.0, 0.0], [0.0, 1.0]),
        slant=np.maximum(across, np.sqrt(0.5)),
        flat=flat,
        depth=depth.ravel()[flat],
        free_low=_run(labels[:, middle - 1 :: -1] == low[:, None]),
        free_high=_run(labels[:, middle:] == high[:, None]),
        axis=np.zeros((len(crack), 3)),
        level=np.zeros(len(crack)),
        first=low == low[own.first][own.owner],
        reach=reach,
    )
    return seen_by(strips, frame, np.eye(3))


def seen_by(strips: Strips, frame: Framed, metric: Floats) -> Strips:
    """The same strips, told apart by the difference of their colours through a metric (3, 3)."""
    low, high = (frame.palette[labels] for labels in beside(strips, frame))
    axis = (low - high) @ metric
    axis = axis / np.maximum(np.sum(axis * (low - high), axis=1), LEAST_DIFFERENCE)[:, None]
    return replace(strips, axis=axis, level=np.sum(high * axis, axis=1))


def beside(strips: Strips, frame: Framed) -> tuple[Ints, Ints]:
    """The labels (n,) on the low and on the high side of every strip's crack."""
    labels, middle = frame.labels.ravel(), strips.reach + PLATEAU
    return labels[strips.flat[:, middle - 1]], labels[strips.flat[:, middle]]


def _pixels(low: Ints, high: Ints, length: int, shape: tuple[int, ...]) -> Ints:
    """(n, 2 length) flat indices; beyond the frame its rim of ground goes on."""
    step = high - low
    out = np.arange(1 - length, length + 1)
    rows = np.clip(low[:, :1] + step[:, :1] * out, 0, shape[0] - 1)
    columns = np.clip(low[:, 1:] + step[:, 1:] * out, 0, shape[1] - 1)
    return np.asarray(rows * shape[1] + columns)


def _run(same: Bools) -> Ints:
    """(n,) how many entries from the first are True without a break."""
    return np.asarray(np.where(same.all(axis=1), same.shape[1], np.argmin(same, axis=1)))


def shares(strips: Strips, pixels: NDArray[np.float32]) -> Floats:
    """(n, 2 m) share of the low colour, by the local levels of both plateaus."""
    read = pixels.reshape(-1, 3)[strips.flat]
    seen = read[..., 0] * strips.axis[:, :1] - strips.level[:, None]
    for band in (1, 2):
        seen += read[..., band] * strips.axis[:, band, None]
    one, other = (_levels(plateau, seen) for plateau in strips.plateaus)
    low, high = np.where(strips.first, one, other), np.where(strips.first, other, one)
    lost = low - high < LEAST_CONTRAST
    low, high = np.where(lost, 1.0, low), np.where(lost, 0.0, high)
    return np.asarray((seen - high[:, None]) / (low - high)[:, None])


@dataclass(frozen=True, eq=False)
class Window:
    """The neighbours of every strip on its chain, as places low to high (n,) of the strips in order (m,).

    In order every chain goes on at either end: a ring with its other end, others with nothing (inside (m,)).
    """

    order: Ints
    inside: Bools
    low: Ints
    high: Ints

    def sums(self, values: Floats) -> Floats:
        """(n,) the sum of values (n,) over each strip and its neighbours."""
        taken = np.where(self.inside, values[self.order], 0.0)
        total = np.concatenate((np.zeros(1), np.cumsum(taken)))
        return np.asarray(total[self.high] - total[self.low])


def _window(strips: Strips) -> Window:
    rows = strips.rows
    width = np.minimum(LEVEL_SMOOTHING, np.maximum(rows.count - 1, 0) // 2)
    wide = Rows(rows.count + 2 * width * (rows.count > 0))
    index = wide.within - width[wide.owner]
    count = rows.count[wide.owner]
    inside = ((index >= 0) & (index < count)) | strips.is_ring[wide.owner]
    low = wide.first[rows.owner] + rows.within
    return Window(
        rows.first[wide.owner] + index % np.maximum(count, 1),
        inside,
        low,
        low + 2 * width[rows.owner] + 1,
    )


@dataclass(frozen=True, eq=False)
class Plateau:
    """Where one colour of every chain is read: on the low side where low (n,), in its pixels deep (n, k).

    good (n, k) are those that feel no edge, count (n,) how many of them there are nearby.
    """

    rows: Rows
    window: Window
    low: Bools
    deep: Ints
    good: Bools
    count: Floats


def _plateau(strips: Strips, window: Window, low: Bools) -> Plateau:
    length = strips.reach + PLATEAU
    out = np.arange(strips.reach, length)
    deep = np.where(low[:, None], length - 1 - out, length + out)
    free = np.where(low, strips.free_low, strips.free_high)
    good = (free[:, None] > out) & (np.take_along_axis(strips.depth, deep, axis=1) >= strips.reach - 1)
    return Plateau(
        strips.rows, window, low, deep, good, window.sums(np.count_nonzero(good, axis=1).astype(np.float64))
    )


def _levels(plateau: Plateau, seen: Floats) -> Floats:
    """(n,) the share that the plateau of one colour really reads, the mean of its chain where none is near.

    What is smoothed along the chain is how far it reads from what it should, towards the other colour.
    """
    read = np.take_along_axis(seen, plateau.deep, axis=1)
    lack = np.where(plateau.low[:, None], 1.0 - read, read)
    total = np.sum(np.where(plateau.good, lack, 0.0), axis=1)
    owner, chains = plateau.rows.owner, len(plateau.rows)
    many = np.bincount(owner, weights=np.count_nonzero(plateau.good, axis=1), minlength=chains)
    whole = np.bincount(owner, weights=total, minlength=chains) / np.maximum(many, 1.0)
    near = plateau.window.sums(total) / np.maximum(plateau.count, 1.0)
    level = np.where(plateau.count >= PLATEAU, near, whole[owner])
    return np.where(plateau.low, 1.0 - level, level)


def middle(share: Floats) -> Floats:
    """(n, 2 reach) the shares of the pixels that weights speak of."""
    return share[:, PLATEAU:-PLATEAU]
