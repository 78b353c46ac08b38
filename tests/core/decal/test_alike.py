"""Films whose colours cannot be told apart."""

import numpy as np
import pytest

from core.decal.alike import TOO_ALIKE, alike_findings
from core.decal.film import Film, FilmSource
from core.decal.films import make_films
from core.outline.loop import Loop
from core.outline.region import Region
from core.picture.oklab import from_oklab, to_oklab


def box(x_min, y_min, x_max, y_max):
    corners = [[x_min, y_min], [x_max, y_min], [x_max, y_max], [x_min, y_max]]
    return Region(Loop(np.array(corners, float), np.zeros(4)))


def film(name, colour, region):
    return Film(name, colour, (region,), 1.0, 9.0)


def lighter_by(lightness):
    lab = to_oklab(np.array([0.3, 0.5, 0.6])) + np.array([lightness, 0.0, 0.0])
    return "#" + "".join(f"{round(float(one) * 255):02x}" for one in from_oklab(lab))


@pytest.mark.parametrize(("apart", "told"), [(0.0, True), (0.04, True), (0.06, False), (0.3, False)])
def test_two_films_are_too_alike_by_how_far_their_colours_look_apart(apart, told):
    films = [
        film("sea", lighter_by(0.0), box(0, 0, 10, 10)),
        film("sky", lighter_by(apart), box(14, 2, 20, 9)),
    ]
    found = alike_findings(films)
    assert [one.code for one in found] == ["colours-too-alike"] * told
    assert abs(TOO_ALIKE - 0.05) < 0.009  # the cases above stand on both sides of it


def test_it_is_told_where_the_two_come_nearest_and_for_every_two():
    same = [film(name, "#2c6e91", box(x, 0, x + 10, 10)) for name, x in (("a", 0), ("b", 14), ("c", 40))]
    found = alike_findings(same)
    assert len(found) == 3
    assert found[0].at[0] == pytest.approx(10.0)
    assert 0.0 <= found[0].at[1] <= 10.0
    assert "a (#2c6e91) and b" in found[0].text


def test_films_of_a_part_tell_it_with_the_others():
    part = (box(0, 0, 40, 20),)
    sources = tuple(
        FilmSource(name, colour, (region,))
        for name, colour, region in (
            ("teal", "#2c6e91", box(0, 0, 20, 20)),
            ("teal-2", "#2d6f90", box(20, 0, 40, 20)),
        )
    )
    (told,) = [one for one in make_films(sources, part, 1.0).findings if one.code == "colours-too-alike"]
    assert told.at[0] == pytest.approx(20.0)
