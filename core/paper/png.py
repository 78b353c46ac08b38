"""Our own SVG pictures as PNG, by one renderer and one face, so that pictures are equal everywhere."""

from core.outline.loop import Bounds
from core.paper.lettering import BOLD, REGULAR, font_file
from core.paper.recorder import Recording
from core.paper.svg import svg_of

#: mm of an inch; the renderer counts dots per inch.
INCH = 25.4


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
