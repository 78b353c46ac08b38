"""A large picture at half its size, for an outline that is only looked at: a quarter of the pixels to read.

Each pixel is the mean of a square of four and has the label, of their four, whose colour is nearest to that
mean; so palette and labels stay those of the picture that is traced in the end.
"""

from dataclasses import replace

import numpy as np

from core.cancel import CancelToken
from core.outline.outline import Outline
from core.picture.colours import Colours
from core.picture.picture import Picture
from core.picture.reduce import in_blocks
from core.trace.trace import first_outline

#: Pixels up to which a picture is looked at whole: it is read in a third of a second.
LOOKED_AT_WHOLE = 1_500_000
#: Pixels on the side of a square; with more, what is a few pixels wide would be missed.
SIDE = 2


def quick_outline(picture: Picture, colours: Colours, token: CancelToken) -> Outline:
    """first_outline(), in the same px, of a large picture from half its size. Raises Cancelled."""
    if picture.width * picture.height <= LOOKED_AT_WHOLE:
        return first_outline(picture, colours, token)
    left_over = picture.height % SIDE  # rows below, where y begins
    return first_outline(*coarser(picture, colours), token).mapped(float(SIDE), (0.0, float(left_over)))


def coarser(picture: Picture, colours: Colours) -> tuple[Picture, Colours]:
    """Both at half their size; a last odd row or column is left out."""
    pixels = in_blocks(picture.pixels, SIDE)
    rows, columns = pixels.shape[:2]
    corners = [(down, across) for down in range(SIDE) for across in range(SIDE)]
    whole = colours.labels[: SIDE * rows, : SIDE * columns]
    labels = np.array([whole[down::SIDE, across::SIDE] for down, across in corners])
    palette = colours.palette.astype(np.float32)
    off = np.array([((palette[of_one] - pixels) ** 2).sum(axis=2) for of_one in labels])
    nearest = np.take_along_axis(labels, off.argmin(axis=0)[None], axis=0)[0]
    halved = replace(picture, pixels=pixels, alpha=None, matte=None)
    return halved, replace(colours, labels=nearest, findings=())
