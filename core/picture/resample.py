"""A picture seen through a map, interpolated once.

Each new pixel is the mean of four places within it, each read straight between its neighbours. Sums of
shares across an edge stay exact under a kernel whose first moment is right, as this one's is and that of
OpenCV's cubic is not; and all edges are softened nearly alike, by 0.19 to 0.25 px^2, where a single place
would soften them by 0 to 0.25 as it falls between the pixels.
"""

import cv2
import numpy as np
import numpy.typing as npt

from core.picture.plane import Plane, shifted

#: px right and down from a pixel's middle of the places that it is the mean of.
_PLACES = tuple((x, y) for y in (-0.25, 0.25) for x in (-0.25, 0.25))
#: Rows that are made together: some MB between two steps.
_STRIP = 512


def resampled(
    pixels: npt.NDArray[np.float32], plane: Plane, size: tuple[int, int]
) -> npt.NDArray[np.float32]:
    """Pixels (h, w) or (h, w, 3) after a map, size (width, height) px; beyond the picture its rim goes on."""
    out = np.empty((size[1], size[0], *pixels.shape[2:]), np.float32)
    for top in range(0, size[1], _STRIP):
        strip = out[top : top + _STRIP]
        strip[...] = sum(_read(pixels, plane, (x, y + top), strip.shape) for x, y in _PLACES)
        strip /= len(_PLACES)
    return out


def _read(
    pixels: npt.NDArray[np.float32], plane: Plane, at: tuple[float, float], shape: tuple[int, ...]
) -> npt.NDArray[np.float32]:
    """One place in each pixel of a strip; OpenCV counts from the middle of the first pixel."""
    onto = shifted(0.5, 0.5).then(plane).then(shifted(-0.5 - at[0], -0.5 - at[1]))
    seen = cv2.warpPerspective(
        pixels,
        np.linalg.inv(onto.matrix()),
        (shape[1], shape[0]),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return np.asarray(seen, dtype=np.float32)
