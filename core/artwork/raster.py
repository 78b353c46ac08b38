"""A picture of an Outline, for eyes and for points that a maker sets on it; nothing is measured in it."""

import cv2
import numpy as np
from numpy.typing import NDArray

from core.outline.faces import regions_of
from core.outline.outline import BEYOND, Outline
from core.outline.region import Region
from core.patches.colour_names import Rgb

#: Samples along a side of a pixel.
FINER = 2

#: cv2's fraction of a pixel in coordinates, bits.
SHIFT = 4

#: px; how finely arcs are flattened.
FLATNESS = 0.1

Labels = NDArray[np.uint8]


def rastered(outline: Outline, palette: tuple[Rgb, ...], size: tuple[int, int]) -> tuple[np.ndarray, Labels]:
    """Pixels (h, w, 3) float32 0..1, row 0 at the top, and labels (h, w) of the palette; size is (w, h)."""
    wide, tall = size
    fine = np.full((tall * FINER, wide * FINER), outline.faces[BEYOND].colour, dtype=np.uint8)
    regions = [
        (region, face.colour)
        for index, face in enumerate(outline.faces)
        if index != BEYOND
        for region in regions_of(outline, {index})
    ]
    for region, colour in sorted(regions, key=lambda each: -each[0].area()):
        cv2.fillPoly(fine, _corners(region, tall), int(colour), shift=SHIFT)
    colours = np.rint(np.array(palette) * 255.0).astype(np.uint8)
    pixels = cv2.resize(colours[fine], (wide, tall), interpolation=cv2.INTER_AREA)
    return pixels.astype(np.float32) / 255.0, np.ascontiguousarray(fine[::FINER, ::FINER])


def _corners(region: Region, tall: int) -> list[NDArray[np.int32]]:
    found = []
    for loop in region.loops():
        corners = loop.flattened(FLATNESS)
        spots = np.column_stack((corners[:, 0], tall - corners[:, 1])) * FINER - 0.5
        found.append(np.rint(spots * 2**SHIFT).astype(np.int32))
    return found
