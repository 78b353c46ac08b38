"""What is drawn: the part drawing and each film drawing, in the frame, layer by layer.

A film's contours stand in the order in which the knife takes them: the marks, the film from inside to
outside and from small to large, the sheet box last.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.decal.cut_order import in_cutting_order
from core.decal.film import Film, FilmSource
from core.decal.sheet_box import SheetBox, sheet_box
from core.decal.size_witness import size_witness, witness_rows
from core.decal.start import begun_off_corners
from core.decal.weed_lines import weed_lines
from core.drawing.drawing import Circle, Drawing, Layer, LayerOf, Line, Shape
from core.findings import Point
from core.outline.loop import Bounds, Loop
from core.outline.region import Regions, bounds_of
from core.sheet.layout import Layout
from core.sheet.mark import Mark
from core.sheet.placement import Placement, box_of

#: Line colours of what is no film: told apart on screen, of no meaning to a machine.
PART_COLOUR, AS_CUT_COLOUR, MARK_COLOUR = "#000000", "#b04000", "#d00000"
WEEDING_COLOUR, NOTE_COLOUR = "#0060c0", "#808080"


@dataclass(frozen=True)
class MoreLines:
    """Open lines of a film drawing: those that cut its waste into strips, and notes that are not cut."""

    weeding: tuple[Line, ...] = ()
    notes: tuple[Line, ...] = ()


NO_MORE = MoreLines()


def part_drawing(
    title: str,
    part: Regions,
    as_cut: Regions,
    sources: tuple[FilmSource, ...],
    layout: Layout,
    drawn: Regions = (),
) -> Drawing:
    """The part as traced, as cut, the patches its films come from, and the bores; all in the frame, mm.

    part, as_cut and sources are those of the first copy; every copy is drawn. drawn is what of the part the
    picture has, where there is more to it: the height is measured there.
    """
    copies = layout.copies
    bores = tuple(mark.strip or Circle(mark.at, mark.diameter_mm) for mark in layout.marks)
    layers = (
        LayerOf(Layer.PART, "", PART_COLOUR, copied(part, copies)),
        LayerOf(Layer.AS_CUT, "", AS_CUT_COLOUR, copied(as_cut, copies)),
        *(LayerOf(Layer.PATCH, one.name, one.colour, copied(one.patch, copies)) for one in sources),
        LayerOf(Layer.MARKS, "", MARK_COLOUR, bores),
        LayerOf(Layer.NOTES, "", NOTE_COLOUR, level_lines(_box_of(drawn or part))),
    )
    return Drawing(title, _page(layers, layout), layers)


def copied(regions: Regions, copies: tuple[Placement, ...]) -> tuple[Loop, ...]:
    """The contours of all copies: copy by copy, each in cutting order, so that the knife travels little."""
    return _of_all_copies(in_cutting_order(regions), copies)


def _of_all_copies(loops: tuple[Loop, ...], copies: tuple[Placement, ...]) -> tuple[Loop, ...]:
    return tuple(copy.loop(loop) for copy in copies for loop in loops)


def _for_the_knife(film: Film, layout: Layout) -> tuple[Loop, ...]:
    """All copies' contours of a film, each begun where no corner is seen."""
    loops = tuple(map(begun_off_corners, in_cutting_order(film.regions)))
    return _of_all_copies(loops, layout.copies)


def film_drawing(
    title: str, film: Film, drawn: Regions, layout: Layout, box: SheetBox, more: MoreLines = NO_MORE
) -> Drawing:
    """One film with the marks as it carries them, the sheet box, and the shape's height in two lines."""
    dots = tuple(_on_film(mark) for mark in layout.marks)
    layers = (
        LayerOf(Layer.MARKS, "", MARK_COLOUR, dots),
        LayerOf(Layer.FILM, film.name, film.colour, _for_the_knife(film, layout)),
        LayerOf(Layer.WEEDING, "", WEEDING_COLOUR, (*more.weeding, box.loop)),
        LayerOf(Layer.NOTES, "", NOTE_COLOUR, (*level_lines(_box_of(drawn)), *more.notes)),
    )
    return Drawing(title, _page(layers, layout), layers)


def _on_film(mark: Mark) -> Shape:
    """A dot or a ring, or a strip beside the part."""
    return mark.strip or Circle(mark.at, mark.film_diameter_mm)


def witness_lines(drawn: Regions, box: SheetBox) -> tuple[Line, ...]:
    """The size witness of every film drawing."""
    return tuple(Line(*ends) for ends in size_witness(_box_of(drawn), box.loop.bounds()).lines)


def waste_lines(film: Film, layout: Layout, box: SheetBox, heights: Sequence[float]) -> tuple[Line, ...]:
    """The weed lines of a film at these heights, all copies and marks kept clear of."""
    if not heights:
        return ()
    outers = tuple(region.outer for region in film.regions)
    dots = [mark.strip or Loop.circle(mark.at, mark.film_diameter_mm / 2.0) for mark in layout.marks]
    kept = [*_of_all_copies(outers, layout.copies), *dots]
    return tuple(Line(*ends) for ends in weed_lines(kept, box.loop, heights))


def kit_sheet_box(films: tuple[Film, ...], drawn: Regions, layout: Layout) -> SheetBox:
    """The one box of every film drawing: round the marks, all films, the level lines and the size witness."""
    dots = [_shape_box(_on_film(mark)) for mark in layout.marks]
    loops = [region.outer for film in films for region in film.regions]
    first = _round([_box_of(drawn), *(loop.bounds() for loop in loops)])
    low, high = witness_rows(_box_of(drawn))
    content = _round([box_of(first, layout.copies), *dots, (first[0], low, first[0], high)])
    keys = [mark.at for mark in layout.marks if mark.is_key]
    return sheet_box(content, keys[0] if keys else (content[0], content[3]))


def level_lines(shape: Bounds) -> tuple[Line, Line]:
    """Two lines as wide as the shape that touch its bottom and its top: its height can be read there."""
    x_min, y_min, x_max, y_max = shape
    return Line((x_min, y_min), (x_max, y_min)), Line((x_min, y_max), (x_max, y_max))


def mirrored(drawing: Drawing, mirror_x: float) -> Drawing:
    """The drawing of a film for the back, everything in it mirrored about x = mirror_x: once, at the end."""
    x_min, y_min, x_max, y_max = drawing.box
    layers = tuple(
        replace(layer, shapes=tuple(_mirrored_shape(shape, mirror_x) for shape in layer.shapes))
        for layer in drawing.layers
    )
    return Drawing(drawing.title, (2.0 * mirror_x - x_max, y_min, 2.0 * mirror_x - x_min, y_max), layers)


def _mirrored_shape(shape: Shape, mirror_x: float) -> Shape:
    match shape:
        case Loop():
            return shape.mirrored(mirror_x)
        case Circle(centre, diameter):
            return Circle(_mirrored_point(centre, mirror_x), diameter)
        case Line(start, end):
            return Line(_mirrored_point(end, mirror_x), _mirrored_point(start, mirror_x))


def _mirrored_point(point: Point, mirror_x: float) -> Point:
    return 2.0 * mirror_x - point[0], point[1]


def _box_of(regions: Regions) -> Bounds:
    return bounds_of(region.outer for region in regions)


def _circle_box(circle: Circle) -> Bounds:
    (x, y), radius = circle.centre, circle.diameter_mm / 2.0
    return x - radius, y - radius, x + radius, y + radius


def _shape_box(shape: Shape) -> Bounds:
    match shape:
        case Loop():
            return shape.bounds()
        case Circle():
            return _circle_box(shape)
        case Line((x, y), (to_x, to_y)):
            return min(x, to_x), min(y, to_y), max(x, to_x), max(y, to_y)


def _round(boxes: list[Bounds]) -> Bounds:
    rows = np.array(boxes)
    (x_min, y_min), (x_max, y_max) = rows[:, :2].min(axis=0), rows[:, 2:].max(axis=0)
    return float(x_min), float(y_min), float(x_max), float(y_max)


def _page(layers: tuple[LayerOf, ...], layout: Layout) -> Bounds:
    """The whole sheet, and whatever reaches beyond it."""
    stock = (0.0, 0.0, layout.stock.width_mm, layout.stock.depth_mm)
    return _round([stock, *(_shape_box(shape) for layer in layers for shape in layer.shapes)])
