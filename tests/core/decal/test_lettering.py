"""Rows of glyphs: found, kept whole, and nothing else taken for lettering."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.decal.change import as_regions
from core.decal.film import FilmSource
from core.decal.films import FilmWish, films_as_wished
from core.decal.glyph_rows import glyph_rows
from core.outline.polygon import to_polygon

#: A word as boxes, mm: capital, three small letters, one with a tail, a dot over one.
WORD = [(0, 0, 4, 6), (5, 0, 8, 4), (9, 0, 12, 4), (13, -1.8, 16, 4), (17, 0, 18, 4), (17, 5, 18, 6)]


def turned(boxes, quarters):
    for _ in range(quarters):
        boxes = [(-y_max, x_min, -y_min, x_max) for x_min, y_min, x_max, y_max in boxes]
    return boxes


@pytest.mark.parametrize("quarters", range(4))
def test_a_word_is_one_row_with_its_tail_and_dot_whichever_way_it_is_turned(quarters):
    assert glyph_rows(turned(WORD, quarters)) == [tuple(range(6))]


@given(st.randoms(use_true_random=False), st.floats(-0.03, 0.03))
@settings(deadline=None)
def test_the_order_of_the_pieces_and_a_little_overshoot_matter_to_no_row(random, overshoot):
    order = list(range(len(WORD)))
    random.shuffle(order)
    boxes = [(x0, y0 + overshoot * (k % 2) * 4, x1, y1) for k, (x0, y0, x1, y1) in enumerate(WORD)]
    (row,) = glyph_rows([boxes[one] for one in order])
    assert sorted(order[one] for one in row) == list(range(6))


def test_two_words_apart_are_two_rows_and_a_far_crumb_is_in_none():
    other = [(x0 + 40, y0, x1 + 40, y1) for x0, y0, x1, y1 in WORD]
    rows = glyph_rows([*WORD, *other, (30, 3, 31, 4)])
    assert sorted(rows) == [tuple(range(6)), tuple(range(6, 12))]


@pytest.mark.parametrize(
    "boxes",
    [
        [(0, 0, 4, 6), (5, 0, 9, 6)],
        [(0, 0, 4, 6), (5, 1, 9, 7), (10, 2, 14, 8)],
        [(0, 0, 4, 6), (5, 0, 9, 7), (10, 0, 14, 8.2)],
        [(0, 0, 0.4, 0.6), (1, 0, 1.4, 0.6), (2, 0, 2.4, 0.6)],
        [(0, 0, 40, 6), (45, 0, 85, 6), (90, 0, 130, 6)],
    ],
)
def test_what_is_too_few_unequal_tiny_or_wide_is_no_row(boxes):
    assert glyph_rows(boxes) == []


PART = shapely.box(0, 0, 60, 30)


def bars(y, height=6.0, count=5):
    return [shapely.box(10 + 5 * k, y, 13 + 5 * k, y + height) for k in range(count)]


def made(row, wish, around=None, part=PART):
    areas = {"ink": shapely.union_all(row)}
    if around is not None:
        areas["sand"] = around.difference(areas["ink"])
    colours = {"ink": "#101010", "sand": "#e9c46a"}
    sources = tuple(FilmSource(name, colours[name], as_regions(area)) for name, area in areas.items())
    return films_as_wished(sources, as_regions(part), FilmWish(1.0, lettering=wish))


def area_of(films, name):
    film = next(one for one in films.films if one.name == name)
    return shapely.union_all(list(shapely.get_parts(to_polygon(film.regions, 1e-3))))


def codes(films):
    return {one.code for one in films.findings}


def test_a_row_that_the_inset_clips_is_told_at_its_worst_place_with_what_helps():
    films = made(bars(0.4), "clipped")
    (told,) = [one for one in films.findings if one.code == "lettering-clipped"]
    assert told.at[1] == pytest.approx(0.4)
    assert "0.6 mm beyond" in told.text
    assert "move the row as a whole, by 0.6 mm" in told.remedy.lower()
    assert "9" in told.remedy  # per cent of its size
    assert area_of(films, "ink").area == pytest.approx(5 * 3 * 5.4)


@pytest.mark.parametrize("around", [None, PART])
def test_a_row_is_moved_whole_by_the_least_that_helps_and_its_ground_closes_behind_it(around):
    films = made(bars(0.4), "moved", around)
    (row,) = films.rows
    assert row.shift == pytest.approx((0.0, 0.62), abs=0.01)
    assert row.ground == ("" if around is None else "sand")
    wanted = shapely.union_all(bars(0.4 + row.shift[1]))
    assert shapely.symmetric_difference(area_of(films, "ink"), wanted).area < 1e-6
    assert codes(films) & {"lettering-clipped", "lettering-whole"} == {"lettering-whole"}
    if around is not None:
        sand = area_of(films, "sand")
        assert shapely.intersection(sand, wanted).area < 1e-9
        assert sand.area + wanted.area == pytest.approx(58 * 28, abs=1e-6)


def test_a_row_made_smaller_keeps_its_form_and_lies_on_the_face():
    films = made(bars(0.4), "scaled")
    (row,) = films.rows
    assert 0.85 < row.scale < 1.0
    ink = area_of(films, "ink")
    assert ink.area == pytest.approx(5 * 18 * row.scale**2, abs=1e-6)
    assert shapely.box(1, 1, 59, 29).covers(ink)


def test_counters_move_with_their_letters_and_so_does_what_shows_in_them():
    rings = [bar.difference(bar.buffer(-0.9, join_style="mitre")) for bar in bars(0.4)]
    films = made(rings, "moved", PART)
    up = films.rows[0].shift[1]
    sand = area_of(films, "sand")
    for bar in bars(0.4):
        inner = shapely.affinity.translate(bar.buffer(-0.9, join_style="mitre"), 0, up)
        assert shapely.difference(inner, sand).area < 1e-6


def test_a_row_that_is_not_clipped_stays_where_it_is():
    films = made(bars(5.0), "moved")
    assert films.rows == ()
    assert not codes(films) & {"lettering-clipped", "lettering-whole"}


def test_a_row_without_room_stays_and_is_told():
    strip = shapely.box(0, 0, 60, 7.0)
    films = made(bars(0.4), "moved", part=strip)
    assert films.rows == ()
    (told,) = [one for one in films.findings if one.code == "lettering-clipped"]
    assert "could not be moved" in told.text
    assert "% of its size" in told.remedy


def test_letters_that_are_the_part_itself_are_no_row_on_it():
    letters = shapely.union_all(bars(0.0))
    films = made(bars(0.0), "moved", part=letters)
    assert films.rows == ()
    assert "lettering-clipped" not in codes(films)


def test_a_row_is_not_moved_onto_another_film():
    wall = shapely.box(0, 6.6, 60, 20)
    sources = (
        FilmSource("ink", "#101010", as_regions(shapely.union_all(bars(0.4)))),
        FilmSource("wall", "#ff0000", as_regions(wall)),
    )
    films = films_as_wished(sources, as_regions(PART), FilmWish(1.0, lettering="moved"))
    assert films.rows == ()
    assert np.isclose(area_of(films, "wall").area, 58 * 13.4)
