"""Which transfer curve is assumed at edges.

A pixel that an edge runs through reads the mean of two colours by their shares of it; the trace turns that
around. The mean of what, though? Nearly every program that draws, scales or compresses pictures takes that of
the numbers as they are stored (common practice, no source), so AS_STORED is assumed unless told otherwise. A
lens and some renderers mix light itself, which is then stored on sRGB's curve: LINEAR_LIGHT undoes the curve
(IEC 61966-2-1) before shares are read. The wrong one of the two moves an edge between black and white by up
to 0.23 px towards the lighter side or the darker one, evenly all along, and blur makes that more.

Colours are found, named and interpolated on the stored curve in any case; a resampled picture is softened
by so little (resample.py) that this moves no edge.
"""

from dataclasses import replace
from enum import StrEnum

import numpy as np
import numpy.typing as npt

from core.picture.colours import Colours
from core.picture.picture import Picture

#: Entries of the table that pixels are looked up in: finer than any picture's 16 bits need be.
_ENTRIES = 1 << 14


class Transfer(StrEnum):
    """What pixels at edges are the mean of."""

    AS_STORED = "as stored"
    LINEAR_LIGHT = "linear light"


def linear(stored: npt.ArrayLike) -> npt.NDArray[np.float64]:
    """Light, 0..1, of numbers on sRGB's curve, 0..1."""
    numbers = np.asarray(stored, dtype=np.float64)
    light = np.where(numbers <= 0.04045, numbers / 12.92, ((numbers + 0.055) / 1.055) ** 2.4)
    return np.asarray(light, dtype=np.float64)


def at_edges(picture: Picture, colours: Colours, transfer: Transfer) -> tuple[Picture, Colours]:
    """The picture and its palette on the scale on which shares are read; labels stay what they are."""
    if transfer is Transfer.AS_STORED:
        return picture, colours
    return replace(picture, pixels=_looked_up(picture.pixels)), replace(
        colours, palette=linear(colours.palette)
    )


def _looked_up(pixels: npt.NDArray[np.float32]) -> npt.NDArray[np.float32]:
    """Light of many pixels, straight between the entries of a table."""
    places = np.linspace(0.0, 1.0, _ENTRIES)
    light = np.interp(pixels.ravel(), places, linear(places)).astype(np.float32).reshape(pixels.shape)
    light.setflags(write=False)
    return light
