"""The picture of the finished thing."""

import io

import numpy as np
import pytest
from PIL import Image

from core.outline.loop import Loop
from core.outline.region import Region
from core.paper.view import (
    LONG_SIDE_PX,
    FilmLook,
    Look,
    from_behind,
    inset,
    mixed,
    picture,
    print_px,
    view_box,
)

DISC = (Region(Loop.circle((50.0, 40.0), 40.0), (Loop.circle((50.0, 60.0), 5.0).reversed(),)),)
FILM = (FilmLook("teal", "#1f7a6d", (Region(Loop.circle((50.0, 30.0), 15.0)),)),)


def pixels(look):
    return np.asarray(Image.open(io.BytesIO(picture(look))).convert("RGB")).astype(int)


def at(look, x, y):
    """The colour at a point of the frame."""
    image = pixels(look)
    x_min, y_min, x_max, y_max = view_box(look)
    row = (y_max - y) / (y_max - y_min) * image.shape[0]
    return tuple(image[int(row), int((x - x_min) / (x_max - x_min) * image.shape[1])])


def test_the_picture_is_as_large_as_promised_and_the_same_every_time():
    look = Look(DISC, DISC, FILM, is_clear=True)
    assert max(pixels(look).shape) == LONG_SIDE_PX
    assert picture(look) == picture(look)


def test_film_is_flat_colour_in_its_place_and_an_opening_shows_no_sheet():
    look = Look(DISC, DISC, FILM, is_clear=False, stock_colour="#806040")
    assert at(look, 50, 30) == (0x1F, 0x7A, 0x6D)
    assert at(look, 30, 50) == (0x80, 0x60, 0x40)
    assert at(look, 52, 57) not in ((0x80, 0x60, 0x40), (0x1F, 0x7A, 0x6D))


def test_clear_stock_catches_the_light_on_its_upper_left():
    look = Look(DISC, DISC, (), is_clear=True)
    lit = at(look, 50 - 39.6 * 0.6, 40 + 39.6 * 0.8)
    dark = at(look, 50 + 39.6 * 0.6, 40 - 39.6 * 0.8)
    assert sum(lit) > sum(dark) + 200


def test_film_behind_clear_stock_is_seen_through_it():
    behind = at(Look(DISC, DISC, FILM, is_clear=True, is_behind=True), 50, 30)
    assert behind != (0x1F, 0x7A, 0x6D)
    assert behind[1] > behind[0]


def test_a_part_that_no_bit_can_cut_yet_is_shown_as_traced():
    assert view_box(Look(DISC, (), (), is_clear=True)) == view_box(Look(DISC, DISC, (), is_clear=True))


def test_an_inset_square_is_smaller_by_twice_the_distance():
    square = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])
    assert inset(square, 1.0) == pytest.approx(np.array([[1.0, 1.0], [9.0, 1.0], [9.0, 9.0], [1.0, 9.0]]))


def test_colours_mix_in_between():
    assert mixed("#000000", "#ff8040", 0.5) == "#804020"


def test_from_behind_it_is_turned_like_a_page_and_film_on_clear_stock_is_seen_through_it():
    beside = (FilmLook("teal", "#1f7a6d", (Region(Loop.circle((30.0, 30.0), 10.0)),)),)
    front = Look(DISC, DISC, beside, is_clear=True)
    back = from_behind(front)
    assert at(back, 30, 30) == at(back, 30, 50)  # bare there
    assert at(back, 70, 30)[1] > at(back, 70, 30)[0] + 20  # film there, through the sheet
    assert at(back, 70, 30) != at(front, 30, 30)
    assert from_behind(back).films[0].regions[0].area() == pytest.approx(beside[0].regions[0].area())


def test_the_lower_film_is_the_upper_one_from_behind():
    both = (FILM[0], FilmLook("red", "#ff0000", FILM[0].regions))
    assert [film.name for film in from_behind(Look(DISC, DISC, both, is_clear=True)).films] == ["red", "teal"]


def test_the_back_of_stock_that_is_not_clear_is_bare():
    assert from_behind(Look(DISC, DISC, FILM, is_clear=False)).films == ()


def test_for_print_there_are_ten_pixels_a_mm_and_never_fewer_than_for_the_screen():
    large = (Region(Loop.circle((50.0, 40.0), 80.0)),)
    assert print_px(Look(large, large, (), is_clear=True)) == round(160 * 1.16 * 10)
    assert print_px(Look(DISC, DISC, (), is_clear=True)) == LONG_SIDE_PX
