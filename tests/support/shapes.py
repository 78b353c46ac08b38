"""Shapes for tests, the same shape told in many ways, and whether two shapes are one."""

from collections.abc import Iterator

import numpy as np
import shapely

from core.outline.loop import Loop
from core.outline.polygon import to_polygon
from core.outline.region import Region, Regions

QUARTER = float(np.tan(np.pi / 8.0))  # the bulge of a quarter turn


def rectangle(width, height, at=(0.0, 0.0)) -> Loop:
    corners = np.array([[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]]) + np.array(at)
    return Loop(corners, np.zeros(4))


def polygon(*corners) -> Loop:
    return Loop(np.array(corners, dtype=float), np.zeros(len(corners)))


def regular(sides, side) -> Loop:
    radius = side / (2.0 * np.sin(np.pi / sides))
    turn = 2.0 * np.pi * np.arange(sides) / sides
    return Loop(radius * np.column_stack((np.cos(turn), np.sin(turn))), np.zeros(sides))


def rounded(width, height, radius) -> Loop:
    w, h, r = width, height, radius
    points = [[r, 0], [w - r, 0], [w, r], [w, h - r], [w - r, h], [r, h], [0, h - r], [0, r]]
    return Loop(np.array(points, dtype=float), np.array([0.0, QUARTER] * 4))


def solid(outer, *openings) -> Regions:
    return (Region(outer, tuple(openings)),)


def turned(loop, angle, x=0.0, y=0.0) -> Loop:
    cos, sin = np.cos(angle), np.sin(angle)
    return Loop(loop.points @ np.array([[cos, sin], [-sin, cos]]) + np.array([x, y]), loop.bulges)


def variants(loop) -> Iterator[Loop]:
    """The same shape from every first point, both ways round."""
    for shift in range(len(loop.bulges)):
        again = Loop(np.roll(loop.points, shift, axis=0), np.roll(loop.bulges, shift))
        yield again
        yield again.reversed()


def area(regions) -> float:
    return sum(region.area() for region in regions)


def perimeter(regions) -> float:
    return sum(loop.length() for region in regions for loop in region.loops())


def same_shape(a: Regions, b: Regions, tolerance) -> bool:
    """Whether no edge of either is farther than tolerance from the other, whatever points tell it."""
    if not (a and b):
        return not a and not b
    flat_a, flat_b = (shapely.union_all(to_polygon(each, tolerance / 10.0).geoms) for each in (a, b))
    return bool(shapely.hausdorff_distance(flat_a.boundary, flat_b.boundary) <= tolerance)


def rough(rng, corners, size=20.0) -> Loop:
    """A star-shaped Loop of lines and arcs with sharp corners; it may cross itself."""
    turn = (np.arange(corners) + rng.uniform(0.15, 0.85, corners)) / corners * 2.0 * np.pi
    step = min(2.0 * np.pi / corners * 0.7, 0.3)
    reach = size * (
        0.75 + 0.2 * np.sin(3.0 * turn + rng.uniform(0.0, 6.0)) + rng.uniform(-step, step, corners)
    )
    bulges = np.where(rng.random(corners) < 0.6, rng.normal(0.0, 0.25, corners), 0.0)
    return Loop(reach[:, None] * np.column_stack((np.cos(turn), np.sin(turn))), bulges)


def kinked(rng, corners, size=15.0) -> Loop:
    """A circle of arcs whose joints are kinks of 1e-7 to 1e-2 rad."""
    turn = 2.0 * np.pi * np.arange(corners) / corners
    reach = size + rng.normal(0.0, 1.0, corners) * 10.0 ** rng.uniform(-7.0, -1.0)
    bulges = np.tan(np.pi / 2.0 / corners) + rng.normal(0.0, 1.0, corners) * 10.0 ** rng.uniform(-7.0, -2.0)
    return Loop(reach[:, None] * np.column_stack((np.cos(turn), np.sin(turn))), bulges)


def with_crumbs(rng, loop) -> Loop:
    """The Loop with a segment of 1e-4 to 1e-2 mm put in at every corner."""
    ahead = np.roll(loop.points, -1, axis=0) - loop.points
    ahead /= np.hypot(*ahead.T)[:, None]
    crumbs = loop.points + ahead * 10.0 ** rng.uniform(-4.0, -2.0, len(ahead))[:, None]
    points = np.stack((loop.points, crumbs), axis=1).reshape(-1, 2)
    bulges = np.stack((rng.normal(0.0, 0.2, len(ahead)), loop.bulges), axis=1).ravel()
    return Loop(points, bulges)


def is_simple(loop) -> bool:
    flat = shapely.Polygon(loop.flattened(1e-5))
    return bool(flat.is_valid and loop.signed_area() > 1e-3)


def any_shape(seed) -> Regions:
    """One of many kinds of shape, some of them nasty, the same for the same seed."""
    rng = np.random.default_rng(seed)
    corners = int(rng.integers(3, 12))
    makers = (
        lambda: rough(rng, corners),
        lambda: kinked(rng, 2 * corners),
        lambda: with_crumbs(rng, rough(rng, corners)),
        lambda: rounded(*(rng.uniform(8.0, 30.0, 2)), rng.uniform(0.1, 3.99)),
        lambda: rounded(8.0, 8.0, 4.0 * (1.0 - 10.0 ** rng.uniform(-6.0, -2.0))),
        lambda: rectangle(*rng.integers(2, 12, 2).astype(float)),
        lambda: Loop.circle(tuple(rng.integers(0, 8, 2).astype(float)), float(rng.integers(1, 6))),
        lambda: Loop(
            np.array([[0.0, 0.0], [10.0, -1.0], [10.0, 1.0]]), np.array([0.0, rng.uniform(0.7, 2.5), 0.0])
        ),
    )
    make = makers[int(rng.integers(len(makers)))]
    loop = make()
    while not is_simple(loop):
        loop = make()
    return solid(
        turned(loop, rng.uniform(0.0, 6.0), *rng.uniform(-5.0, 5.0, 2)) if rng.random() < 0.3 else loop
    )


def wave(corners, size, rise, waves, at=(0.0, 0.0), bulge=0.0) -> Loop:
    """A circle of size mm with so many waves that rise and fall by rise mm, in so many equal segments."""
    turn = 2.0 * np.pi * np.arange(corners) / corners
    reach = size + rise * np.sin(waves * turn)
    points = np.array(at) + reach[:, None] * np.column_stack((np.cos(turn), np.sin(turn)))
    return Loop(points, np.full(corners, bulge))
