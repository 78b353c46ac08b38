"""Our own SVG pictures as PNG, by one renderer and one face, so that pictures are equal everywhere."""

import struct
import zlib

from core.outline.loop import Bounds
from core.paper.lettering import BOLD, REGULAR, font_file
from core.paper.recorder import Recording
from core.paper.svg import svg_of

#: mm of an inch; the renderer counts dots per inch.
INCH = 25.4

#: Bytes of a PNG's signature and its first chunk, IHDR, after which others may come.
HEAD_ENDS = 8 + 4 + 4 + 13 + 4


def png_of(recording: Recording, box: Bounds, long_side_px: int) -> bytes:
    """The box (mm) of a recording as PNG, long_side_px along its longer side."""
    x_min, y_min, x_max, y_max = box
    return rendered(svg_of(recording, box), long_side_px / max(x_max - x_min, y_max - y_min) * INCH)


def rendered(svg: bytes, dots_per_inch: float) -> bytes:
    """PNG of an SVG that states its size in mm."""
    from resvg_py import svg_to_bytes  # noqa: PLC0415 - slow to import, needed only here

    return bytes(
        svg_to_bytes(
            svg_string=svg.decode(),
            dpi=dots_per_inch,
            skip_system_fonts=True,
            font_files=[str(font_file(name)) for name in (REGULAR, BOLD)],
        )
    )


def with_true_size(png: bytes, px_mm: float) -> bytes:
    """The same PNG, saying how large a pixel is (pHYs; PNG, third edition, 11.3.4.3), for print."""
    per_metre = round(1000.0 / px_mm)
    said = b"pHYs" + struct.pack(">IIB", per_metre, per_metre, 1)
    chunk = struct.pack(">I", len(said) - 4) + said + struct.pack(">I", zlib.crc32(said))
    return png[:HEAD_ENDS] + chunk + png[HEAD_ENDS:]
