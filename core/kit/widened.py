"""A film's drawing for a cutter that leaves films smaller, or larger, than they are drawn.

What is kept grows by half of how much wider than told the cutter cuts: outer edges go out, openings close in
by as much. Sheet box, weed lines and notes bear no size that matters, and stay.
"""

from dataclasses import replace

from core.drawing.drawing import Circle, Drawing, Layer, Shape
from core.outline.loop import Loop
from core.outline.offset import grown, shrunk
from core.outline.region import Region, Regions

#: Layers whose size is that of the film.
OF_FILM = frozenset({Layer.FILM, Layer.MARKS})


def widened_drawing(drawing: Drawing, width_mm: float) -> Drawing:
    """Its films and marks wider by width_mm, contours in their order; the very same where it is 0."""
    if width_mm == 0.0:
        return drawing
    layers = tuple(
        replace(layer, shapes=tuple(one for shape in layer.shapes for one in _widened(shape, width_mm)))
        if layer.layer in OF_FILM
        else layer
        for layer in drawing.layers
    )
    return replace(drawing, layers=layers)


def _widened(shape: Shape, width_mm: float) -> tuple[Shape, ...]:
    match shape:
        case Circle(centre, diameter):
            return (Circle(centre, diameter + width_mm),)
        case Loop() if shape.signed_area() > 0.0:
            return tuple(region.outer for region in _offset(shape, width_mm / 2.0))
        case Loop():
            return tuple(region.outer.reversed() for region in _offset(shape.reversed(), -width_mm / 2.0))
    return (shape,)


def _offset(loop: Loop, by_mm: float) -> Regions:
    """What a counter-clockwise Loop bounds, grown or shrunk."""
    solid = (Region(loop),)
    return grown(solid, by_mm) if by_mm > 0.0 else shrunk(solid, -by_mm)
