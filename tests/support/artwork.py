"""Artwork for tests: small SVG drawings, and their Outline with the way back to the page."""

from core.artwork.artwork import artwork_of
from core.artwork.read import read_artwork
from core.artwork.scheme import scheme_of
from core.outline.faces import regions_of
from core.outline.outline import BEYOND
from core.outline.region import mapped
from core.picture.colours import ColourWish

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" {}>'


def svg(inside, size='width="100mm" height="100mm" viewBox="0 0 100 100"'):
    """An SVG whose user unit is 1 mm unless size says otherwise."""
    return (HEAD.format(size) + inside + "</svg>").encode()


def artwork(data, height_mm=None, name="drawing"):
    """The artwork in a file; at the size that it states, or else at this height."""
    drawn = read_artwork(data, name)
    if drawn.unit_mm is None and height_mm is None:
        height_mm = 100.0
    return artwork_of(drawn, scheme_of(drawn, ColourWish()), height_mm)


def regions_mm(art, colour=None):
    """Everything that is inked (or one colour, an index), in mm from the picture's corner."""
    faces = {
        index
        for index, face in enumerate(art.outline.faces)
        if index != BEYOND and (face.colour != art.ground if colour is None else face.colour == colour)
    }
    return mapped(regions_of(art.outline, faces), lambda loop: loop.scaled(art.px_mm or 1.0))


def area_mm2(data, colour=None):
    """The inked area of a drawing that states its size."""
    return sum(region.area() for region in regions_mm(artwork(data), colour))
