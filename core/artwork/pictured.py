"""Artwork as the picture that it would be, for everything that shows pictures and colours."""

from dataclasses import dataclass

import numpy as np

from core.artwork.artwork import Artwork
from core.artwork.raster import rastered
from core.findings import Finding, Level
from core.picture.colours import Colours
from core.picture.picture import Picture
from core.picture.plane import AS_IT_IS
from core.picture.square import Squared
from core.touch.paint import Touched


@dataclass(frozen=True, eq=False)
class Painting:
    """A picture of artwork, as large as its size_px, and its colours."""

    picture: Picture
    colours: Colours


def painting_of(artwork: Artwork, name: str, digest: str) -> Painting:
    """The painting of artwork from the file of this name and digest."""
    pixels, labels = rastered(artwork.outline, artwork.palette, artwork.size_px)
    picture = Picture(pixels, None, None, name, artwork.format, digest)
    return Painting(picture, Colours(np.array(artwork.palette), labels, artwork.ground, artwork.findings))


def squared_artwork(picture: Picture, artwork: Artwork, *, is_asked: bool) -> Squared:
    """Artwork is square; is_asked says whether the maker asked for corners, level, crop or paper."""
    return Squared(picture, AS_IT_IS, artwork.px_mm, (NOT_SQUARED,) if is_asked else ())


def touched_artwork(picture: Picture, *, is_asked: bool) -> Touched:
    """Touch-ups of pixels do nothing to lines; is_asked says whether there are any."""
    return Touched(picture, (UNTOUCHED,) if is_asked else ())


NOT_SQUARED = Finding(
    Level.CAUTION,
    "not-squared",
    "A drawing that is already lines is not squared up, levelled or cropped; that is left out.",
    "Change the drawing itself, or take these choices back.",
)

UNTOUCHED = Finding(
    Level.CAUTION,
    "touch-ups-left-out",
    "Touch-ups of a picture cannot change a drawing that is already lines; they are left out.",
    "Change the drawing itself, or take the touch-ups back.",
)
