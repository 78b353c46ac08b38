"""The colours that DXF has numbers for (the colour index; the rule of its wheel is from memory).

1 to 9 are plain; 10 to 249 are 24 hues, 15 degrees apart, in five values, each full and half washed out.
The darkest value and the greys from 250 on are left out: programs do not agree on them.
"""

from colorsys import hsv_to_rgb
from functools import cache

import numpy as np
from numpy.typing import NDArray

_FULL = ((255, 0, 0), (255, 255, 0), (0, 255, 0), (0, 255, 255), (0, 0, 255), (255, 0, 255))
_PLAIN = (*_FULL, (255, 255, 255), (128, 128, 128), (192, 192, 192))
_VALUES = (255, 165, 127, 76)
#: Numbers of one hue on the wheel, those left out among them.
_A_HUE = 10


@cache
def colour_table() -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Numbers (n,) and the sRGB (n, 3) of each."""
    wheel = [
        (_A_HUE * (hue + 1) + 2 * row + washed, _on_wheel(hue, value, 0.5 if washed else 1.0))
        for hue in range(24)
        for row, value in enumerate(_VALUES)
        for washed in (0, 1)
    ]
    every = [*enumerate(_PLAIN, 1), *wheel]
    return np.array([index for index, _ in every]), np.array([colour for _, colour in every], float)


def _on_wheel(hue: int, value: int, saturation: float) -> tuple[float, ...]:
    return tuple(part * value for part in hsv_to_rgb(hue / 24.0, saturation, 1.0))


def nearest_index(colour: str) -> int:
    """The number of the colour nearest to an sRGB "#rrggbb"."""
    numbers, table = colour_table()
    wanted = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)])
    return int(numbers[np.argmin(((table - wanted) ** 2).sum(axis=1))])
