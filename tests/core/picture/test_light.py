"""Uneven light taken out before anything is concluded from colours."""

import numpy as np
import pytest

from core.cancel import NEVER
from core.picture.colours import ColourWish, find_colours
from core.picture.light import evened
from core.trace.trace import trace
from tests.support import drawn as d
from tests.support.score import score


def _grid(shape):
    y, x = np.mgrid[0 : shape[0], 0 : shape[1]]
    return x / shape[1], y / shape[0]


def falling(x, _y):
    return 1.0 - 0.4 * x


def round_the_middle(x, y):
    return 1.0 - 0.9 * ((x - 0.4) ** 2 + (y - 0.5) ** 2)


def shadow(x, y):
    return 1.0 - 0.35 / (1.0 + np.exp(-30.0 * (x + 0.3 * y - 0.7)))


def under(light, pixels):
    return d.eight_bit(pixels * light(*_grid(pixels.shape))[..., None])


def taken(shape, light, palette=d.BLACK_ON_WHITE):
    return evened(d.picture_of(under(light, d.drawn(shape, palette))))


@pytest.mark.parametrize("light", [falling, round_the_middle, shadow])
@pytest.mark.parametrize("shape", d.shapes(300)[1:4], ids=lambda shape: shape.name)
def test_an_outline_under_uneven_light_is_the_one_that_was_drawn(light, shape):
    made = taken(shape, light)
    colours = find_colours(made.picture, ColourWish())
    found = score(trace(made.picture, colours, NEVER), shape)
    assert len(colours.palette) == 2
    assert found.rms <= (0.03 if light is shadow else 0.015)
    assert found.corner <= 0.1
    assert found.pieces <= 1.15


def test_the_ground_becomes_one_colour_and_the_note_says_how_far_it_fell_off():
    made = taken(d.shapes(300)[2], falling)
    rim = made.picture.pixels[:20].reshape(-1, 3)
    assert np.ptp(rim, axis=0).max() < 4 / 255
    (finding,) = made.findings
    assert finding.code == "light-evened"
    assert 32 <= int(finding.text.split(" %")[0].rsplit(" ", 1)[1]) <= 42


@pytest.mark.parametrize("spoil", [d.eight_bit, d.noisy(12), d.jpeg(30), d.blurred(1.5)])
def test_a_picture_in_even_light_is_the_very_same(spoil):
    for shape in (d.shapes(300)[0], d.shapes(300)[6]):
        picture = d.picture_of(spoil(d.drawn(shape, d.BLACK_ON_WHITE)))
        assert evened(picture).picture is picture


def test_flat_colours_on_even_ground_are_never_taken_for_shadows():
    palette = np.array([[1.0, 1.0, 1.0], [0.93, 0.9, 0.84], [0.7, 0.75, 0.9], [0.2, 0.3, 0.4]])
    picture = d.picture_of(d.eight_bit(d.drawn(d.pie(300), palette)))
    assert evened(picture).picture is picture


def test_a_dark_ground_says_nothing_of_the_light():
    picture = d.picture_of(under(falling, d.drawn(d.shapes(300)[2], d.BLACK_ON_WHITE[::-1])))
    assert evened(picture).picture is picture


def test_four_colours_under_falling_light_stay_four():
    made = taken(d.pie(300), falling, d.FOUR)
    assert len(find_colours(made.picture, ColourWish()).palette) == 4
