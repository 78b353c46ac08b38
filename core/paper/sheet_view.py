"""The sheet after the cut from above, in light from the upper left: slots, tabs, holes, the board below."""

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from core.paper.view import LIGHT

Field = NDArray[np.float32]
Pixels = NDArray[np.uint8]

#: Colours "#rrggbb": clear stock, other stock, and the board under it.
CLEAR, OPAQUE, BOARD = "#c9dcdf", "#d9d2c3", "#a9834f"
#: How much darker a slot's floor is at the bottom of the sheet, and the board's where it is cut into.
DEEP, SKIMMED = 0.45, 0.3
#: How much a wall that looks into the light, or away from it, is lit.
LIT = 0.5
#: Walls are steep: a slope of this, mm of height per mm, is lit as much as any.
STEEPEST = 2.0
#: Colours of floors by depth, more than can be told apart; light too faint to be seen.
TONES, SEEN = 512, 0.01
#: mm; heights that differ by less are the same floor.
STEP_MM = 1e-3


@dataclass(frozen=True, eq=False)
class SheetLook:
    """z (rows, columns) mm, pixels of px_mm; heights of the stock's top, its bottom, the lowest cut; mm."""

    z: Field
    px_mm: float
    top_z: float
    bottom_z: float
    lowest_z: float
    is_clear: bool


def sheet_pixels(look: SheetLook) -> Pixels:
    """(rows, columns, 3) red, green, blue."""
    step = (look.top_z - min(look.lowest_z, look.bottom_z - STEP_MM)) / (TONES - 1)
    tones = _tones(look, np.asarray(look.top_z - step * np.arange(TONES), np.float64))
    which = np.clip(np.rint((look.top_z - look.z) / step), 0, TONES - 1).astype(np.uint16)
    pixels: Pixels = tones[which]
    light = _light(look)
    walls = np.abs(light) > SEEN
    lit = pixels[walls] * (1.0 + LIT * light[walls])[:, None]
    pixels[walls] = np.clip(lit, 0.0, 255.0).astype(np.uint8)
    return pixels


def _tones(look: SheetLook, z: NDArray[np.float64]) -> Pixels:
    """(n, 3): the colour of a floor at each of the heights z (n,), as it is in even light."""
    depth = np.clip((look.top_z - z) / max(look.top_z - look.bottom_z, STEP_MM), 0.0, 1.0)
    below = np.clip((look.bottom_z - z) / max(look.bottom_z - look.lowest_z, STEP_MM), 0.0, 1.0)
    stock = np.outer(1.0 - DEEP * depth, _rgb(CLEAR if look.is_clear else OPAQUE))
    board = np.outer(1.0 - SKIMMED * below, _rgb(BOARD))
    is_through = (z <= look.bottom_z + STEP_MM)[:, None]
    return np.asarray(np.where(is_through, board, stock), np.uint8)


def _rgb(colour: str) -> NDArray[np.float64]:
    return np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)], np.float64)


def _light(look: SheetLook) -> Field:
    """(rows, columns) from -1, turned away from the light, to 1."""
    soft = cv2.GaussianBlur(look.z, (3, 3), 0.0)
    right = cv2.Sobel(soft, cv2.CV_32F, 1, 0, ksize=3, scale=1.0 / (8.0 * look.px_mm))
    up = -cv2.Sobel(soft, cv2.CV_32F, 0, 1, ksize=3, scale=1.0 / (8.0 * look.px_mm))
    towards = -(right * LIGHT[0] + up * LIGHT[1])
    return np.asarray(np.clip(towards / STEEPEST, -1.0, 1.0), np.float32)
