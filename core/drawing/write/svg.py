"""A drawing as SVG: one user unit is 1 mm, arcs stay arcs, the only flip of y stands here.

Names follow SVG 2: `A rx ry rotation large sweep x y`, where sweep 1 turns clockwise on the screen.
"""

from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from core.drawing.drawing import Circle, Drawing, Layer, LayerOf, Line, Shape
from core.outline.loop import Loop
from core.outline.segments import Segments

#: Digits after the point: 0.00000005 mm of rounding, a twentieth of the 1e-6 mm a round trip may lose.
DECIMALS = 7

#: rad; a reader finds the centre from the radius, which is ill-conditioned near a half turn (a radius
#: rounded by 1e-7 mm then moves the belly by 0.002 mm); up to a third of a turn by no more than 1e-7 mm.
LONGEST_SWEEP = 2.0 * np.pi / 3.0

#: Slack of that limit, so that a third of a turn is not split for its last bit; no unit.
SWEEP_SLACK = 1e-9

#: mm; an arc with less belly is written as a line, so that no radius grows without bound.
FLATTEST_ARC = 5e-7

#: mm; drawn thin enough to be no cut of its own and still be seen.
HAIRLINE = 0.1

#: mm; programs that count strokes as size must still read the sheet box in whole mm, to two decimals.
BOX_LINE = 0.004


def write_svg(drawing: Drawing, unit_mm: float = 1.0) -> bytes:
    """The file as UTF-8; the point (x, y) of the frame is (x, -y) / unit_mm, width and height are in mm.

    unit_mm is another than 1 for programs that take a bare number for so many to an inch, whatever the file
    states; those that read what it states find the same size.
    """
    return "\n".join([*_head(drawing, unit_mm), *_body(drawing, unit_mm), "</svg>", ""]).encode()


def _head(drawing: Drawing, unit_mm: float) -> Iterator[str]:
    x_min, y_min, x_max, y_max = drawing.box
    left, top, wide, tall = (number(one / unit_mm) for one in (x_min, -y_max, x_max - x_min, y_max - y_min))
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(x_max - x_min)}mm"'
        f' height="{number(y_max - y_min)}mm" viewBox="{left} {top} {wide} {tall}">'
    )
    yield f"<title>{escape(drawing.title)}</title>"


def _body(drawing: Drawing, unit_mm: float) -> Iterator[str]:
    for layer in drawing.layers:
        width = BOX_LINE if layer.layer is Layer.WEEDING else HAIRLINE
        yield (
            f'<g id={quoteattr(group_id(layer))} fill="none" stroke={quoteattr(layer.colour)}'
            f' stroke-width="{number(width / unit_mm)}">'
        )
        yield from (f'<path d="{_path(_in_units(shape, unit_mm))}"/>' for shape in layer.shapes)
        yield "</g>"


def group_id(layer: LayerOf) -> str:
    """The id of a layer's group: its role, then its name where it has one."""
    return f"{layer.layer.value}-{layer.name}" if layer.name else layer.layer.value


def _in_units(shape: Shape, unit_mm: float) -> Shape:
    """The shape in user units, y up."""
    if unit_mm == 1.0:
        return shape
    match shape:
        case Loop():
            return shape.scaled(1.0 / unit_mm)
        case Circle((x, y), diameter):
            return Circle((x / unit_mm, y / unit_mm), diameter / unit_mm)
        case Line((x, y), (to_x, to_y)):
            return Line((x / unit_mm, y / unit_mm), (to_x / unit_mm, to_y / unit_mm))


def _path(shape: Shape) -> str:
    if isinstance(shape, Line):
        return f"M{_point(*shape.start)} L{_point(*shape.end)}"
    if isinstance(shape, Circle):
        return _closed(Loop.circle(shape.centre, shape.diameter_mm / 2.0))
    return _closed(shape)


def _closed(loop: Loop) -> str:
    segments = short_arcs(without_flat_arcs(loop.segments()))
    start = _point(*segments.starts[0])
    return " ".join([f"M{start}", *_steps(segments, start), "Z"])


def _steps(segments: Segments, at: str) -> Iterator[str]:
    rows = zip(segments.ends.tolist(), segments.bulges.tolist(), segments.radii().tolist(), strict=True)
    last = len(segments) - 1
    for i, ((x, y), bulge, radius) in enumerate(rows):
        end = _point(x, y)
        if end == at or (bulge == 0.0 and i == last):  # Z draws the last line by itself
            continue
        at = end
        yield f"A{number(radius)} {number(radius)} 0 0 {int(bulge < 0.0)} {end}" if bulge else f"L{end}"


def without_flat_arcs(segments: Segments) -> Segments:
    """The same, with a line in place of every arc whose belly is below FLATTEST_ARC."""
    bellies = np.abs(segments.bulges) * segments.chord_lengths() / 2.0
    return Segments(segments.starts, segments.ends, np.where(bellies < FLATTEST_ARC, 0.0, segments.bulges))


def short_arcs(segments: Segments) -> Segments:
    """The same line, every arc longer than LONGEST_SWEEP cut into equal ones that are not."""
    half = np.abs(segments.half_sweeps())
    counts = np.maximum(np.ceil(2.0 * half / LONGEST_SWEEP - SWEEP_SLACK), 1.0).astype(np.int64)
    rows = np.repeat(np.arange(len(segments)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    whole = Segments(segments.starts[rows], segments.ends[rows], segments.bulges[rows])
    bulges = np.where(counts[rows] == 1, whole.bulges, np.tan(whole.half_sweeps() / 2.0 / counts[rows]))
    starts = whole.points_at(within / counts[rows])
    return Segments(starts, np.roll(starts, -1, axis=0), bulges)


def _point(x: float, y: float) -> str:
    return f"{number(x)} {number(-y)}"


def number(value: float) -> str:
    """A decimal number without exponent, without needless zeros, and never -0."""
    text = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
