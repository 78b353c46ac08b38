"""The stock after a path, by brute force: every move flattened, clipped at a depth and grown by the bit.

Nothing here is shared with the router: it is the judge of its paths.
"""

import math

import numpy as np
import shapely

from core.outline.loop import Loop
from core.outline.region import Region
from core.router.bit import Bit
from core.router.cutting import Cutting, Direction, TabRule
from core.router.machine import Machine
from core.router.plan import plan
from core.router.reach import as_cut
from core.sheet.layout import Layout
from core.sheet.mark import Mark
from core.sheet.stock import Stock

FLAT = 2e-4  # mm
BIT = Bit(2.0, 1, 6.0)
CUTTING = Cutting(10000, 400, 80, 0.7, math.radians(2.5), 0.3, 5, Direction.CLIMB, True, 0.2)
TABS = TabRule(3.0, 0.8, 60.0, 4, None)
MACHINE = Machine((300, 200, 50), 1000, 50, 30, 0.01, "program", 5)
MARKS = (Mark((8, 140), 7.0, 6.0, True), Mark((132, 140), 5.0, 4.0, False), Mark((30, 8), 5.0, 4.0, False))


def sheet(width=140.0, depth=150.0, thickness=3.0, marks=MARKS):
    stock = Stock(width, depth, thickness, 0.0, 0.1, 0.1, True)
    return Layout(stock, (20.0, 20.0), marks, (0.0, 0.0), 70.0, "far", ())


def polygon(*corners):
    points = np.array(corners, dtype=float)
    return Loop(points, np.zeros(len(points)))


def rectangle(x0, y0, x1, y1):
    return polygon((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def planned(part, bit=BIT, cutting=CUTTING, tabs=TABS, layout=None, machine=MACHINE):
    cut = as_cut(part, bit)
    return cut, plan(cut, layout or sheet(), bit, cutting, tabs, machine)


def moves_of(toolpath):
    """Each move as a polyline (k, 3)."""
    lines = []
    here = np.asarray(toolpath.start)
    for end, bulge in zip(toolpath.ends, toolpath.bulges, strict=True):
        lines.append(flattened(here, end, float(bulge)))
        here = end
    return lines


def flattened(start, end, bulge):
    if bulge == 0.0:
        return np.array([start, end])
    sweep = 4.0 * math.atan(bulge)
    chord = end[:2] - start[:2]
    radius = np.hypot(*chord) / (2.0 * math.sin(abs(sweep) / 2.0))
    middle = (start[:2] + end[:2]) / 2.0
    normal = np.array([-chord[1], chord[0]]) / np.hypot(*chord)
    centre = middle + normal * math.copysign(1, bulge) * radius * math.cos(sweep / 2.0)
    step = 2.0 * math.acos(max(1.0 - FLAT / radius, 0.0))
    count = max(math.ceil(abs(sweep) / step), 2)
    first = math.atan2(*(start[:2] - centre)[::-1])
    angles = first + np.linspace(0.0, sweep, count + 1)
    ring = centre + radius * np.column_stack((np.cos(angles), np.sin(angles)))
    return np.column_stack((ring, np.linspace(start[2], end[2], count + 1)))


def removed(toolpath, z, radius):
    """What is gone at height z, all motions counted."""
    lines = []
    for line in moves_of(toolpath):
        lines += clipped(line, z)
    if not lines:
        return shapely.Polygon()
    # Moves without length, seen from above, are dots: they cut too.
    shapes = [
        shapely.LineString(line) if np.ptp(line, axis=0).any() else shapely.Point(line[0]) for line in lines
    ]
    pieces = [shapely.GeometryCollection(shapes[at : at + 12]) for at in range(0, len(shapes), 12)]
    return shapely.union_all(shapely.buffer(pieces, radius, quad_segs=64))


def clipped(line, z):
    """The runs of a polyline at or below z, seen from above."""
    low = line[:, 2] <= z + 1e-9
    if low.all():
        return [line[:, :2]]
    if not low.any():
        return []
    share = np.clip((z - line[0, 2]) / (line[-1, 2] - line[0, 2]), 0, 1)
    at = np.linspace(0, 1, len(line))
    cut = np.array([np.interp(share, at, line[:, axis]) for axis in (0, 1)])
    if low[0]:
        return [np.vstack((line[low, :2], cut))]
    return [np.vstack((cut, line[low, :2]))]


def left_at(toolpath, z, layout, radius):
    """What stands of the stock at height z."""
    stock = shapely.box(0, 0, layout.stock.width_mm, layout.stock.depth_mm)
    return stock.difference(removed(toolpath, z, radius))


def solid(regions):
    return shapely.union_all(
        [
            shapely.Polygon(region.outer.flattened(FLAT), [hole.flattened(FLAT) for hole in region.openings])
            for region in regions
        ]
    )


def circle_part(centre, radius, *openings):
    return (Region(Loop.circle(centre, radius), tuple(hole.reversed() for hole in openings)),)
