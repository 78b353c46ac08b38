"""What pictures come as, row by row of the accuracy asked for, each as a file or as pixels of a drawn shape.

A row is one defect; its limits hold for the median over shapes of 300 to 600 px, three times as much for a
single picture. Photographs at a slant (tests/support/slanted.py) belong into SLANT's place.
"""

import io
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from PIL import Image

from core.cancel import NEVER
from core.outline.outline import Outline
from core.outline.segments import Floats
from core.picture.colours import Colours, ColourWish, find_colours
from core.picture.picture import Picture
from core.picture.read import read_picture
from core.picture.square import SquareWish, squared
from core.trace.trace import trace
from tests.support import drawn as d


@dataclass(frozen=True)
class Limits:
    """px; greatest is off corners; pieces over the true number; degrees: wobble; bias px, area a share."""

    rms: float
    greatest_off_corners: float
    corner: float
    pieces: float
    wobble: float
    bias: float = 0.005
    area: float = 2e-4


CLEAN = Limits(0.01, 0.12, 0.06, 1.1, 0.15)
SOFT = Limits(0.015, 0.12, 0.10, 1.15, 0.15)
SLANT = Limits(0.035, 0.2, 0.15, 1.3, 0.25)
GRAINY = Limits(0.04, 0.3, 0.2, 1.4, 0.25)
CRUSHED = Limits(0.06, 0.4, 0.4, 1.6, 0.4)
HARD = Limits(0.17, 0.65, 0.5, 1.4, 0.7, bias=0.01, area=5e-4)

Save = Callable[[d.Shape], bytes]


@dataclass(frozen=True)
class Row:
    """Limits, and how a shape becomes a picture with its colours, and that an Outline."""

    limits: Limits
    seen: Callable[[d.Shape], tuple[Picture, Colours]]

    def traced(self, shape: d.Shape) -> Outline:
        return trace(*self.seen(shape), NEVER)


def spoilt(limits: Limits, spoil: d.Defect, palette: Floats = d.BLACK_ON_WHITE) -> Row:
    """Pixels with a defect, the colours known."""

    def seen(shape: d.Shape) -> tuple[Picture, Colours]:
        pixels = spoil(d.drawn(shape, palette))
        known = d.labelled(shape, pixels, palette) if len(palette) > 2 else d.colours_of(pixels, palette)
        return d.picture_of(pixels), known

    return Row(limits, seen)


def saved(limits: Limits, save: Save) -> Row:
    """A file, read as any other: decoded, its light evened, its colours found."""

    def seen(shape: d.Shape) -> tuple[Picture, Colours]:
        picture = squared(read_picture(save(shape), "drawn.png"), SquareWish()).picture
        return picture, find_colours(picture, ColourWish())

    return Row(limits, seen)


def _png(image: Image.Image) -> bytes:
    out = io.BytesIO()
    image.save(out, "PNG")
    return out.getvalue()


def _bytes(pixels: Floats) -> np.ndarray:
    return np.rint(np.clip(pixels, 0.0, 1.0) * 255.0).astype(np.uint8)


def transparent(shape: d.Shape) -> bytes:
    """The colour whole everywhere, what it covers in the alpha channel alone."""
    share = sum(d.coverage(patch.rings, shape.width, shape.height) for patch in shape.patches)
    colour = np.broadcast_to(d.BLACK_ON_WHITE[1], (*share.shape, 3))
    return _png(Image.fromarray(_bytes(np.dstack((colour, share))), "RGBA"))


def with_palette(shape: d.Shape) -> bytes:
    """Every grey of the picture an entry of its palette."""
    grey = _bytes(d.drawn(shape, d.BLACK_ON_WHITE))[..., 0]
    levels, index = np.unique(grey, return_inverse=True)
    image = Image.fromarray(index.reshape(grey.shape).astype(np.uint8), "P")
    image.putpalette(np.repeat(levels, 3).tobytes())
    return _png(image)


def sixteen_bit(shape: d.Shape) -> bytes:
    """Grey in 16 bits."""
    grey = d.drawn(shape, d.BLACK_ON_WHITE)[..., 0]
    return _png(Image.fromarray(np.rint(grey * 65535.0).astype(np.uint16)))


def framed(shape: d.Shape) -> bytes:
    """A dark line round the picture, a little inside its border, as a scan's or a drawing's frame."""
    pixels = d.drawn(shape, d.BLACK_ON_WHITE)
    side = max(shape.height // 60, 2)
    line = max(shape.height // 150, 2)
    inner = pixels[side + line : -side - line, side + line : -side - line].copy()
    pixels[side:-side, side:-side] = d.BLACK_ON_WHITE[1]
    pixels[side + line : -side - line, side + line : -side - line] = inner
    return _png(Image.fromarray(_bytes(pixels)))


def dusty(shape: d.Shape) -> bytes:
    """Forty specks of about a pixel, dark on the ground, bright on the shape, none at an edge."""
    rng = np.random.default_rng(5)
    pixels = d.drawn(shape, d.BLACK_ON_WHITE)
    share = np.abs(pixels[..., 0] - 0.55)
    clear = share > share.max() - 0.15
    for _ in range(6):  # six px off any edge
        clear[1:-1, 1:-1] &= clear[:-2, 1:-1] & clear[2:, 1:-1] & clear[1:-1, :-2] & clear[1:-1, 2:]
    where = rng.choice(np.argwhere(clear[8:-8, 8:-8]) + 8, 40)
    for row, column in where:
        pixels[row, column] = 1.0 - pixels[row, column]
        pixels[row, column + 1] += 0.5 * (0.5 - pixels[row, column + 1])
    return _png(Image.fromarray(_bytes(pixels)))


def uneven(shape: d.Shape) -> bytes:
    """Light that falls off by two fifths from left to right."""
    light = np.linspace(1.0, 0.6, shape.width)[None, :, None]
    return _png(Image.fromarray(_bytes(d.drawn(shape, d.BLACK_ON_WHITE) * light)))


def on_grainy_paper(shape: d.Shape) -> bytes:
    """Paper and ink mottled alike, in grains of about two px, by 6 grey levels."""
    import cv2  # noqa: PLC0415 - only this one needs it

    pixels = d.drawn(shape, d.BLACK_ON_WHITE)
    grain = cv2.GaussianBlur(np.random.default_rng(11).normal(size=pixels.shape[:2]), (0, 0), 1.0)
    return _png(
        Image.fromarray(_bytes(pixels * 0.92 + 0.04 + 6.0 / 255.0 * (grain / grain.std())[..., None]))
    )


ROWS: dict[str, Row] = {
    "clean": spoilt(CLEAN, d.eight_bit),
    "transparent": saved(CLEAN, transparent),
    "palette": saved(CLEAN, with_palette),
    "16-bit": saved(CLEAN, sixteen_bit),
    "framed": saved(CLEAN, framed),
    "dusty": saved(CLEAN, dusty),
    "jpeg 90": spoilt(CLEAN, d.jpeg(90)),
    "blur 0.5": spoilt(SOFT, d.blurred(0.5)),
    "blur 1": spoilt(SOFT, d.blurred(1.0)),
    "blur 1.5": spoilt(SOFT, d.blurred(1.5)),
    "noise 5": spoilt(SOFT, d.noisy(5)),
    "uneven light": saved(SOFT, uneven),
    "low contrast": spoilt(SOFT, d.eight_bit, d.GREY_ON_GREY),
    "jpeg 60": spoilt(SLANT, d.jpeg(60)),
    "noise 12": spoilt(GRAINY, d.noisy(12)),
    "paper grain": saved(GRAINY, on_grainy_paper),
    "jpeg 30": spoilt(CRUSHED, d.jpeg(30)),
    "1-bit": spoilt(HARD, d.hardened(d.BLACK_ON_WHITE)),
}

#: The same for shapes of four flat colours.
OF_FOUR: dict[str, Row] = {
    "four, clean": spoilt(SOFT, d.eight_bit, d.FOUR),
    "four, blur 1": spoilt(SOFT, d.blurred(1.0), d.FOUR),
    "four, noise 5": spoilt(SOFT, d.noisy(5), d.FOUR),
    "four, jpeg 60": spoilt(SLANT, d.jpeg(60), d.FOUR),
    "four, jpeg 30": spoilt(CRUSHED, d.jpeg(30), d.FOUR),
}
