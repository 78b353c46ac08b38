"""Outside corners of films: rounded where they stand free, and nowhere else."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.decal.film import FilmSource
from core.decal.films import FilmWish, films_as_wished
from core.decal.round_corners import sharp_findings, with_round_corners
from core.outline.loop import Loop
from core.outline.polygon import to_polygon
from core.outline.region import Region
from core.proof.rounding import NOTHING, cusps, refilled


def flat(corners):
    return Region(Loop(np.array(corners, float), np.zeros(len(corners))))


def square(x, y, side):
    return flat([[x, y], [x + side, y], [x + side, y + side], [x, y + side]])


STARS = st.lists(st.floats(0.35, 1.0), min_size=5, max_size=12)


def star(radii, size=20.0):
    angles = np.linspace(0, 2 * np.pi, len(radii), endpoint=False)
    return flat(size * np.column_stack((np.cos(angles), np.sin(angles))) * np.array(radii)[:, None])


def test_a_square_loses_four_corners_of_the_radius():
    ((made,),) = with_round_corners([(square(0, 0, 10),)], 1.0)
    assert made.area() == pytest.approx(100.0 - (4.0 - np.pi))
    assert made.outer.bounds() == pytest.approx((0, 0, 10, 10))
    assert np.count_nonzero(made.outer.bulges) == 4


def test_a_corner_without_room_gets_a_smaller_radius():
    ((made,),) = with_round_corners([(flat([[0, 0], [20, 0], [20, 1], [0, 1]]),)], 1.0)
    assert 20.0 - 0.3 < made.area() < 20.0
    assert np.count_nonzero(made.outer.bulges) == 4


def test_inside_corners_and_those_of_an_opening_that_point_into_the_film_stay():
    hole = square(4, 4, 2).outer.reversed()
    region = Region(square(0, 0, 10).outer, (hole,))
    ((made,),) = with_round_corners([(region,)], 0.5)
    assert made.openings[0].points.tolist() == hole.points.tolist()


def test_where_another_film_adjoins_nothing_is_rounded():
    left, right = square(0, 0, 10), square(10, 0, 10)
    (one,), (other,) = with_round_corners([(left,), (right,)], 1.0)
    assert one.area() == other.area() == pytest.approx(100.0 - 2.0 * (1.0 - np.pi / 4.0))
    points = {tuple(point) for point in one.outer.points.tolist()}
    assert {(10.0, 0.0), (10.0, 10.0)} <= points


@given(STARS, st.floats(0.2, 2.0))
@settings(deadline=None, max_examples=40)
def test_rounding_takes_only_what_a_disc_does_not_reach_and_the_proof_puts_it_back(radii, radius):
    region = star(radii)
    (made,) = with_round_corners([(region,)], radius)
    own, film = to_polygon((region,), 0.001), to_polygon(made, 0.001)
    opened = own.buffer(-radius, quad_segs=64).buffer(radius, quad_segs=64)
    assert shapely.difference(film, own.buffer(1e-6)).area < 1e-6
    assert shapely.difference(opened, film.buffer(0.005)).area < NOTHING
    taken = [part for part in shapely.get_parts(shapely.difference(own, film)) if part.area > NOTHING]
    if all(part.area < 4.0 * radius**2 for part in taken):
        back = refilled(film, cusps(own, own, radius), own)
        assert shapely.symmetric_difference(back, own).area < NOTHING * (1 + len(taken))


def test_a_thin_stroke_is_no_cusp_and_must_be_there():
    own = shapely.union(shapely.box(0, 0, 10, 10), shapely.box(10, 4, 20, 4.8))
    without = shapely.box(0, 0, 10, 10)
    back = refilled(without, cusps(own, own, 0.5), own)
    assert shapely.difference(own, back).area > 5.0


def test_sharp_corners_are_told_and_rounded_ones_are_not():
    spike = flat([[0, 0], [20, -2], [20, 2]])
    (note,) = sharp_findings(["sea"], [(spike,)])
    assert (note.code, note.at) == ("corner-lifts", (0.0, 0.0))
    assert sharp_findings(["sea"], [(square(0, 0, 5),)]) == []
    source = FilmSource("sea", "#103040", (flat([[2, 2], [20, 2], [2, 6]]),))
    part = (square(0, 0, 30),)
    plain = films_as_wished((source,), part, FilmWish(1.0))
    rounded = films_as_wished((source,), part, FilmWish(1.0, corner_mm=0.5))
    assert [one.code for one in plain.findings if one.code == "corner-lifts"] == ["corner-lifts"]
    assert [one.code for one in rounded.findings if one.code == "corner-lifts"] == []
    assert rounded.films[0].area() < plain.films[0].area()
