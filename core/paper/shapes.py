"""Shapes drawn on any Surface: Loops, Regions, circles, rectangles, polylines and the signs of the sheet.

The face of the papers lacks many signs (a tick box, an arrow, a warning triangle), so they are paths.
"""

from collections.abc import Iterable

from core.findings import Point
from core.outline.loop import Loop
from core.outline.region import Regions
from core.paper.surface import Fill, Pen, Surface


def draw_loop(surface: Surface, loop: Loop) -> None:
    """The contour of a Loop, not yet painted."""
    points, bulges = loop.points.tolist(), loop.bulges.tolist()
    surface.move(*points[0])
    for (x, y), bulge in zip([*points[1:], points[0]], bulges, strict=True):
        if bulge == 0.0:
            surface.line(x, y)
        else:
            surface.arc(x, y, bulge)
    surface.close()


def draw_regions(surface: Surface, regions: Regions, fill: Fill | None, pen: Pen | None) -> None:
    """All of them as one path, painted; nothing at all where there is none."""
    loops = [loop for region in regions for loop in region.loops()]
    for loop in loops:
        draw_loop(surface, loop)
    if loops:
        surface.paint(fill, pen)


def draw_circle(surface: Surface, centre: Point, radius: float, fill: Fill | None, pen: Pen | None) -> None:
    """A whole circle, painted; radius mm."""
    draw_loop(surface, Loop.circle(centre, radius))
    surface.paint(fill, pen)


def draw_polygon(surface: Surface, points: Iterable[Point], fill: Fill | None, pen: Pen | None) -> None:
    """A closed polygon, painted."""
    first, *others = points
    surface.move(*first)
    for point in others:
        surface.line(*point)
    surface.close()
    surface.paint(fill, pen)


def draw_box(
    surface: Surface, low: Point, high: Point, fill: Fill | None = None, pen: Pen | None = None
) -> None:
    """An upright rectangle from its lower left to its upper right corner, painted."""
    draw_polygon(surface, (low, (high[0], low[1]), high, (low[0], high[1])), fill, pen)


def draw_line(surface: Surface, start: Point, end: Point, pen: Pen) -> None:
    """A straight line, painted."""
    surface.move(*start)
    surface.line(*end)
    surface.paint(None, pen)


def draw_warning(surface: Surface, low_left: Point, size: float, colour: str) -> None:
    """A triangle with an exclamation mark, size mm wide."""
    x, y = low_left
    corners = ((x, y), (x + size, y), (x + size / 2.0, y + 0.9 * size))
    draw_polygon(surface, corners, Fill(colour), Pen(colour, 0.08 * size))
    middle, white = x + size / 2.0, Pen("#ffffff", 0.13 * size)
    draw_line(surface, (middle, y + 0.6 * size), (middle, y + 0.28 * size), white)
    draw_circle(surface, (middle, y + 0.13 * size), 0.075 * size, Fill("#ffffff"), None)


def draw_stop(surface: Surface, low_left: Point, size: float, colour: str) -> None:
    """A filled octagon with a bar, size mm wide."""
    x, y = low_left
    near, far = 0.29 * size, 0.71 * size
    corners = ((near, 0), (far, 0), (size, near), (size, far), (far, size), (near, size), (0, far), (0, near))
    draw_polygon(surface, [(x + dx, y + dy) for dx, dy in corners], Fill(colour), None)
    bar = Pen("#ffffff", 0.16 * size)
    draw_line(surface, (x + 0.25 * size, y + size / 2.0), (x + 0.75 * size, y + size / 2.0), bar)


def draw_arrow_head(surface: Surface, tip: Point, towards: Point, colour: str) -> None:
    """The head of a dimension's arrow: towards is a unit vector that points where the tip points."""
    (x, y), (dx, dy) = tip, towards
    long, wide = 2.0, 0.6
    left = (x - long * dx - wide * dy, y - long * dy + wide * dx)
    right = (x - long * dx + wide * dy, y - long * dy - wide * dx)
    draw_polygon(surface, (tip, left, right), Fill(colour), None)
