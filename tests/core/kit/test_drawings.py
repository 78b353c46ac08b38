"""The drawings: layers by their contract, one frame, cutting order, one mirror."""

from dataclasses import replace

import numpy as np
import pytest

from core.decal.film import FilmSource
from core.decal.films import make_films
from core.drawing.drawing import Circle, Layer, Line
from core.kit.drawings import film_drawing, kit_sheet_box, mirrored, part_drawing
from core.outline.loop import Loop
from core.outline.region import Region
from core.sheet.lay_out import lay_out
from core.sheet.rule import FitRule
from core.sheet.wish import StockWish


@pytest.fixture(scope="module")
def kit():
    wish = StockWish(None, None, 3.0, 0.1, 0.1, 0.1, is_clear=True)
    layout = lay_out((Region(Loop.circle((50, 50), 50)),), wish, FitRule(), bit_mm=2.0, travel_mm=(300, 200))
    assert 2 * layout.mirror_x != layout.stock.width_mm  # else a page that stays put would not show
    x, y = layout.shape_at
    part = (Region(Loop.circle((x + 50, y + 50), 50)),)
    patch = (Region(Loop.circle((x + 50, y + 50), 30), (Loop.circle((x + 50, y + 50), 10).reversed(),)),)
    sources = (FilmSource("shell", "#008000", patch),)
    films = make_films(sources, part, 0.8).films
    return layout, part, sources, films


def by_layer(drawing):
    return {layer.layer: layer for layer in drawing.layers}


def test_the_part_drawing_holds_part_edge_patches_and_bores(kit):
    layout, part, sources, _ = kit
    layers = by_layer(part_drawing("part", part, part, sources, layout))
    assert list(layers) == [Layer.PART, Layer.AS_CUT, Layer.PATCH, Layer.MARKS, Layer.NOTES]
    assert layers[Layer.PATCH].name == "shell"
    assert [circle.diameter_mm for circle in layers[Layer.MARKS].shapes] == [7.0, 5.0, 5.0]


def test_a_film_drawing_is_cut_marks_first_and_sheet_box_last(kit):
    layout, part, _, films = kit
    box = kit_sheet_box(films, part, layout)
    drawing = film_drawing("film", films[0], part, layout, box)
    assert [layer.layer for layer in drawing.layers] == [
        Layer.MARKS,
        Layer.FILM,
        Layer.WEEDING,
        Layer.NOTES,
    ]
    layers = by_layer(drawing)
    assert [circle.diameter_mm for circle in layers[Layer.MARKS].shapes] == [6.0, 4.0, 4.0]
    areas = [abs(loop.signed_area()) for loop in layers[Layer.FILM].shapes]
    assert areas == sorted(areas)


def test_marks_have_the_same_coordinates_in_every_drawing(kit):
    layout, part, sources, films = kit
    box = kit_sheet_box(films, part, layout)
    drawings = (
        part_drawing("part", part, part, sources, layout),
        film_drawing("film", films[0], part, layout, box),
    )
    places = [[circle.centre for circle in by_layer(each)[Layer.MARKS].shapes] for each in drawings]
    assert places[0] == places[1] == [mark.at for mark in layout.marks]


def test_the_height_can_be_read_between_two_level_lines(kit):
    layout, part, _, films = kit
    notes = by_layer(film_drawing("film", films[0], part, layout, kit_sheet_box(films, part, layout)))[
        Layer.NOTES
    ]
    low, high = notes.shapes
    assert low.start[1] == low.end[1] == pytest.approx(layout.shape_at[1])
    assert high.start[1] - low.start[1] == pytest.approx(100.0)


def test_the_sheet_box_holds_marks_and_films_and_the_page_holds_the_stock(kit):
    layout, part, _, films = kit
    box = kit_sheet_box(films, part, layout)
    drawing = film_drawing("film", films[0], part, layout, box)
    x_min, y_min, x_max, y_max = box.loop.bounds()
    for mark in layout.marks:
        assert x_min + 3 <= mark.at[0] <= x_max - 3
        assert y_min + 3 <= mark.at[1] <= y_max - 3
    assert drawing.box[0] <= 0
    assert drawing.box[2] >= layout.stock.width_mm


def test_mirrored_once_for_the_back_and_mirrored_twice_is_the_drawing(kit):
    layout, part, _, films = kit
    drawing = film_drawing("film", films[0], part, layout, kit_sheet_box(films, part, layout))
    back = mirrored(drawing, layout.mirror_x)
    key = by_layer(back)[Layer.MARKS].shapes[0]
    assert key.centre == (2 * layout.mirror_x - layout.marks[0].at[0], layout.marks[0].at[1])
    assert key.centre[0] > layout.mirror_x
    assert back.box[0] == pytest.approx(2 * layout.mirror_x - drawing.box[2])
    assert back.box[2] == pytest.approx(2 * layout.mirror_x - drawing.box[0])
    again = mirrored(back, layout.mirror_x)
    assert again.box == pytest.approx(drawing.box)
    for layer, original in zip(again.layers, drawing.layers, strict=True):
        for shape, first in zip(layer.shapes, original.shapes, strict=True):
            assert type(shape) is type(first)
            if isinstance(shape, Loop):
                assert shape.signed_area() == pytest.approx(first.signed_area())
                np.testing.assert_allclose(shape.points, first.points, atol=1e-12)
            elif isinstance(shape, Circle):
                assert shape.centre == pytest.approx(first.centre)
            elif isinstance(shape, Line):
                assert (*shape.start, *shape.end) == pytest.approx((*first.start, *first.end))


def test_a_film_is_begun_off_its_corners(kit):
    layout, part, _, films = kit
    corners = (
        np.array([[0, 0], [9, 0], [10, 1], [10, 9], [9, 10], [0, 10]], float) + part[0].outer.bounds()[0]
    )
    quarter = np.tan(np.pi / 8)
    film = replace(films[0], regions=(Region(Loop(corners, np.array([0, quarter, 0, quarter, 0, 0]))),))
    box = kit_sheet_box((film,), part, layout)
    (begun,) = by_layer(film_drawing("film", film, part, layout, box))[Layer.FILM].shapes
    start = begun.points[0] - corners[0]
    assert start.tolist() in ([9, 0], [10, 1], [10, 9], [9, 10])  # tangent points, not the three corners
