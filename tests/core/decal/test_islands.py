"""Small pieces joined, small openings filled; told where neither is possible."""

import pytest
import shapely

from core.decal.change import as_regions
from core.decal.edits import Edits
from core.decal.film import FilmSource
from core.decal.films import FilmWish, films_as_wished
from core.decal.islands import IslandWish
from core.decal.left_out import LeftOut
from core.outline.polygon import to_polygon

PART = as_regions(shapely.box(-10, -10, 40, 20))
BODY = shapely.box(0, 0, 10, 10)
DOT = shapely.box(12, 4, 13, 5)


def made(areas, *edits, inset=1.0):
    sources = tuple(
        FilmSource(name, colour, as_regions(area))
        for name, colour, area in zip(("a", "b"), ("#f0f0f0", "#101010"), areas, strict=False)
    )
    left_out = next((one for one in edits if isinstance(one, LeftOut)), LeftOut())
    islands = next((one for one in edits if isinstance(one, IslandWish)), IslandWish())
    return films_as_wished(sources, PART, FilmWish(inset, edits=Edits(left_out, islands)))


def area_of(film):
    return shapely.union_all(list(shapely.get_parts(to_polygon(film.regions, 1e-3))))


@pytest.mark.parametrize("wish", [IslandWish(joined=((12.5, 4.5),)), IslandWish(joins_all=True)])
def test_a_small_piece_is_joined_by_a_strip_as_wide_as_asked(wish):
    (film,) = made([shapely.union(BODY, DOT)], wish).films
    assert film.pieces == 1
    assert film.area() == pytest.approx(101.0 + 2.0 * 1.0, abs=0.01)
    (bridge,) = film.done.bridges
    assert bridge.width_mm == 1.0
    assert bridge.start[0] == pytest.approx(12.5)
    assert bridge.end[0] == pytest.approx(9.5)


def test_without_a_wish_it_stays_and_is_told():
    films = made([shapely.union(BODY, DOT)])
    assert films.films[0].pieces == 2
    (told,) = [one for one in films.findings if one.code == "tiny-piece"]
    assert shapely.contains(DOT, shapely.Point(told.at))  # the place can be pressed: it lies in the piece


def test_no_bridge_crosses_another_film_and_that_is_told():
    wall = shapely.box(10.5, -5, 11.5, 15)
    films = made([shapely.union(BODY, DOT), wall], IslandWish(joins_all=True))
    assert [film.done.bridges for film in films.films] == [(), ()]
    assert "film-not-joined" in {one.code for one in films.findings}


def test_no_bridge_leaves_the_face():
    part = as_regions(shapely.union_all([shapely.box(-5, -5, 15, 5), shapely.box(-5, -5, 0, 15)]))
    ends = shapely.union(shapely.box(12, 1, 13, 3), shapely.box(-3, 11, 0, 13))
    films = films_as_wished(
        (FilmSource("a", "#101010", as_regions(ends)),),
        part,
        FilmWish(0.5, edits=Edits(islands=IslandWish(joins_all=True))),
    )
    assert [film.done.bridges for film in films.films] == [()]


@pytest.mark.parametrize("wish", [IslandWish(filled=((5, 5),)), IslandWish(fills_all=True)])
def test_a_small_opening_is_filled(wish):
    hole = shapely.Point(5, 5).buffer(0.7)
    plain = made([BODY.difference(hole)])
    (told,) = [one for one in plain.findings if one.code == "tiny-opening"]
    assert shapely.contains(hole, shapely.Point(told.at))
    (film,) = made([BODY.difference(hole)], wish).films
    assert film.area() == pytest.approx(100.0)
    assert film.regions[0].openings == ()
    (filled,) = film.done.filled
    assert filled.area_mm2 == pytest.approx(hole.area, abs=1e-6)


def test_an_opening_in_which_another_film_shows_is_not_filled_unless_that_is_left_out():
    hole = shapely.Point(5, 5).buffer(0.7)
    areas = [BODY.difference(hole), hole]
    kept = made(areas, IslandWish(fills_all=True)).films
    assert [film.done.filled for film in kept] == [(), ()]
    (alone,) = made(areas, IslandWish(fills_all=True), LeftOut(all_small=True)).films
    assert alone.area() == pytest.approx(100.0)


def test_an_opening_where_the_part_ends_is_not_filled():
    ring = as_regions(shapely.box(-10, -10, 40, 20).difference(shapely.Point(5, 5).buffer(0.3)))
    source = FilmSource("a", "#101010", as_regions(BODY))
    films = films_as_wished(
        (source,), ring, FilmWish(0.3, edits=Edits(islands=IslandWish(filled=((5, 5),), fills_all=True)))
    )
    assert films.films[0].done.filled == ()
    assert films.films[0].area() < 99.5


def test_all_small_pieces_are_left_out_alike_thin_ones_too():
    thin = shapely.box(20, 0, 30, 0.7)
    (film,) = made([shapely.union_all([BODY, DOT, thin])], LeftOut(all_small=True)).films
    assert film.pieces == 1
    assert len(film.dropped) == 2
