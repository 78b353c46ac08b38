"""How large pictures are read: at a half, a third or a quarter of their size, by the means of square blocks.

A picture of 12 megapixels holds more than can be cut: at a half of its size a pixel of a shape 100 mm high is
still 0.07 mm, and its edge is known to a fiftieth of that. Fewer pixels are read in a fraction of the time.
"""

from math import ceil, sqrt
from typing import Any

import cv2
import numpy as np
import numpy.typing as npt

#: Pixels up to which a picture is read whole; and about how many are left of a larger one, at most.
READ_WHOLE, LEFT = 6_000_000, 4_100_000
#: A quarter is the least: what is two pixels wide there is a fine line in any picture that is read.
_MOST = 4

Samples = npt.NDArray[Any]


def reduction(size: tuple[int, int]) -> int:
    """Pixels on the side of the blocks that a picture of this size, px, is read by; 1 reads every pixel."""
    pixels = size[0] * size[1]
    return 1 if pixels <= READ_WHOLE else min(_MOST, ceil(sqrt(pixels / LEFT)))


def in_blocks(samples: Samples, side: int) -> Samples:
    """The means of blocks of (h, w, ...) samples; what is left over at the right and below is dropped."""
    if side == 1:
        return samples
    rows, columns = samples.shape[0] // side, samples.shape[1] // side
    whole = samples[: rows * side, : columns * side]
    reduced = cv2.resize(whole, (columns, rows), interpolation=cv2.INTER_AREA)
    return np.asarray(reduced).reshape(rows, columns, *samples.shape[2:])
