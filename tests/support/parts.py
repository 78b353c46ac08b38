"""Parts at random for the router, made without a picture: plain, pierced, holding islands, in pieces, combs.

mm, from the left bottom of their box, as the Shape of a Build has them.
"""

import numpy as np
import shapely

from core.outline.loop import Loop
from core.outline.polygon import to_polygon
from core.outline.region import Region, Regions, bounds_of, mapped
from tests.support.shapes import any_shape

#: mm: how coarse a curve of a part is that comes from polygons.
CHORD = 0.05


def any_part(rng) -> Regions:
    """One of many kinds of part, 12 to 110 mm large, the same for the same state of the generator."""
    makers = (_plain, _plain, _pierced, _pierced, _with_islands, _in_pieces, _comb, _lettered, _many_corners)
    part = makers[int(rng.integers(len(makers)))](rng)
    return _sized(part, float(np.exp(rng.uniform(np.log(12.0), np.log(110.0)))))


def _sized(part: Regions, wanted: float) -> Regions:
    """Moved to the origin, the longer side as long as wanted."""
    x_min, y_min, x_max, y_max = bounds_of(region.outer for region in part)
    factor = wanted / max(x_max - x_min, y_max - y_min)
    return mapped(part, lambda loop: loop.moved(-x_min, -y_min).scaled(factor))


def _plain(rng) -> Regions:
    return any_shape(int(rng.integers(1 << 30)))


def _pierced(rng) -> Regions:
    """Round, square and ragged openings where there is room for them."""
    (region,) = _plain(rng)
    solid = shapely.Polygon(region.outer.flattened(1e-3))
    openings: list[Loop] = []
    free = solid
    for _ in range(int(rng.integers(1, 7))):
        opening = _opening(rng, free)
        if opening is not None:
            openings.append(opening.reversed())
            free = free.difference(shapely.Polygon(opening.flattened(1e-3)).buffer(0.5))
    return (Region(region.outer, tuple(openings)),)


def _opening(rng, free) -> Loop | None:
    """A Loop, counter-clockwise, inside what is free; None where there is no room."""
    room = shapely.Point() if free.is_empty else shapely.maximum_inscribed_circle(free, tolerance=0.05)
    if room.is_empty or room.length < 0.4:
        return None
    x, y = room.coords[0]
    reach = room.length * rng.uniform(0.15, 0.9)
    at = np.array([x, y]) + rng.uniform(-1, 1, 2) * (room.length - reach) * 0.6
    kind = int(rng.integers(3))
    if kind == 0:
        return Loop.circle((float(at[0]), float(at[1])), float(reach))
    turn = rng.uniform(0, 6.0) + 2.0 * np.pi * np.arange(n := int(rng.integers(3, 9))) / n
    radii = reach * (1.0 if kind == 1 else rng.uniform(0.4, 1.0, n))
    corners = at + (radii * np.array([np.cos(turn), np.sin(turn)])).T
    return Loop(corners, np.zeros(n))


def _with_islands(rng) -> Regions:
    """A ring with a part of its own inside, sometimes hollow itself."""
    (region,) = _plain(rng)
    outer = shapely.Polygon(region.outer.flattened(CHORD))
    hole = shapely.affinity.scale(outer, *[rng.uniform(0.6, 0.85)] * 2, origin=outer.representative_point())
    island = shapely.affinity.scale(hole, *[rng.uniform(0.3, 0.8)] * 2, origin=hole.representative_point())
    ring = outer.difference(hole.intersection(outer.buffer(-1.0)))
    inside = island.intersection(hole.buffer(-1.2)).intersection(outer.buffer(-2.2))
    if rng.random() < 0.3:
        inside = inside.difference(inside.buffer(-2.5))
    return _regions(shapely.union(ring, inside))


def _in_pieces(rng) -> Regions:
    """Several shapes side by side, some of them close."""
    count, x, pieces = int(rng.integers(2, 7)), 0.0, []
    for _ in range(count):
        flat = shapely.union_all(to_polygon(_plain(rng), CHORD).geoms)
        x_min, y_min, x_max, _ = flat.bounds
        pieces.append(shapely.affinity.translate(flat, x - x_min, rng.uniform(-8, 8) - y_min))
        x += x_max - x_min + float(np.exp(rng.uniform(np.log(0.3), np.log(12.0))))
    return _regions(shapely.union_all(pieces))


def _comb(rng) -> Regions:
    """Teeth and gaps of many widths, narrow and deep."""
    widths = np.exp(rng.uniform(np.log(0.5), np.log(9.0), int(rng.integers(4, 14))))
    edges = np.concatenate(([0.0], np.cumsum(widths)))
    deep = rng.uniform(4.0, 30.0)
    body = shapely.box(0, 0, edges[-1], rng.uniform(4.0, 15.0))
    low = body.bounds[3] - 0.1
    teeth = [shapely.box(edges[i], low, edges[i + 1], low + deep) for i in range(0, len(widths), 2)]
    return _regions(shapely.union_all([body, *teeth]))


def _lettered(rng) -> Regions:
    """Strokes of one width along a random walk: thin, with counters."""
    walk = np.cumsum(rng.uniform(-14, 14, (int(rng.integers(3, 9)), 2)), axis=0)
    stroke = shapely.LineString(walk).buffer(rng.uniform(0.5, 4.0), cap_style=int(rng.integers(1, 4)))
    return _regions(stroke)


def _many_corners(rng) -> Regions:
    """Two hundred short lines round a wave."""
    turn = 2.0 * np.pi * np.arange(200) / 200
    reach = 20.0 + rng.uniform(0.5, 6.0) * np.sin(int(rng.integers(2, 12)) * turn)
    return (Region(Loop(reach[:, None] * np.column_stack((np.cos(turn), np.sin(turn))), np.zeros(200))),)


def _regions(flat) -> Regions:
    """Polygons as Regions of straight lines; crumbs under 1 mm2 are no parts."""
    whole = [piece for piece in shapely.get_parts(flat) if piece.geom_type == "Polygon" and piece.area > 1.0]
    return tuple(
        Region(_loop(piece.exterior, 1.0), tuple(_loop(ring, -1.0) for ring in piece.interiors))
        for piece in whole
    )


def _loop(ring, sign) -> Loop:
    corners = shapely.get_coordinates(ring)[:-1]
    loop = Loop(corners, np.zeros(len(corners)))
    return loop if loop.signed_area() * sign > 0 else loop.reversed()
