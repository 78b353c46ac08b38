"""The speck round a point, its soft edge included, and the colour that lies round it."""

import cv2
import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats
from core.picture.picture import Pixels
from core.touch.tint import ALIKE, tint_at, tint_of

Mask = NDArray[np.bool_]
Window = tuple[slice, slice]

#: px that a soft edge reaches beyond what is plainly speck: a blur of 2 px, from 10 % inside to 5 % outside.
SOFT_EDGE = 6
#: px to each side that are looked at first; twice as many where the speck goes on beyond.
FIRST_LOOK = 100
#: px beyond that where the colour round the speck is read.
BESIDE = 3
#: Share of the picture from which a patch is no speck, but ground or the shape itself.
TOO_LARGE = 0.1
#: RGB distance from the blend of speck and neighbour at which a pixel belongs to something else.
OFF_BLEND = 0.1
#: Share of the way from neighbour to speck below which a pixel is the neighbour's already.
NEIGHBOURS = 0.05


def speck_at(values: Pixels, at: Floats) -> tuple[Window, Mask, Floats] | None:
    """Window, pixels in it that are speck, and the colour round them; None where no speck lies.

    values (h, w, channels); at (2,) px, y down.
    """
    own = tint_at(values, at)
    column, row = np.floor(at).astype(int).tolist()
    reach = FIRST_LOOK
    while True:
        around = _around(row, column, reach, values.shape)
        patch = _patch_at(values[around], own, (row - around[0].start, column - around[1].start))
        if patch is None or np.count_nonzero(patch) > TOO_LARGE * values.shape[0] * values.shape[1]:
            return None
        if reach > max(values.shape) or not _reaches_side(patch):
            break
        reach *= 2
    window, core = _trimmed(patch, around, values.shape)
    here = values[window]
    tint = tint_of(here[_grown(core, SOFT_EDGE + BESIDE) & ~_grown(core, SOFT_EDGE)])
    return window, _with_soft_edge(here, core, own, tint), tint


def _around(row: int, column: int, reach: int, shape: tuple[int, ...]) -> Window:
    rows = slice(max(row - reach, 0), min(row + reach + 1, shape[0]))
    return rows, slice(max(column - reach, 0), min(column + reach + 1, shape[1]))


def _patch_at(values: Pixels, own: Floats, at: tuple[int, int]) -> Mask | None:
    """The pixels (h, w) that hang together with the one at row and column and are of its colour."""
    alike = (np.linalg.norm(values[..., :3] - own[:3], axis=2) < ALIKE).astype(np.uint8)
    _, patches = cv2.connectedComponents(alike, connectivity=8)
    return np.asarray(patches == patches[at]) if alike[at] else None


def _reaches_side(patch: Mask) -> bool:
    return bool(patch[[0, -1]].any() or patch[:, [0, -1]].any())


def _trimmed(patch: Mask, around: Window, shape: tuple[int, ...]) -> tuple[Window, Mask]:
    """The window as narrow as the speck and what lies beside it allow, and the speck in it."""
    rows, columns = np.nonzero(patch)
    top, left = rows + around[0].start, columns + around[1].start
    spare = SOFT_EDGE + BESIDE + 1
    window = (
        slice(max(int(top.min()) - spare, 0), min(int(top.max()) + spare + 1, shape[0])),
        slice(max(int(left.min()) - spare, 0), min(int(left.max()) + spare + 1, shape[1])),
    )
    core = np.zeros((window[0].stop - window[0].start, window[1].stop - window[1].start), dtype=bool)
    core[top - window[0].start, left - window[1].start] = True
    return window, core


def _grown(mask: Mask, steps: int) -> Mask:
    square = np.ones((2 * steps + 1, 2 * steps + 1), np.uint8)
    return np.asarray(cv2.dilate(mask.astype(np.uint8), square) > 0)


def _with_soft_edge(here: Pixels, core: Mask, own: Floats, tint: Floats) -> Mask:
    """The speck grown, step by step, into pixels that blend its colour and its neighbour's."""
    run = (own - tint)[:3]
    share = (here[..., :3] - tint[:3]) @ run / max(float(run @ run), 1e-12)
    off = np.linalg.norm(here[..., :3] - tint[:3] - np.clip(share, 0, 1)[..., None] * run, axis=2)
    blended = (off < OFF_BLEND) & (share > NEIGHBOURS)
    grown = core
    for _ in range(SOFT_EDGE):
        grown = grown | (_grown(grown, 1) & blended)
    return grown
