"""Labels made fit to be traced: a rim of ground round them, saddles resolved, connected areas numbered.

All arrays here have row 0 at the bottom (y up) and a rim of one ground pixel on every side, so that the
outside of the picture is ground and a shape that touches the border gets the border as its edge.

Plot: rim and flip (framed) -> at every corner where four pixels meet diagonally, decide which diagonal is
joined (saddles) -> connected areas (areas), 4-connected but for joined saddles -> areas too small to be
drawn on purpose go to a neighbour and the plot starts again (settled).
"""

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats
from core.picture.colours import Colours
from core.picture.picture import Picture

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

#: px of area; a dot 2.5 px across, the smallest feature promised, still fills more than this.
SPECK_AREA = 3

#: Rounds of giving specks to a neighbour; a speck inside specks needs one round per layer.
SPECK_ROUNDS = 4


@dataclass(frozen=True, eq=False)
class Framed:
    """labels (h + 2, w + 2) and pixels (h + 2, w + 2, 3), y up, rim of ground; palette (k, 3)."""

    labels: Ints
    pixels: NDArray[np.float32]
    palette: Floats
    ground: int

    def depth(self) -> NDArray[np.float32]:
        """(h + 2, w + 2) px from every pixel to the nearest that touches another colour by a side."""
        edge = np.zeros(self.labels.shape, dtype=bool)
        level, upright = self.labels[:-1] != self.labels[1:], self.labels[:, :-1] != self.labels[:, 1:]
        edge[:-1] |= level
        edge[1:] |= level
        edge[:, :-1] |= upright
        edge[:, 1:] |= upright
        return np.asarray(cv2.distanceTransform((~edge).astype(np.uint8), cv2.DIST_L2, 3), dtype=np.float32)


@dataclass(frozen=True, eq=False)
class Saddles:
    """Lattice corners (row, column) whose four pixels are joined along a diagonal.

    rising: the lower left and upper right pixel belong together; falling: lower right and upper left.
    """

    rising: Ints
    falling: Ints


@dataclass(frozen=True, eq=False)
class Areas:
    """index (h + 2, w + 2) of the connected area of every pixel, 0 the one beyond; colour (n,) of each."""

    index: Ints
    colour: Ints
    saddles: Saddles


def framed(picture: Picture, colours: Colours) -> Framed:
    """The picture and its labels, y up, with one pixel of ground all round."""
    labels = np.pad(colours.labels[::-1].astype(np.int64), 1, constant_values=colours.ground)
    height, width = labels.shape
    pixels = np.empty((height, width, 3), dtype=np.float32)
    pixels[:] = colours.palette[colours.ground]
    pixels[1:-1, 1:-1] = picture.pixels[::-1]
    return Framed(labels, pixels, np.asarray(colours.palette, dtype=np.float64), colours.ground)


def saddles(frame: Framed) -> Saddles:
    """Every diagonal that is joined: the only equal one, else the one that holds more of the four pixels.

    What four pixels hold is read from their colours, so a stroke that a soft edge thins out is joined where
    it covers more than half; on an even split (1-bit pictures) the rarer colour nearby is the stroke.
    """
    labels = frame.labels
    below, above = labels[:-1], labels[1:]
    lower_left, lower_right, upper_left, upper_right = (
        below[:, :-1],
        below[:, 1:],
        above[:, :-1],
        above[:, 1:],
    )
    four = (
        (lower_left != lower_right)
        & (lower_right != upper_right)
        & (upper_right != upper_left)
        & (upper_left != lower_left)
    )
    rising = four & (lower_left == upper_right)
    falling = four & (lower_right == upper_left)
    row, column = np.nonzero(rising & falling)
    if row.size:
        joins = _rising_holds_more(frame, row, column)
        falling[row[joins], column[joins]] = False
        rising[row[~joins], column[~joins]] = False
    return Saddles(np.argwhere(rising) + 1, np.argwhere(falling) + 1)


def _rising_holds_more(frame: Framed, row: Ints, column: Ints) -> Bools:
    one, other = frame.labels[row, column], frame.labels[row, column + 1]
    axis = frame.palette[one] - frame.palette[other]
    four = sum(frame.pixels[row + r, column + c].astype(np.float64) for r in (0, 1) for c in (0, 1)) / 4.0
    share = np.sum((four - frame.palette[other]) * axis, axis=1) / np.maximum(np.sum(axis**2, axis=1), 1e-12)
    wide = np.pad(frame.labels, 1, mode="edge")
    near = np.stack([wide[row + r, column + c] for r in range(4) for c in range(4)])
    rarer = np.sum(near == one, axis=0) < np.sum(near == other, axis=0)
    even = np.abs(share - 0.5) < 1e-3
    return np.asarray(np.where(even, rarer, share > 0.5))


def areas(frame: Framed) -> Areas:
    """Connected areas of one colour; pixels touch by a side, or by a joined diagonal."""
    labels = frame.labels
    index = np.zeros(labels.shape, dtype=np.int64)
    colour: list[int] = []
    for label in range(len(frame.palette)):
        mask = (labels == label).astype(np.uint8)
        if not mask.any():
            continue
        count, found = cv2.connectedComponents(mask, connectivity=4, ltype=cv2.CV_32S)
        index += np.where(found > 0, found + (len(colour) - 1), 0)
        colour += [label] * (count - 1)
    joined = saddles(frame)
    lead = _joined_to(index, joined, len(colour))
    lead = np.where(lead == lead[index[0, 0]], -1, lead)  # the area beyond comes first
    _, number = np.unique(lead, return_inverse=True)
    kept = np.zeros(int(number.max()) + 1, dtype=np.int64)
    kept[number] = np.array(colour)
    return Areas(number[index], kept, joined)


def _joined_to(index: Ints, joined: Saddles, count: int) -> Ints:
    """(count,) the smallest area each one is joined to across saddles."""
    row, column = joined.rising.T
    pairs = [np.column_stack((index[row - 1, column - 1], index[row, column]))]
    row, column = joined.falling.T
    pairs.append(np.column_stack((index[row - 1, column], index[row, column - 1])))
    lead = np.arange(count)
    for one, other in np.vstack(pairs).tolist():
        low, high = sorted((_root(lead, one), _root(lead, other)))
        lead[high] = low
    return np.array([_root(lead, item) for item in range(count)], dtype=np.int64)


def _root(lead: Ints, item: int) -> int:
    while lead[item] != item:
        item = int(lead[item])
    return item


def settled(frame: Framed) -> tuple[Framed, Areas]:
    """The frame without specks, and its areas."""
    found = areas(frame)
    for _ in range(SPECK_ROUNDS):
        size = np.bincount(found.index.ravel(), minlength=found.colour.size)
        specks = (size <= SPECK_AREA) & (np.arange(size.size) != 0)
        if not specks.any():
            break
        frame = _without(frame, specks[found.index])
        found = areas(frame)
    return frame, found


def _without(frame: Framed, gone: Bools) -> Framed:
    """Every pixel of a speck takes the nearest colour among its neighbours outside specks."""
    row, column = np.nonzero(gone)
    best = np.full(row.size, np.inf)
    labels = frame.labels.copy()
    for step_row, step_column in ((0, 1), (1, 0), (0, -1), (-1, 0)):
        there = row + step_row, column + step_column
        label = frame.labels[there]
        off = np.sum((frame.pixels[row, column] - frame.palette[label]) ** 2, axis=1)
        off = np.where(gone[there], np.inf, off)
        better = off < best
        labels[row[better], column[better]] = label[better]
        best = np.minimum(best, off)
    return Framed(labels, frame.pixels, frame.palette, frame.ground)


def inside_points(found: Areas, depth: NDArray[np.float32]) -> Floats:
    """(n, 2) px, for every area the pixel centre furthest from its edge and from the picture's border."""
    index = found.index
    rows, columns = (np.arange(1.0, side - 1.0) for side in index.shape)
    room = np.minimum(np.minimum(rows, rows[::-1])[:, None], np.minimum(columns, columns[::-1])[None, :])
    inner = np.zeros(index.shape)  # the rim is left at 0: it is taken only where an area has nothing else
    inner[1:-1, 1:-1] = np.minimum(depth[1:-1, 1:-1] + 1.0, room)
    flat, deep = index.ravel(), inner.ravel()
    deepest = np.zeros(found.colour.size)
    np.maximum.at(deepest, flat, deep)
    top = np.nonzero(deep == deepest[flat])[0]
    _, first = np.unique(flat[top], return_index=True)
    row, column = np.divmod(top[first], index.shape[1])
    return np.column_stack((column - 0.5, row - 0.5)).astype(np.float64)
