"""How wide a sheet is for its height, from where its corners lie in a photograph.

The formulas are those of Z. Zhang, L. He, "Whiteboard scanning and image enhancement", Digital Signal
Processing 17 (2007), section 3.2 (from memory): with the picture's middle as the principal point, the two
columns of the homography say how long the camera sees each side, once its focal length is known. That
follows from the corners too, but only when both pairs of sides run together; else a usual one is taken.
"""

from dataclasses import dataclass
from math import log

import numpy as np

from core.picture.paper_size import COMMON_RATIOS, PaperSize
from core.picture.plane import between
from core.picture.sheet_edges import Floats

#: Focal length over the longer side of the picture that is assumed: telephones' main cameras have the field
#: of 24 to 28 mm on film 36 mm wide (common practice, no source).
_USUAL_FOCAL = 0.75
#: How much both pairs of sides must run together, over the sheet's length, for the focal length to follow.
_RUNS_TOGETHER = 0.03
#: Focal lengths that lenses have, over the longer side.
_LEAST_FOCAL, _MOST_FOCAL = 0.4, 4.0
#: Share by which a proportion may differ from a common one and still be taken for it: a focal length wrong by
#: a third makes 2.5 % at a slant of 15 degrees.
_ALIKE = 0.035


@dataclass(frozen=True)
class Proportion:
    """width over height as it lies; whether it was guessed; the paper's two sides in mm, or None."""

    ratio: float
    is_guess: bool
    size_mm: tuple[float, float] | None


def proportion_of(corners: Floats, size: tuple[int, int], paper: PaperSize | None) -> Proportion:
    """The proportion of the sheet with these corners (4, 2) px in a picture of this size (width, height)."""
    seen = seen_ratio(corners, size)
    if paper is not None:
        level = (paper.long_mm, paper.short_mm) if seen > 1.0 else (paper.short_mm, paper.long_mm)
        return Proportion(level[0] / level[1], is_guess=False, size_mm=level)
    wide = max(seen, 1.0 / seen)
    common = min(COMMON_RATIOS, key=lambda ratio: abs(log(wide / ratio)))
    if abs(log(wide / common)) > _ALIKE:
        return Proportion(seen, is_guess=True, size_mm=None)
    return Proportion(common if seen > 1.0 else 1.0 / common, is_guess=False, size_mm=None)


def seen_ratio(corners: Floats, size: tuple[int, int]) -> float:
    """Width over height as the camera saw the sheet."""
    longer = float(max(size))
    centred = (corners - np.array(size) / 2.0) / longer
    square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    columns = between(square, centred).matrix().T
    focal = focal_of(columns)
    across, down = (np.hypot(np.hypot(x, y) / focal, w) for x, y, w in columns[:2])
    return float(across / down)


def focal_of(columns: Floats) -> float:
    """Focal length over the longer side, from the columns of the homography of the unit square."""
    (x1, y1, w1), (x2, y2, w2), _ = columns
    if min(abs(w1), abs(w2)) < _RUNS_TOGETHER:
        return _USUAL_FOCAL
    squared = -(x1 * x2 + y1 * y2) / (w1 * w2)
    if not _LEAST_FOCAL**2 <= squared <= _MOST_FOCAL**2:
        return _USUAL_FOCAL
    return float(np.sqrt(squared))
