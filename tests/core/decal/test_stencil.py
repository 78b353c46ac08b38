"""A stencil is the face without the film; bridges, when asked for, hold each island from two sides."""

import numpy as np
import pytest
import shapely

from core.decal.film import FilmSource
from core.decal.films import FilmWish, films_as_wished
from core.decal.stencil import StencilWish
from core.outline.boolean import difference, union
from core.outline.loop import Loop
from core.outline.offset import shrunk
from core.outline.polygon import to_polygon
from tests.support.shapes import area, rectangle, rounded, solid

PART = solid(rounded(80, 50, 8))
RING = difference(solid(Loop.circle((25, 25), 12)), solid(Loop.circle((25, 25), 7)))
EIGHT = difference(
    solid(rectangle(16, 34, (50, 8))),
    union(solid(rectangle(8, 10, (54, 12))), solid(rectangle(8, 10, (54, 28)))),
)
INK = union(RING, EIGHT)


def flat(regions):
    return shapely.union_all(to_polygon(regions, 1e-4).geoms)


def made(bridge=0.0, names=("ink",), more=()):
    sources = (FilmSource("ink", "#000000", INK), *more)
    return films_as_wished(sources, PART, FilmWish(0.8, stencils=StencilWish(names, bridge)))


def test_it_is_the_face_without_the_film():
    (film,) = made().films
    assert film.area() == pytest.approx(area(shrunk(PART, 0.8)) - area(INK), abs=1e-6)
    assert film.pieces == 4
    assert film.stencil is not None
    assert film.stencil.bridges == ()


def test_no_film_is_a_stencil_unless_it_is_named():
    (film,) = made(names=()).films
    assert film.stencil is None
    assert film.area() == pytest.approx(area(INK), abs=1e-6)
    assert [one.code for one in made(names=("oink",)).findings if "stencil" in one.code] == [
        "stencil-unknown"
    ]


def test_two_bridges_hold_each_island_and_all_is_one_piece():
    (film,) = made(bridge=2.0).films
    assert film.pieces == 1
    assert len(film.stencil.bridges) == 6
    assert film.stencil.loose == ()
    solidly = flat(film.regions)
    for bridge in film.stencil.bridges:
        assert bridge.width_mm == 2.0
        assert shapely.Polygon(bridge.corners()).difference(solidly).area < 1e-3


def test_the_two_bridges_of_an_island_lie_on_sides_that_are_apart():
    (film,) = made(bridge=1.5).films
    of_ring = [np.array(one.middle) - (25, 25) for one in film.stencil.bridges if one.middle[0] < 40]
    assert len(of_ring) == 2
    first, other = (np.arctan2(*way) for way in of_ring)
    apart = abs((first - other + np.pi) % (2 * np.pi) - np.pi)
    assert apart >= np.radians(90)


def test_any_one_bridge_may_tear_and_nothing_falls_out():
    (film,) = made(bridge=2.0).films
    base = difference(shrunk(PART, 0.8), INK)
    for torn in film.stencil.bridges:
        left = [shapely.Polygon(one.corners()) for one in film.stencil.bridges if one is not torn]
        assert shapely.union_all([flat(base), *left]).geom_type == "Polygon"


def test_an_island_too_small_for_bridges_is_told():
    dots = difference(solid(Loop.circle((25, 25), 12)), solid(Loop.circle((25, 25), 0.7)))
    wish = FilmWish(0.8, stencils=StencilWish(("ink",), 3.0))
    films = films_as_wished((FilmSource("ink", "#000000", dots),), PART, wish)
    (film,) = films.films
    assert len(film.stencil.loose) == 1
    assert "island-loose" in {one.code for one in films.findings}


def test_a_stencil_beside_another_film_takes_nothing_from_it():
    disc = solid(Loop.circle((25, 25), 7))
    more = (FilmSource("sun", "#ffd000", disc),)
    sun = next(film for film in made(more=more).films if film.name == "sun")
    alone = next(film for film in made(names=(), more=more).films if film.name == "sun")
    assert alone.area() >= sun.area() == pytest.approx(area(disc), abs=1e-6)
