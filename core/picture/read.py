"""From the bytes of a picture file to a Picture, or one sentence that says why not."""

import contextlib
import hashlib
import logging
import os
import warnings
from collections.abc import Iterator

from PIL import Image, UnidentifiedImageError

from core.errors import UnreadableFile
from core.picture.decode import Raster, decoded
from core.picture.header import UPRIGHT, Source, opened
from core.picture.matte import laid_over, matte_for
from core.picture.picture import Picture
from core.picture.reduce import in_blocks, reduction

#: 12 bytes a pixel as three float32: 0.77 GB, which a small computer still has; telephones give 12 to 50 Mpx.
MOST_PIXELS = 64_000_000
#: px; beyond it a picture is a strip, no shape.
LONGEST_SIDE = 20_000
#: px; below it no shape has an inside and a margin; the smallest icons have 15.
SHORTEST_SIDE = 8

_STANDARD_ERROR = 2
_KINDS_IN_WORDS = "PNG, JPEG, WebP, TIFF, BMP, GIF and HEIC"


def read_picture(data: bytes, name: str, *, every_pixel: bool = False) -> Picture:
    """Decode the bytes of the file called name; UnreadableFile, one sentence, for whatever is wrong.

    Large pictures are reduced (reduce.py), unless every pixel is asked for.
    """
    if not data:
        raise UnreadableFile(f"{name} is empty: choose a picture with something in it.")
    with _quiet_decoders(data):
        source = _source(data, name)
        _refuse_size(source.size, name)
        side = 1 if every_pixel else reduction(source.size)
        raster = _raster(source, name, side)
    matte = None if raster.alpha is None else matte_for(raster)
    pixels = raster.colour if matte is None else in_blocks(laid_over(raster, matte), side)
    alpha = None if raster.alpha is None else in_blocks(raster.alpha, side)
    pixels.setflags(write=False)  # handed over: nobody else holds them, so they need no copy
    digest = hashlib.sha256(data).hexdigest()
    return Picture(pixels, alpha, matte, name, source.kind, digest, _notes(source, raster), side)


def _source(data: bytes, name: str) -> Source:
    try:
        return opened(data)
    except Image.DecompressionBombError as wrong:
        raise UnreadableFile(_too_large(name)) from wrong
    except UnidentifiedImageError as wrong:
        raise UnreadableFile(
            f"{name} is not a picture that can be read: {_KINDS_IN_WORDS} are, so save it as one of them."
        ) from wrong
    except Exception as wrong:  # damaged bytes make the decoders raise nearly anything
        raise UnreadableFile(_damaged(name)) from wrong


def _raster(source: Source, name: str, side: int) -> Raster:
    try:
        raster = decoded(source, side)
    except (Image.DecompressionBombError, MemoryError) as wrong:
        raise UnreadableFile(_too_large(name)) from wrong
    except Exception as wrong:  # damaged bytes make the decoders raise nearly anything
        raise UnreadableFile(_damaged(name)) from wrong
    if raster.alpha is not None and not raster.alpha.any():
        raise UnreadableFile(f"{name} is transparent all over: there is no shape in it.")
    return raster


def _refuse_size(size: tuple[int, int], name: str) -> None:
    width, height = size
    if max(size) > LONGEST_SIDE or width * height > MOST_PIXELS:
        raise UnreadableFile(_too_large(name, f" with {width} by {height} px"))
    if min(size) < SHORTEST_SIDE:
        raise UnreadableFile(
            f"{name} is too small to hold a shape with {width} by {height} px: "
            f"at least {SHORTEST_SIDE} px a side are needed."
        )


def _too_large(name: str, size: str = "") -> str:
    return (
        f"{name} is too large{size}: make it at most {MOST_PIXELS // 1_000_000} megapixels "
        f"and {LONGEST_SIDE} px a side."
    )


def _damaged(name: str) -> str:
    return f"{name} is damaged or cut short: fetch or save it again."


def _notes(source: Source, raster: Raster) -> tuple[str, ...]:
    turned = source.orientation != UPRIGHT
    said = {
        "turned upright as its orientation tag says": turned,
        "transparent places are taken as ground": raster.alpha is not None,
    }
    return tuple(note for note, holds in said.items() if holds)


@contextlib.contextmanager
def _quiet_decoders(data: bytes) -> Iterator[None]:
    """Keep from the maker what decoders warn of and log, and what libtiff writes on standard error."""
    silence = _without_standard_error() if data[:2] in (b"II", b"MM") else contextlib.nullcontext()
    logged = logging.root.manager.disable
    with warnings.catch_warnings(), silence:
        warnings.simplefilter("ignore")
        logging.disable(logging.CRITICAL)
        try:
            yield
        finally:
            logging.disable(logged)


@contextlib.contextmanager
def _without_standard_error() -> Iterator[None]:
    kept = _standard_error_kept()
    if kept is None:
        yield
        return
    try:
        with open(os.devnull, "wb") as nowhere:  # noqa: PTH123 - its descriptor is wanted
            os.dup2(nowhere.fileno(), _STANDARD_ERROR)
        yield
    finally:
        os.dup2(kept, _STANDARD_ERROR)
        os.close(kept)


def _standard_error_kept() -> int | None:
    """Return a second descriptor of standard error, or None where the program has none."""
    try:
        return os.dup(_STANDARD_ERROR)
    except OSError:
        return None
