"""Oklab, a colour space in which equal distances look about equally large.

Formulas and matrices from memory of B. Ottosson, "A perceptual color space for image processing" (2020);
the transfer curve is sRGB's, IEC 61966-2-1. Lightness runs from 0 to 1; a distance of 0.02 is just seen.
"""

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

_TO_CONES = np.array(
    [
        [0.4122214708, 0.5363325363, 0.0514459929],
        [0.2119034982, 0.6806995451, 0.1073969566],
        [0.0883024619, 0.2817188376, 0.6299787005],
    ]
)
_TO_LAB = np.array(
    [
        [0.2104542553, 0.7936177850, -0.0040720468],
        [1.9779984951, -2.4285922050, 0.4505937099],
        [0.0259040371, 0.7827717662, -0.8086757660],
    ]
)
_FROM_CONES = np.linalg.inv(_TO_CONES)
_FROM_LAB = np.linalg.inv(_TO_LAB)


def to_oklab(rgb: npt.ArrayLike) -> Floats:
    """Convert sRGB (..., 3) in 0..1 to L, a, b of the same shape."""
    encoded = np.asarray(rgb, dtype=np.float64)
    linear = np.where(encoded <= 0.04045, encoded / 12.92, ((encoded + 0.055) / 1.055) ** 2.4)
    lab: Floats = np.cbrt(linear @ _TO_CONES.T) @ _TO_LAB.T
    return lab


def from_oklab(lab: npt.ArrayLike) -> Floats:
    """Convert L, a, b (..., 3) to sRGB, which lies outside 0..1 where the screen cannot show it."""
    linear = ((np.asarray(lab, dtype=np.float64) @ _FROM_LAB.T) ** 3) @ _FROM_CONES.T
    bright = 1.055 * np.maximum(linear, 0.0) ** (1 / 2.4) - 0.055
    rgb: Floats = np.where(linear <= 0.0031308, linear * 12.92, bright)
    return rgb
