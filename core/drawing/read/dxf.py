"""DXF bytes back to contours in the frame, tag by tag, for the form with LWPOLYLINE and the old one.

Lines, arcs, circles and both kinds of polyline are read; everything else on paper or in space is listed
as not read. Nothing here is shared with any writer, nor with the library that it uses.
"""

import math
from collections.abc import Callable, Iterator

import numpy as np

from core.drawing.read.contours import Floats, NotRead, ReadContour, ReadDrawing, by_layer, closed_circle
from core.drawing.read.dxf_tags import (
    Entity,
    Tags,
    entities,
    header_value,
    joined,
    read_tags,
    real,
    section,
)
from core.errors import UnreadableFile

#: $INSUNITS (DXF Reference, HEADER section): name and mm of each unit that shapes are drawn in.
UNITS = {1: ("in", 25.4), 2: ("ft", 304.8), 4: ("mm", 1.0), 5: ("cm", 10.0), 6: ("m", 1000.0)}
UNITS |= {8: ("microinch", 25.4e-6), 9: ("mil", 0.0254), 10: ("yd", 914.4)}
UNITS |= {13: ("micron", 1e-3), 14: ("dm", 100.0)}

#: Bits of code 70 of a POLYLINE that make it something else: curve-fit, spline-fit, 3D, mesh, polyface.
NO_PLAIN_POLYLINE = 2 | 4 | 8 | 16 | 64

#: Bits of code 70 of a VERTEX that the fit added, or that only steered it.
NO_PLAIN_VERTEX = 1 | 8 | 16

CLOSED = 1

#: Begins what one class of an entity says; another reader looks for the layer behind the wrong one of two.
SUBCLASS = 100

#: Codes of a vertex: x, y, and the bulge that leaves it.
X, Y, BULGE = 10, 20, 42
OF_VERTEX = frozenset((X, Y, BULGE))


def read_dxf(data: bytes) -> ReadDrawing:
    """Every contour of the model space, in mm. UnreadableFile for what is no DXF, or a broken one.

    Where the header states no unit (the old form cannot), numbers count as mm and unit is None.
    """
    tags = read_tags(data)
    body = section(tags, "ENTITIES")
    if not body.codes and not section(tags, "HEADER").codes:
        raise UnreadableFile("This is no DXF drawing: it has neither a header nor entities.")
    unit, scale = _unit(header_value(tags, "$INSUNITS"))
    found, not_read = [], []
    for entity in _whole_entities(body):
        contour, layer = _contour(entity, scale), entity.text(8, "0")
        if contour is None:
            not_read.append(NotRead(entity.kind, layer))
        else:
            found.append((layer, contour))
    return ReadDrawing(None, None, unit, None, by_layer(found), tuple(not_read))


def _unit(text: str | None) -> tuple[str | None, float]:
    code = int(text) if text is not None and text.isdigit() else 0
    if code and code not in UNITS:
        raise UnreadableFile(f"The DXF drawing is in unit {code} of $INSUNITS, in which no shape is drawn.")
    return UNITS.get(code, (None, 1.0))


def _whole_entities(body: Tags) -> Iterator[Entity]:
    """Entities with the VERTEX groups of an old polyline gathered behind its own tags."""
    waiting: list[Entity] = []
    for entity in entities(body):
        if entity.kind == "SEQEND":
            yield from _gathered(waiting)
            waiting = []
        elif waiting and entity.kind in ("VERTEX", "ATTRIB"):
            waiting.append(entity)
        elif waiting:
            raise UnreadableFile("A polyline of the DXF drawing breaks off before its end.")
        elif entity.kind == "POLYLINE":
            waiting = [entity]
        else:
            yield entity
    if waiting:
        raise UnreadableFile("A polyline of the DXF drawing breaks off before its end.")


def _gathered(parts: list[Entity]) -> Iterator[Entity]:
    """The head's tags but its own 10, 20 (a dummy point), then each plain vertex's 10, 20 and 42."""
    if not parts:  # the end of an INSERT's attributes
        return
    plain = [part.tags for part in parts[1:] if not part.whole(70) & NO_PLAIN_VERTEX]
    if any(tags.codes.count(X) > 1 or tags.codes.count(Y) > 1 for tags in plain):
        raise UnreadableFile("A vertex of the DXF drawing has two places.")
    yield Entity("POLYLINE", joined((parts[0].tags.but(OF_VERTEX), joined(plain).only(OF_VERTEX))))


def _contour(entity: Entity, scale: float) -> ReadContour | None:
    """The contour in mm; None for a kind that is not read, on paper, or tilted in space."""
    parts = [value for code, value in entity.tags.pairs() if code == SUBCLASS]
    if len(parts) != len(set(parts)):
        raise UnreadableFile(f"A {entity.kind} of the DXF drawing has its {parts[0]} twice.")
    read = _KINDS.get(entity.kind)
    is_flat = entity.number(230, 1.0) == 1.0 and not entity.whole(67)
    contour = read(entity) if read is not None and is_flat else None
    return contour and ReadContour(contour.points * scale, contour.bulges, contour.is_closed)


def _line(entity: Entity) -> ReadContour:
    ends = [[entity.number(10), entity.number(20)], [entity.number(11), entity.number(21)]]
    return ReadContour(np.array(ends), np.zeros(1), is_closed=False)


def _circle(entity: Entity) -> ReadContour:
    return closed_circle(entity.number(10), entity.number(20), entity.number(40))


def _arc(entity: Entity) -> ReadContour:
    """Always counter-clockwise from the first angle (50) to the second (51), in degrees."""
    first, second = entity.number(50), entity.number(51)
    sweep = math.radians((second - first) % 360.0)
    if sweep == 0.0:
        return _circle(entity)
    angles = np.radians([first, second])
    centre = np.array([entity.number(10), entity.number(20)])
    points = centre + entity.number(40) * np.column_stack((np.cos(angles), np.sin(angles)))
    return ReadContour(points, np.array([math.tan(sweep / 4.0)]), is_closed=False)


def _polyline(entity: Entity) -> ReadContour | None:
    """LWPOLYLINE, or an old one with its vertices gathered: 10, 20 a vertex, 42 the bulge that leaves it."""
    flags = entity.whole(70)
    if entity.kind == "POLYLINE" and flags & NO_PLAIN_POLYLINE:
        return None
    points, bulges = _vertices(entity.tags)
    if len(points) < 2:
        raise UnreadableFile("A polyline of the DXF drawing has fewer than two points.")
    is_closed = bool(flags & CLOSED)
    return ReadContour(points, bulges if is_closed else bulges[:-1], is_closed)


def _vertices(tags: Tags) -> tuple[Floats, Floats]:
    """Points (n, 2) and the bulge that leaves each (n,), 0 where none is given."""
    first = tags.codes.index(X) if X in tags.codes else len(tags.codes)
    rows = tags.cut(first, len(tags.codes)).only(OF_VERTEX)
    codes, values = np.array(rows.codes, dtype=np.int64), _reals(rows.values)
    if Y in tags.codes[:first] or not np.array_equal(codes[codes != BULGE], [X, Y] * int((codes == X).sum())):
        raise UnreadableFile("A polyline of the DXF drawing has lost half of a point.")
    points = values[codes != BULGE].reshape(-1, 2)
    bulges = np.zeros(len(points))
    is_bulge = codes == BULGE
    bulges[np.cumsum(codes == X)[is_bulge] - 1] = values[is_bulge]
    return points, bulges


def _reals(texts: list[str]) -> Floats:
    """All as numbers; UnreadableFile for the first that is none."""
    try:
        values = np.array(list(map(float, texts)), dtype=np.float64)
    except ValueError:
        values = np.array([np.nan])
    return values if np.isfinite(values).all() else np.array(list(map(real, texts)))


_KINDS: dict[str, Callable[[Entity], ReadContour | None]] = {
    "LINE": _line,
    "CIRCLE": _circle,
    "ARC": _arc,
    "LWPOLYLINE": _polyline,
    "POLYLINE": _polyline,
}
