"""The sheet box: the rectangle whose whole millimetres a cutter's program must show.

One box serves every film of a kit, round the marks and all films. It is clipped at the corner nearest to
the key mark, so that a drawing turned or turned over shows. A program that takes the file for one of
another density shows another size: how far that is off is what ``misread_gap`` proves.
"""

import math
from dataclasses import dataclass
from itertools import permutations

import numpy as np

from core.findings import Point
from core.outline.loop import Bounds, Loop

#: mm; the box keeps at least this from what it encloses (weeding borders: 3 to 10 mm, common practice).
MARGIN_MM = 5.0
#: mm cut off both sides of the clipped corner; what is inside stays 3.5 mm from the clip.
CLIP_MM = 5.0
#: mm; the box's corners stand on this grid, exact in every format.
GRID_MM = 0.5
#: Units per inch that programs take a bare number for.
DENSITIES = (72, 90, 96)
#: mm; promise 8: a size read at the wrong density is off by more than this in width and in depth.
LEAST_GAP_MM = 0.5


@dataclass(frozen=True, eq=False)
class SheetBox:
    """loop in the frame, counter-clockwise; size_mm its whole width and depth; corner the one clipped off."""

    loop: Loop
    size_mm: tuple[float, float]
    corner: Point


def sheet_box(content: Bounds, key: Point) -> SheetBox:
    """The box round content (marks as drawn on film, and all films; mm, frame), clipped nearest to key."""
    left, near = (math.floor((low - MARGIN_MM) / GRID_MM) * GRID_MM for low in content[:2])
    width, depth = math.ceil(content[2] + MARGIN_MM - left), math.ceil(content[3] + MARGIN_MM - near)
    corners = np.array(
        [[left, near], [left + width, near], [left + width, near + depth], [left, near + depth]]
    )
    clipped = int(np.hypot(*(corners - np.array(key)).T).argmin())
    corner = (float(corners[clipped, 0]), float(corners[clipped, 1]))
    return SheetBox(_clipped(corners, clipped), (float(width), float(depth)), corner)


def _clipped(corners: np.ndarray, which: int) -> Loop:
    before, corner, after = corners[which - 1], corners[which], corners[(which + 1) % 4]
    cut = np.vstack((_towards(corner, before), _towards(corner, after)))
    points = np.vstack((corners[:which], cut, corners[which + 1 :]))
    return Loop(points, np.zeros(len(points)))


def _towards(corner: np.ndarray, other: np.ndarray) -> np.ndarray:
    return np.asarray(corner + np.sign(other - corner) * CLIP_MM)


def misread_gap(size_mm: tuple[float, float]) -> float:
    """The least, mm, by which width or depth is off when the file is read at a density it is not of."""
    wrong = [told / meant for told, meant in permutations(DENSITIES, 2)]
    return min(abs(length * ratio - length) for length in size_mm for ratio in wrong)
