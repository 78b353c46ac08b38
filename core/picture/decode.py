"""From the stored samples to numbers in 0..1: depth, palettes, grey, ink and transparency undone."""

from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
import numpy.typing as npt
from PIL import Image

from core.picture.header import UPRIGHT, Source
from core.picture.picture import Pixels
from core.picture.reduce import in_blocks

#: Pillow's modes that carry a transparency of their own; "a" in small is colour already multiplied by it.
_MODES_WITH_ALPHA = frozenset(("LA", "La", "PA", "RGBA", "RGBa"))
_BYTE, _WORD = 255, 65535
#: Sides of blocks that a JPEG's decoder takes the means of by itself (libjpeg: scaled inverse transforms).
_DRAFTS = (2, 4)

Samples = npt.NDArray[Any]


@dataclass(frozen=True)
class Raster:
    """Upright colour (h, w, 3) float32 in 0..1, not yet laid over anything; alpha (h, w) or None."""

    colour: Pixels
    alpha: Pixels | None


def decoded(source: Source, side: int = 1) -> Raster:
    """Decode every pixel, or the means of blocks of them; whatever the decoders raise goes through.

    side: pixels on the side of a block. Transparent pictures are decoded whole: means of colours that are
    not seen say nothing.
    """
    if not isinstance(source.image, Image.Image):
        return _of_image(source.image.to_pillow(), UPRIGHT, side)
    side = _drafted(source.image, side)
    source.image.load()  # complains about a file that was cut short, which OpenCV would not
    deep = _deep_samples(source)
    if deep is not None:
        return _of_samples(deep, source.orientation, side)
    # Pillow turns a TIFF upright by itself.
    return _of_image(source.image, UPRIGHT if source.kind == "TIFF" else source.orientation, side)


def _drafted(image: Image.Image, side: int) -> int:
    """Let a JPEG's decoder make the means, which saves most of its work; the side that is left to do."""
    width, height = image.size
    if image.format != "JPEG" or side not in _DRAFTS or width % side or height % side:
        return side
    image.draft(None, (width // side, height // side))  # None keeps the mode
    return 1 if image.size == (width // side, height // side) else side


def turned(samples: Samples, orientation: int) -> Samples:
    """Show (h, w, ...) upright by its Exif orientation (Exif 2.3: what row 0 and column 0 stand for)."""
    if orientation >= 5:  # rows are stored as columns
        samples = np.swapaxes(samples, 0, 1)
    if orientation in (2, 3, 6, 7):
        samples = samples[:, ::-1]
    return samples[::-1] if orientation in (3, 4, 7, 8) else samples


def _deep_samples(source: Source) -> Samples | None:
    """Return 16-bit samples (h, w, 1, 3 or 4) in R, G, B, A order, or None where Pillow does as well."""
    if not source.is_deep:
        return None
    samples = cv2.imdecode(np.frombuffer(source.data, np.uint8), cv2.IMREAD_UNCHANGED)
    if samples is None or samples.dtype != np.uint16:
        return None
    if samples.ndim == 2:
        return samples[..., np.newaxis]
    return samples[..., [2, 1, 0, 3][: samples.shape[2]]]


def _of_image(image: Image.Image, orientation: int, side: int) -> Raster:
    if image.mode.startswith(("I", "F")):
        return _of_numbers(image, orientation, side)
    if image.mode in _MODES_WITH_ALPHA or "transparency" in image.info:
        return _of_samples(np.asarray(image.convert("RGBA")), orientation, side)
    if image.mode in ("1", "L"):
        return _of_samples(np.asarray(image.convert("L"))[..., np.newaxis], orientation, side)
    return _of_samples(np.asarray(image.convert("RGB")), orientation, side)


def _of_numbers(image: Image.Image, orientation: int, side: int) -> Raster:
    """Read one number a pixel: 16 bits as they are, anything wider by the range that it uses."""
    numbers = np.nan_to_num(np.asarray(image).astype(np.float64))
    low, high = _range_of(numbers, image.mode)
    grey = ((numbers - low) / (high - low)).astype(np.float32)
    key = image.info.get("transparency")
    alpha = None if key is None else turned((numbers != key).astype(np.float32), orientation)
    grey = in_blocks(turned(grey, orientation), 1 if key is not None else side)
    return Raster(np.repeat(grey[..., np.newaxis], 3, axis=2), alpha)


def _range_of(numbers: Samples, mode: str) -> tuple[float, float]:
    low, high = float(numbers.min()), float(numbers.max())
    if mode.startswith("I;16") or (mode == "I" and low >= 0 and high <= _WORD):
        return 0.0, float(_WORD)
    if low >= 0.0 and high <= 1.0:
        return 0.0, 1.0
    return low, max(high, np.nextafter(low, np.inf))


def _of_samples(samples: Samples, orientation: int, side: int) -> Raster:
    """Samples (h, w, 1, 3 or 4) of 8 or 16 bits, as stored, as a Raster."""
    top = _WORD if samples.dtype == np.uint16 else _BYTE
    samples = turned(samples, orientation)
    if samples.shape[2] == 4 and not (samples[..., 3] != top).any():
        samples = samples[..., :3]
    if samples.shape[2] != 4:
        samples = in_blocks(samples, side)
    unit = np.divide(samples, np.float32(top), dtype=np.float32)
    colour = np.repeat(unit, 3, axis=2) if unit.shape[2] == 1 else unit[..., :3]
    return Raster(colour, unit[..., 3] if unit.shape[2] == 4 else None)
