"""Pieces left out, and tips with an inset of their own."""

import numpy as np
import pytest
import shapely

from core.decal.edits import Edits
from core.decal.face import TipWish, face_of, nearer_tips
from core.decal.film import FilmSource
from core.decal.films import FilmWish, films_as_wished
from core.decal.laying import Laying
from core.decal.left_out import LeftOut
from core.outline.boolean import difference
from core.outline.loop import Loop
from core.outline.polygon import to_polygon
from core.outline.region import Region


def box(x_min, y_min, x_max, y_max):
    corners = [[x_min, y_min], [x_max, y_min], [x_max, y_max], [x_min, y_max]]
    return Region(Loop(np.array(corners, float), np.zeros(4)))


PART = (box(0, 0, 60, 40),)
DOTS = tuple(Region(Loop.circle((10.0 * k, 20.0), 0.5 * k)) for k in range(1, 6))
LOWER = FilmSource("sand", "#e9c46a", difference(PART, DOTS))
UPPER = FilmSource("sea", "#103040", DOTS)
SIZES = [np.pi * (0.5 * k) ** 2 for k in range(1, 6)]


def made(left_out, overlap=0.0):
    wish = FilmWish(1.0, Laying(overlap), Edits(left_out))
    return {film.name: film for film in films_as_wished((LOWER, UPPER), PART, wish).films}


@pytest.mark.parametrize("overlap", [0.0, 0.4])
def test_pieces_under_an_area_are_left_out_and_told(overlap):
    films = made(LeftOut(8.0), overlap)
    assert films["sea"].pieces == 2
    assert films["sea"].area() == pytest.approx(sum(SIZES[3:]))
    assert [one.area_mm2 for one in films["sea"].dropped] == pytest.approx(SIZES[:3], abs=0.05)
    assert films["sand"].dropped == ()


def test_a_piece_is_left_out_by_a_point_in_it_and_one_beside_it_stays():
    films = made(LeftOut(at=((50.5, 21.0), (10.0, 30.0))))  # the second point lies in the lower film
    assert films["sea"].pieces == 4
    assert "sand" not in films
    assert made(LeftOut(at=((30.0, 25.0),))).keys() == {"sea"}


def test_nothing_is_led_on_under_a_piece_that_is_left_out():
    whole, less = made(LeftOut(), 0.4), made(LeftOut(8.0), 0.4)
    hole = shapely.Point(30.0, 20.0).buffer(1.4)
    assert shapely.intersects(to_polygon(whole["sand"].regions, 0.01), hole)
    assert not shapely.intersects(to_polygon(less["sand"].regions, 0.01), hole)
    other = shapely.Point(50.0, 20.0).buffer(2.4)
    assert shapely.intersects(to_polygon(less["sand"].regions, 0.01), other)


def test_a_film_of_which_all_is_left_out_says_so():
    films = films_as_wished((UPPER,), PART, FilmWish(1.0, edits=Edits(LeftOut(100.0))))
    assert films.films == ()
    assert "all its pieces are left out" in films.findings[0].text


SPIKE = (Region(Loop(np.array([[0.0, 0.0], [40.0, -5.0], [40.0, 5.0]]), np.zeros(3))),)
HALF = np.arctan2(5.0, 40.0)


def test_a_tip_gets_film_as_near_as_its_own_inset_lets_it():
    (tip,) = nearer_tips((TipWish((0.0, 0.0), 0.2),), SPIKE, 0.8)
    assert tip.reach_mm == pytest.approx(0.8 / np.sin(HALF) + 0.8, abs=0.01)
    faces = [to_polygon(face_of(SPIKE, 0.8, tips), 0.001) for tips in ((), (tip,))]
    assert [face.bounds[0] for face in faces] == pytest.approx(
        [0.8 / np.sin(HALF), 0.2 / np.sin(HALF)], abs=0.01
    )
    far = shapely.box(tip.reach_mm + 0.1, -9, 99, 9)
    assert shapely.equals_exact(*(shapely.normalize(face & far) for face in faces), tolerance=1e-6)
    edge = to_polygon(SPIKE, 0.001)
    assert shapely.distance(shapely.boundary(edge), faces[1]) == pytest.approx(0.2, abs=0.001)


def test_a_tip_with_a_larger_inset_changes_nothing_and_a_lost_one_is_told():
    assert nearer_tips((TipWish((0.0, 0.0), 0.9),), SPIKE, 0.8) == ()
    source = FilmSource("sea", "#103040", SPIKE)
    plain = films_as_wished((source,), SPIKE, FilmWish(0.8))
    nearer = films_as_wished((source,), SPIKE, FilmWish(0.8, tips=(TipWish((0.0, 0.0), 0.0),)))
    (lost,) = [one for one in plain.findings if one.code == "tip-lost"]
    assert lost.at == pytest.approx((0.0, 0.0))
    assert f"{0.8 / np.sin(HALF):.1f} mm short" in lost.text
    assert [one for one in nearer.findings if one.code == "tip-lost"] == []
    assert [one for one in nearer.excepted if one.why == "tip"] == []
