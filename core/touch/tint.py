"""Which colour a place of the picture has, noise and a neighbour's soft edge left out."""

import numpy as np

from core.outline.segments import Floats
from core.picture.picture import Pixels

#: At most so many pixels are compared with one another.
MOST_COMPARED = 256
#: RGB distance up to which two pixels are of one flat colour: three sigmas of strong noise.
ALIKE = 0.15
#: px round a point that are asked for its colour.
REACH = 2


def tint_of(values: Pixels) -> Floats:
    """(channels,) of values (n, channels): the mean of the largest crowd of pixels that are alike."""
    chosen = values[:: max(1, len(values) // MOST_COMPARED)].astype(np.float64)
    apart = np.linalg.norm(chosen[:, None, :3] - chosen[None, :, :3], axis=2)
    crowd = apart[int((apart < ALIKE).sum(axis=1).argmax())] < ALIKE
    return np.asarray(chosen[crowd].mean(axis=0))


def tint_at(values: Pixels, at: Floats) -> Floats:
    """(channels,) round a point (2,) px of a picture (h, w, channels)."""
    column, row = np.floor(at).astype(int).tolist()
    near = values[max(row - REACH, 0) : row + REACH + 1, max(column - REACH, 0) : column + REACH + 1]
    return tint_of(near.reshape(-1, values.shape[2]))
