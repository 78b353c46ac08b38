"""A drawing as DXF, of the year-2000 form and of the old polyline form; both say arcs exactly, as bulges.

The old form (AC1009) has no field for the unit: its numbers are mm, and the file cannot say so.
"""

import io
import re
from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from core.drawing.drawing import Circle, Drawing, LayerOf, Line, Shape
from core.errors import BadValue
from core.outline.loop import Loop

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

#: Header variable $INSUNITS (DXF Reference, HEADER section): 4 is millimetres.
MILLIMETRES = 4

#: Digits after the point: 1e-10 mm lost, and no noise of the last bit in the file.
DECIMALS = 10

#: Characters that a layer's name may have in the old form (DXF Reference, from memory).
LONGEST_OLD_NAME = 31

#: A real number that the library wrote with an exponent, alone on its line.
_EXPONENT = re.compile(r"^-?\d+(?:\.\d+)?[eE][-+]?\d+$", re.MULTILINE)

PutLoop = Callable[["Modelspace", Loop, str], None]


def write_dxf(drawing: Drawing) -> bytes:
    """AC1015 (2000): LWPOLYLINE with bulges, CIRCLE, LINE, one layer each, $INSUNITS 4."""
    document = _document("R2000")
    document.units = MILLIMETRES
    document.header["$MEASUREMENT"] = 1
    return _written(document, drawing, _put_light_polyline)


def write_dxf_r12(drawing: Drawing) -> bytes:
    """AC1009 (R12): POLYLINE with VERTEX and bulges. BadValue when a layer's name is longer than allowed."""
    for layer in drawing.layers:
        if len(layer_name(layer)) > LONGEST_OLD_NAME:
            raise BadValue(f"The name {layer.name!r} is too long for the old DXF form; take a shorter one.")
    return _written(_document("R12"), drawing, _put_old_polyline)


def layer_name(layer: LayerOf) -> str:
    """The DXF layer of a role and name: upper case, underscores."""
    words = f"{layer.layer.value}-{layer.name}" if layer.name else layer.layer.value
    return words.upper().replace("-", "_")


def _document(version: str) -> "Document":
    from ezdxf._options import options  # noqa: PLC0415 - slow to import, needed only here
    from ezdxf.document import Drawing as NewDocument  # noqa: PLC0415 - the same

    # The library's only switch for fixed dates, fixed ids and no version stamp: equal bytes every run.
    options.write_fixed_meta_data_for_testing = True
    return NewDocument.new(version)


def _written(document: "Document", drawing: Drawing, put_loop: PutLoop) -> bytes:
    space = document.modelspace()
    _set_box(document, drawing)
    for layer in drawing.layers:
        name = layer_name(layer)
        if not document.layers.has_entry(name):
            document.layers.add(name, color=nearest_index(layer.colour))
        for shape in layer.shapes:
            _put(space, shape, name, put_loop)
    stream = io.StringIO()
    document.write(stream)
    return _EXPONENT.sub(_without_exponent, stream.getvalue()).encode("cp1252", "strict")


def _without_exponent(match: re.Match[str]) -> str:
    return f"{float(match.group()):.{DECIMALS}f}"


def _set_box(document: "Document", drawing: Drawing) -> None:
    x_min, y_min, x_max, y_max = drawing.box
    document.header["$EXTMIN"] = (x_min, y_min, 0.0)
    document.header["$EXTMAX"] = (x_max, y_max, 0.0)
    document.modelspace().reset_extents((x_min, y_min, 0.0), (x_max, y_max, 0.0))


def _put(space: "Modelspace", shape: Shape, layer: str, put_loop: PutLoop) -> None:
    if isinstance(shape, Line):
        space.add_line(_near(shape.start), _near(shape.end), dxfattribs={"layer": layer})
    elif isinstance(shape, Circle):
        space.add_circle(_near(shape.centre), shape.diameter_mm / 2.0, dxfattribs={"layer": layer})
    else:
        put_loop(space, shape, layer)


def _put_light_polyline(space: "Modelspace", loop: Loop, layer: str) -> None:
    space.add_lwpolyline(_rows(loop), format="xyb", close=True, dxfattribs={"layer": layer})


def _put_old_polyline(space: "Modelspace", loop: Loop, layer: str) -> None:
    space.add_polyline2d(_rows(loop), format="xyb", close=True, dxfattribs={"layer": layer})


def _rows(loop: Loop) -> list[tuple[float, float, float]]:
    rows = np.column_stack((loop.points, loop.bulges)).round(DECIMALS) + 0.0  # + 0.0 turns -0 into 0
    return [(x, y, bulge) for x, y, bulge in rows.tolist()]


def _near(point: tuple[float, float]) -> tuple[float, float]:
    x, y = (round(value, DECIMALS) + 0.0 for value in point)
    return x, y


def nearest_index(colour: str) -> int:
    """The colour index 1 to 255 (the library's default table) nearest to an sRGB "#rrggbb"."""
    from ezdxf.colors import DXF_DEFAULT_COLORS, int2rgb  # noqa: PLC0415 - slow to import, needed only here

    wanted = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)])
    table = np.array([int2rgb(value) for value in DXF_DEFAULT_COLORS[1:256]])
    return int(np.argmin(((table - wanted) ** 2).sum(axis=1))) + 1
