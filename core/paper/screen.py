"""A picture drawn for print made smaller for the screen: averaged, since drawing it twice takes longer."""

from io import BytesIO

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from core.paper.view import LONG_SIDE_PX

Pixels = NDArray[np.uint8]

#: mm of an inch.
INCH = 25.4


def for_screen(png: bytes) -> bytes:
    """A PNG that says its true size, with at most LONG_SIDE_PX on its longer side; itself where it has."""
    picture = Image.open(BytesIO(png))
    share = LONG_SIDE_PX / max(picture.size)
    if share >= 1.0:
        return png
    size = (max(round(picture.width * share), 1), max(round(picture.height * share), 1))
    pixels = cv2.resize(np.asarray(picture.convert("RGB")), size, interpolation=cv2.INTER_AREA)
    return png_at(np.asarray(pixels, np.uint8), INCH / float(picture.info["dpi"][0]) / share)


def png_at(pixels: Pixels, px_mm: float) -> bytes:
    """Pixels (rows, columns, 3) as PNG that says its true size: px_mm is the side of a pixel."""
    out = BytesIO()
    Image.fromarray(pixels).save(out, "PNG", dpi=(INCH / px_mm, INCH / px_mm))
    return out.getvalue()
