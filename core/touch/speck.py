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
    alike = (np.linalg.norm(values[..., :3] - own[:3], axis=2) < ALIKE).astype(np.uint8)
    _, patches, stats, _ = cv2.connectedComponentsWithStats(alike, connectivity=8)
    column, row = np.floor(at).astype(int).tolist()
    patch = int(patches[row, column])
    if not alike[row, column] or stats[patch, cv2.CC_STAT_AREA] > TOO_LARGE * alike.size:
        return None
    window = _window(stats[patch], alike.shape)
    core = patches[window] == patch
    here = values[window]
    tint = tint_of(here[_grown(core, SOFT_EDGE + BESIDE) & ~_grown(core, SOFT_EDGE)])
    return window, _with_soft_edge(here, core, own, tint), tint


def _window(stats: NDArray[np.int32], shape: tuple[int, ...]) -> Window:
    left, top, width, height = stats[: cv2.CC_STAT_AREA].tolist()
    spare = SOFT_EDGE + BESIDE + 1
    rows = slice(max(top - spare, 0), min(top + height + spare, shape[0]))
    return rows, slice(max(left - spare, 0), min(left + width + spare, shape[1]))


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
