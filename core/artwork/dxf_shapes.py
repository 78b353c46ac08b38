"""The shapes of DXF as sub-paths (DXF Reference, ENTITIES section), flat, in the file's unit."""

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

import numpy as np

from core.artwork.affine import Affine
from core.artwork.edges import Bezier, Bow, Edge, Oval, SubPath, circle, polygon
from core.artwork.splines import beziers
from core.drawing.read.dxf_tags import Entity, real
from core.errors import UnreadableFile

#: How far the normal of a plane may lean before what is drawn in it is no longer flat.
LEAN = 1e-6

#: Kinds whose points are in a plane of their own; of the others only the normal's sign matters.
IN_OWN_PLANE = frozenset({"ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE", "INSERT", "SOLID", "TRACE"})

CLOSED = 1

#: Bits of code 70 of a POLYLINE that is no plain one: in space, a mesh, its closing, many faces.
NO_PLAIN_POLYLINE = 8 | 16 | 32 | 64

#: rad; an angle range that misses a whole turn by less is one.
WHOLE_TURN = 1e-9


def is_flat(entity: Entity) -> bool:
    """Whether an entity lies in the drawing's plane, seen from either side."""
    return abs(entity.number(210, 0.0)) <= LEAN and abs(entity.number(220, 0.0)) <= LEAN


def flat_place(entity: Entity) -> Affine:
    """From an entity's own plane to the drawing's: x is mirrored where its normal points down."""
    if entity.kind in IN_OWN_PLANE and entity.number(230, 1.0) < 0.0:
        return Affine(a=0.0, b=-1.0)
    return Affine()


def _at(entity: Entity, x: int = 10) -> complex:
    return complex(entity.number(x), entity.number(x + 10))


def _line(entity: Entity) -> SubPath:
    return SubPath((Bow(_at(entity), _at(entity, 11)),), is_closed=False)


def _circle(entity: Entity) -> SubPath | None:
    radius = entity.number(40)
    return circle(_at(entity), radius) if radius > 0.0 else None


def _arc(entity: Entity) -> SubPath | None:
    """Counter-clockwise from the first angle (50) to the second (51), degrees."""
    centre, radius = _at(entity), entity.number(40)
    first, second = math.radians(entity.number(50)), math.radians(entity.number(51))
    sweep = (second - first) % (2.0 * math.pi)
    if not radius > 0.0:
        return None
    if sweep <= WHOLE_TURN:
        return circle(centre, radius)
    return _parts(Oval.between(centre, complex(radius), 1j * radius, first, first + sweep), is_closed=False)


def _parts(oval: Oval, *, is_closed: bool) -> SubPath:
    return SubPath(tuple(oval.mapped(Affine())), is_closed)


def _ellipse(entity: Entity) -> SubPath | None:
    """Centre 10, its larger half axis 11, the other's share of it 40, from parameter 41 to 42."""
    along, share = _at(entity, 11), entity.number(40, 1.0)
    side = math.copysign(1.0, entity.number(230, 1.0))
    first, last = entity.number(41), entity.number(42, 2.0 * math.pi)
    sweep = (last - first) % (2.0 * math.pi)
    is_closed = min(sweep, 2.0 * math.pi - sweep) <= WHOLE_TURN
    if abs(along) == 0.0 or share == 0.0:
        return None
    sweep = 2.0 * math.pi if is_closed else sweep
    oval = Oval.between(_at(entity), along, 1j * along * share * side, first, first + sweep)
    return _parts(oval, is_closed=is_closed)


def _polyline(entity: Entity) -> SubPath | None:
    """10, 20 a vertex, 42 the bulge of the line that leaves it."""
    if entity.kind == "POLYLINE" and entity.whole(70) & NO_PLAIN_POLYLINE:
        return None
    spots, bulges = _vertices(entity)
    is_closed = bool(entity.whole(70) & CLOSED)
    ends = [*spots[1:], spots[0]] if is_closed and spots else spots[1:]
    edges = [Bow(a, b, bulge) for a, b, bulge in zip(spots, ends, bulges, strict=False) if a != b]
    return SubPath(tuple(edges), is_closed)


def _vertices(entity: Entity) -> tuple[list[complex], list[float]]:
    spots: list[complex] = []
    bulges: list[float] = []
    for code, value in entity.tags.pairs():
        if code == 10:
            spots.append(complex(real(value)))
            bulges.append(0.0)
        elif code == 20 and spots:
            spots[-1] = complex(spots[-1].real, real(value))
        elif code == 42 and spots:
            bulges[-1] = real(value)
    return spots, bulges


def _solid(entity: Entity) -> SubPath:
    """Three or four corners, the last two the other way round."""
    corners = [_at(entity, code) for code in (10, 11, 13, 12)]
    return polygon(corners, is_closed=True)


def _spline(entity: Entity) -> SubPath | None:
    """Degree 71, knots 40, weights 41, control points 10, 20; None where only points to fit are given."""
    spots, _ = _vertices(entity)
    knots, weights = (_numbers(entity, code) for code in (40, 41))
    degree = entity.whole(71, 3)
    if not spots:
        return None
    if not 1 <= degree <= MOST_DEGREE or len(knots) != len(spots) + degree + 1:
        raise UnreadableFile("A spline of the DXF drawing has too few or too many knots.")
    if weights and (len(weights) != len(spots) or min(weights) <= 0.0):
        raise UnreadableFile("A spline of the DXF drawing has weights that fit no curve.")
    if any(b < a for a, b in pairwise(knots)):
        raise UnreadableFile("A spline of the DXF drawing has knots that do not rise.")
    edges = beziers(np.array(spots), np.array(knots), degree, np.array(weights) if weights else None)
    return SubPath(_simple(edges), is_closed=False)


#: Degree of a spline; drawing programs write 2, 3 and 5.
MOST_DEGREE = 12


def _simple(edges: Sequence[Bezier]) -> tuple[Edge, ...]:
    """Those of degree 1 as lines."""
    return tuple(Bow(edge.start, edge.end) if len(edge.points) == 2 else edge for edge in edges)


def _numbers(entity: Entity, code: int) -> list[float]:
    return [real(value) for one, value in entity.tags.pairs() if one == code]


SHAPES: dict[str, Callable[[Entity], SubPath | None]] = {
    "LINE": _line,
    "ARC": _arc,
    "CIRCLE": _circle,
    "ELLIPSE": _ellipse,
    "LWPOLYLINE": _polyline,
    "POLYLINE": _polyline,
    "SOLID": _solid,
    "TRACE": _solid,
    "SPLINE": _spline,
}
