"""Which colour each pixel belongs to.

The nearest on the file's own curve: there a pixel half covered by each of two colours is half-way between
them. But an edge between white and black passes through grey, and where grey is one of the colours too, the
edge would get a grey rim. So a pixel of an edge that is labelled with neither of the colours at its two
ends, yet blends them, is given to the nearer of the two.
"""

from dataclasses import dataclass
from itertools import combinations

import numpy as np
import numpy.typing as npt

from core.picture.oklab import Floats
from core.picture.plateau import Bytes, Mask, Plateaus

Labels = npt.NDArray[np.uint8]
Places = npt.NDArray[np.intp]

#: Bits of a channel in the table of nearest colours: a label may turn 1/128 of full scale beside the middle.
_BITS = 6
#: Rows that are labelled together, so that the numbers between two steps stay in the cache.
_STRIP = 64
#: px to either side after which an edge has come to its end: a blur of 3 px is as soft as can be cut.
_REACH = 8
#: RGB distance from the blend of both ends at which a pixel is not their blend but a thin line between them.
_OFF_BLEND = 0.10
#: The same where lossy compression has smeared the colours of edges.
_OFF_RIPPLED_BLEND = 0.30
#: Points of a blend that are asked for their nearest colour.
_ALONG = 33
#: Pixels whose edges are walked together: a few MB of numbers between two steps.
_AT_A_TIME = 1 << 16
#: Steps to one side in the four directions of a grid.
DIRECTIONS = ((0, 1), (1, 0), (1, 1), (1, -1))


def labelled(plateaus: Plateaus, palette: Floats) -> Labels:
    """Label every pixel with the index of its colour, soft edges without rims; (h, w)."""
    labels = nearest(plateaus.bytes, palette)
    crossed = on_the_way(palette)
    if not crossed.any():
        return labels
    rows, columns = np.nonzero(crossed[labels] & (plateaus.spread > plateaus.flat_range))
    labels[rows, columns] = without_rim(plateaus, labels, palette, Pixel(rows, columns))
    return labels


def nearest(whole: Bytes, palette: Floats) -> Labels:
    """Label (h, w) each pixel of (h, w, 3) with the nearest colour, to the table's precision."""
    table = _table(palette)
    labels = np.empty(whole.shape[:2], np.uint8)
    drop = 8 - _BITS
    for top in range(0, len(whole), _STRIP):
        strip = whole[top : top + _STRIP] >> drop
        place = strip[..., 0].astype(np.int32) << 2 * _BITS
        place |= strip[..., 1].astype(np.int32) << _BITS
        place |= strip[..., 2]
        labels[top : top + _STRIP] = table[place]
    return labels


def _table(palette: Floats) -> Labels:
    """Return the index of the nearest colour for every coarse R, G, B."""
    levels = (np.arange(1 << _BITS) + 0.5) / (1 << _BITS)
    best = np.full((len(levels),) * 3, np.inf, dtype=np.float32)
    table = np.zeros(best.shape, np.uint8)
    for index, colour in enumerate(palette):
        red, green, blue = ((levels[:, np.newaxis] - colour) ** 2).astype(np.float32).T
        distance = red[:, np.newaxis, np.newaxis] + green[:, np.newaxis] + blue
        nearer = distance < best
        table[nearer] = index
        np.minimum(best, distance, out=best)
    return table.ravel()


def on_the_way(palette: Floats) -> Mask:
    """Tell of each colour (k,) whether some blend of two others passes nearest to it."""
    crossed = np.zeros(len(palette), dtype=bool)
    share = np.linspace(0.0, 1.0, _ALONG)[:, np.newaxis]
    for first, last in combinations(range(len(palette)), 2):
        blend = palette[first] * (1.0 - share) + palette[last] * share
        passed = np.linalg.norm(blend[:, np.newaxis] - palette, axis=2).argmin(axis=1)
        crossed[np.setdiff1d(passed, (first, last))] = True
    return crossed


@dataclass(frozen=True, eq=False)  # no ==: arrays have no single truth value
class Pixel:
    """Many pixels by row and column, (n,) each."""

    rows: Places
    columns: Places

    def moved(self, down: Places, right: Places, shape: tuple[int, ...]) -> "Pixel":
        """As many steps away, but never off the picture."""
        rows = np.clip(self.rows + down, 0, shape[0] - 1)
        return Pixel(rows, np.clip(self.columns + right, 0, shape[1] - 1))

    def of(self, values: npt.NDArray[np.uint8]) -> npt.NDArray[np.uint8]:
        """Look the values (h, w, ...) up there."""
        return values[self.rows, self.columns]

    def parts(self, count: int) -> "list[Pixel]":
        """At most ``count`` at a time."""
        starts = range(0, len(self.rows), count)
        return [Pixel(self.rows[at : at + count], self.columns[at : at + count]) for at in starts]


def without_rim(plateaus: Plateaus, labels: Labels, palette: Floats, edge: Pixel) -> Labels:
    """Label the pixels of edges (n,) anew: rims go to the nearer end, everything else stays."""
    parts = [_relabelled(plateaus, labels, palette, part) for part in edge.parts(_AT_A_TIME)]
    return np.concatenate(parts) if parts else np.empty(0, np.uint8)


def _relabelled(plateaus: Plateaus, labels: Labels, palette: Floats, edge: Pixel) -> Labels:
    own = edge.of(labels)
    down, right, slope = _steepest(plateaus.bytes, edge)
    up_end = _end(plateaus, edge, Pixel(down, right), slope)
    low_end = _end(plateaus, edge, Pixel(-down, -right), -slope)
    ends = up_end.of(labels), low_end.of(labels)
    colour = edge.of(plateaus.bytes) / 255.0
    may_be_off = _OFF_RIPPLED_BLEND if plateaus.is_rippled else _OFF_BLEND
    off = _off_blend(colour, palette[ends[0]], palette[ends[1]])
    is_rim = (own != ends[0]) & (own != ends[1]) & (off < may_be_off)
    gaps = [np.linalg.norm(colour - palette[end], axis=1) for end in ends]
    return np.where(is_rim, np.where(gaps[0] <= gaps[1], *ends), own)


def _steepest(whole: Bytes, edge: Pixel) -> tuple[Places, Places, Floats]:
    """Return the step (down, right) along which the colour changes most, and that change (n, 3)."""
    changes = np.stack([_change(whole, edge, *direction) for direction in DIRECTIONS])
    best = np.linalg.norm(changes, axis=2).argmax(axis=0)
    steps = np.array(DIRECTIONS)[best]
    return steps[:, 0], steps[:, 1], changes[best, np.arange(best.size)]


def _change(whole: Bytes, edge: Pixel, down: int, right: int) -> Floats:
    step = np.array(down), np.array(right)
    ahead = edge.moved(*step, whole.shape).of(whole).astype(np.float64)
    behind = edge.moved(-step[0], -step[1], whole.shape).of(whole).astype(np.float64)
    length = np.hypot(down, right)
    change: Floats = (ahead - behind) / (255.0 * length)
    return change


def _end(plateaus: Plateaus, edge: Pixel, step: Pixel, slope: Floats) -> Pixel:
    """Walk from each pixel as long as the colour keeps changing along the slope; (n,) where that ends."""
    unit = slope / np.maximum(np.linalg.norm(slope, axis=1), 1e-9)[:, np.newaxis]
    height = np.einsum("ij,ij->i", edge.of(plateaus.bytes) / 255.0, unit)
    walked = np.zeros(len(edge.rows), dtype=np.intp)
    walking = np.ones(len(edge.rows), dtype=bool)
    for _ in range(_REACH):
        after = edge.moved(step.rows * (walked + 1), step.columns * (walked + 1), plateaus.bytes.shape)
        ahead = np.einsum("ij,ij->i", after.of(plateaus.bytes) / 255.0, unit)
        walking &= ahead > height + plateaus.flat_range / 510.0
        height = np.where(walking, ahead, height)
        walked += walking
    return edge.moved(step.rows * walked, step.columns * walked, plateaus.bytes.shape)


def _off_blend(colours: Floats, starts: Floats, ends: Floats) -> Floats:
    """RGB distance (n,) of each colour (n, 3) from the blend of its own two ends."""
    run = ends - starts
    length = np.maximum(np.einsum("ij,ij->i", run, run), 1e-9)
    share = np.clip(np.einsum("ij,ij->i", colours - starts, run) / length, 0.0, 1.0)
    off: Floats = np.linalg.norm(colours - starts - share[:, np.newaxis] * run, axis=1)
    return off
