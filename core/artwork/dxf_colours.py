"""Colours of DXF: an index of 255 (code 62), or red, green and blue in one number (code 420)."""

import colorsys

from core.drawing.read.dxf_tags import Entity
from core.patches.colour_names import Rgb

#: The named indices; 7 is whatever is not the paper (DXF Reference, "Color names"; 8 and 9 from memory).
NAMED = {1: "f00", 2: "ff0", 3: "0f0", 4: "0ff", 5: "00f", 6: "f0f", 7: "000", 8: "888", 9: "ccc"}

#: Brightness of the five steps of a hue from index 10 on, and of the greys from 250 on (from memory).
STEPS = (1.0, 0.65, 0.5, 0.3, 0.15)
GREYS = (0.2, 0.31, 0.41, 0.51, 0.75, 1.0)


def colour_of_index(index: int) -> Rgb:
    """The colour of an index; one that does not exist is that of 7."""
    if 250 <= index <= 255:
        grey = GREYS[index - 250]
        return grey, grey, grey
    if 10 <= index <= 249:
        hue, step = divmod(index - 10, 10)
        return colorsys.hsv_to_rgb(hue / 24.0, 1.0 - 0.5 * (step % 2), STEPS[step // 2])
    red, green, blue = (int(digit, 16) / 15.0 for digit in NAMED.get(index, NAMED[7]))
    return red, green, blue


def true_colour(entity: Entity) -> Rgb | None:
    """The colour of code 420, if there is one."""
    text = entity.text(420)
    if not text.isdigit():
        return None
    number = int(text)
    return (number >> 16 & 255) / 255.0, (number >> 8 & 255) / 255.0, (number & 255) / 255.0
