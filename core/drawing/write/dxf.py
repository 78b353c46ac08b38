"""A drawing as DXF, of the year-2000 form and of the old polyline form; both say arcs exactly, as bulges.

The old form (AC1009) has no field for the unit: its numbers are mm, and the file cannot say so.
"""

from collections.abc import Callable, Iterator

import numpy as np

from core.drawing.drawing import Circle, Drawing, LayerOf, Line, Shape
from core.drawing.write.dxf_colours import nearest_index
from core.drawing.write.dxf_frame import blocks, classes, objects, owners, tables
from core.drawing.write.dxf_tags import Handles, Tag, dxf_bytes, point, section
from core.errors import BadValue
from core.outline.loop import Loop

#: Header variable $INSUNITS (DXF Reference, HEADER section): 4 is millimetres.
MILLIMETRES = 4

#: Characters that a layer's name may have in the old form (DXF Reference, from memory).
LONGEST_OLD_NAME = 31

#: Bit of code 70 of a polyline: it is closed.
CLOSED = 1

#: The layer, then what stands between it and the shape's own groups, by the entity's class in this form.
Head = Callable[[str, str], tuple[Tag, ...]]


def write_dxf(drawing: Drawing) -> bytes:
    """AC1015 (2000): LWPOLYLINE with bulges, CIRCLE, LINE, one layer each, $INSUNITS 4."""
    handles = Handles()
    own = owners(handles)
    body = [
        *classes(),
        *tables(handles, own, _layers(drawing), drawing.box),
        *blocks(handles, own),
        *section("ENTITIES", _entities(drawing, _owned(handles, own.model), _light_polyline)),
        *objects(handles, own),
    ]
    units: tuple[Tag, ...] = ((9, "$INSUNITS"), (70, MILLIMETRES), (9, "$MEASUREMENT"), (70, 1))
    head = _header("AC1015", drawing, (*units, (9, "$HANDSEED"), (5, handles.new())))
    return dxf_bytes([*head, *body, (0, "EOF")])


def write_dxf_r12(drawing: Drawing) -> bytes:
    """AC1009 (R12): POLYLINE with VERTEX and bulges. BadValue when a layer's name is longer than allowed."""
    for layer in drawing.layers:
        if len(layer_name(layer)) > LONGEST_OLD_NAME:
            raise BadValue(f"The name {layer.name!r} is too long for the old DXF form; take a shorter one.")
    return dxf_bytes(
        [
            *_header("AC1009", drawing, ()),
            *section("TABLES", _old_tables(_layers(drawing))),
            *section("ENTITIES", _entities(drawing, _plain, _old_polyline)),
            (0, "EOF"),
        ]
    )


def layer_name(layer: LayerOf) -> str:
    """The DXF layer of a role and name: upper case, underscores."""
    words = f"{layer.layer.value}-{layer.name}" if layer.name else layer.layer.value
    return words.upper().replace("-", "_")


def _layers(drawing: Drawing) -> list[tuple[str, int]]:
    """Each layer once, with its colour's number."""
    found: dict[str, int] = {}
    for layer in drawing.layers:
        found.setdefault(layer_name(layer), nearest_index(layer.colour))
    return list(found.items())


def _header(version: str, drawing: Drawing, more: tuple[Tag, ...]) -> Iterator[Tag]:
    x_min, y_min, x_max, y_max = drawing.box
    said = ((9, "$ACADVER"), (1, version), (9, "$DWGCODEPAGE"), (3, "ANSI_1252"))
    box = ((9, "$EXTMIN"), *point(x_min, y_min), (9, "$EXTMAX"), *point(x_max, y_max))
    return section("HEADER", (*said, *box, *more))


def _old_tables(layers: list[tuple[str, int]]) -> Iterator[Tag]:
    yield from ((0, "TABLE"), (2, "LTYPE"), (70, 1))
    yield from ((0, "LTYPE"), (2, "CONTINUOUS"), (70, 0), (3, "Solid line"), (72, 65), (73, 0), (40, 0.0))
    yield from ((0, "ENDTAB"), (0, "TABLE"), (2, "LAYER"), (70, len(layers) + 1))
    for name, colour in (("0", 7), *layers):
        yield from ((0, "LAYER"), (2, name), (70, 0), (62, colour), (6, "CONTINUOUS"))
    yield (0, "ENDTAB")


def _plain(layer: str, _kind: str) -> tuple[Tag, ...]:
    """The old form says the layer alone."""
    return ((8, layer),)


def _owned(handles: Handles, owner: str) -> Head:
    """The newer form says handle, owner and class of every entity."""

    def head(layer: str, kind: str) -> tuple[Tag, ...]:
        return ((5, handles.new()), (330, owner), (100, "AcDbEntity"), (8, layer), (100, kind))

    return head


Polyline = Callable[[Loop, str, Head], Iterator[Tag]]


def _entities(drawing: Drawing, head: Head, polyline: Polyline) -> Iterator[Tag]:
    for layer in drawing.layers:
        for shape in layer.shapes:
            yield from _entity(shape, layer_name(layer), head, polyline)


def _entity(shape: Shape, layer: str, head: Head, polyline: Polyline) -> Iterator[Tag]:
    if isinstance(shape, Line):
        yield from ((0, "LINE"), *head(layer, "AcDbLine"), *point(*shape.start), *point(*shape.end, 11))
    elif isinstance(shape, Circle):
        yield from ((0, "CIRCLE"), *head(layer, "AcDbCircle"), *point(*shape.centre))
        yield (40, shape.diameter_mm / 2.0)
    else:
        yield from polyline(shape, layer, head)


def _light_polyline(loop: Loop, layer: str, head: Head) -> Iterator[Tag]:
    rows = _rows(loop)
    yield from ((0, "LWPOLYLINE"), *head(layer, "AcDbPolyline"), (90, len(rows)), (70, CLOSED))
    for x, y, bulge in rows:
        yield from point(x, y, 10, None)
        if bulge:
            yield (42, bulge)


def _old_polyline(loop: Loop, layer: str, head: Head) -> Iterator[Tag]:
    own = head(layer, "")
    yield from ((0, "POLYLINE"), *own, (66, 1), *point(0.0, 0.0), (70, CLOSED))
    for x, y, bulge in _rows(loop):
        yield from ((0, "VERTEX"), *own, *point(x, y), (42, bulge))
    yield from ((0, "SEQEND"), *own)


def _rows(loop: Loop) -> list[tuple[float, float, float]]:
    return [(x, y, bulge) for x, y, bulge in np.column_stack((loop.points, loop.bulges)).tolist()]
