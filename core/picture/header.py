"""What a file says of itself before a pixel is decoded: its kind, its size, which way is up."""

import io
import struct
from dataclasses import dataclass
from typing import Protocol

from PIL import (
    Image,
    TiffImagePlugin,  # noqa: F401 - importing it makes Pillow know the kind
    WebPImagePlugin,  # noqa: F401 - likewise
)

#: Pillow's names of the kinds we read. A telephone's JPEG with several pictures is opened as "MPO".
KINDS = ("PNG", "JPEG", "WEBP", "TIFF", "BMP", "GIF")

#: Exif 2.3, tag Orientation; TIFF 6.0 gives it the same number.
ORIENTATION_TAG = 0x0112
UPRIGHT = 1

#: TIFF 6.0, tag BitsPerSample.
_BITS_TAG = 0x0102
#: PNG: where the header chunk keeps bits a sample and colour type; type 0 is plain grey.
_PNG_BITS, _PNG_COLOUR, _PNG_GREY = 24, 25, 0

#: Brands of HEIC and plain HEIF after "ftyp" (ISO/IEC 23008-12, annex B).
_HEIF_BRANDS = frozenset(b"heic heix hevc hevx heim heis mif1 msf1".split())


class Undecoded(Protocol):
    """A HEIC file of pi_heif, which decodes only when it is made a Pillow picture."""

    size: tuple[int, int]

    def to_pillow(self) -> Image.Image:
        """Decode it."""
        ...


@dataclass(frozen=True)
class Source:
    """A file whose header was read: size in px as stored, orientation as Exif counts it (1 to 8).

    ``is_deep`` tells that it holds 16 bits a sample in a way that Pillow would halve.
    """

    data: bytes
    image: Image.Image | Undecoded
    kind: str
    size: tuple[int, int]
    orientation: int
    is_deep: bool


def opened(data: bytes) -> Source:
    """Read the header; whatever the decoders raise goes through."""
    if data[4:8] == b"ftyp" and data[8:12] in _HEIF_BRANDS:
        return _opened_heif(data)
    image = Image.open(io.BytesIO(data), formats=KINDS)
    kind = image.format or ""
    return Source(data, image, kind, image.size, _orientation(image), _is_deep(image, data))


def _opened_heif(data: bytes) -> Source:
    import pi_heif  # type: ignore[import-untyped]  # noqa: PLC0415 - slow to import, needed only here

    heif: Undecoded = pi_heif.open_heif(io.BytesIO(data))
    return Source(data, heif, "HEIC", heif.size, UPRIGHT, is_deep=False)  # its decoder turns it upright


def _orientation(image: Image.Image) -> int:
    """Read the Exif orientation; a damaged tag is no reason to refuse good pixels."""
    try:
        value = image.getexif().get(ORIENTATION_TAG, UPRIGHT)
    except (OSError, SyntaxError, ValueError, KeyError, TypeError, struct.error):
        return UPRIGHT
    return value if value in range(1, 9) else UPRIGHT


def _is_deep(image: Image.Image, data: bytes) -> bool:
    if image.mode.startswith(("I", "F")):
        return False
    if image.format == "PNG":
        return data[_PNG_BITS] == 16 and data[_PNG_COLOUR] != _PNG_GREY
    bits = getattr(image, "tag_v2", {}).get(_BITS_TAG, ())
    return image.format == "TIFF" and 16 in (bits if isinstance(bits, tuple) else (bits,))
