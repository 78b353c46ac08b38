"""Edges read on the curve on which they were mixed."""

import numpy as np
import pytest

from core.cancel import NEVER
from core.picture.colours import ColourWish, find_colours
from core.picture.oklab import from_oklab
from core.picture.transfer import Transfer, at_edges, linear
from core.trace.trace import trace
from tests.support import drawn as d
from tests.support.score import score


def stored(light):
    """Numbers on sRGB's curve; undone by linear()."""
    return np.where(light <= 0.0031308, light * 12.92, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055)


def mixed_as_light(shape, palette):
    return d.eight_bit(stored(d.drawn(shape, linear(palette))))


def found(shape, pixels, transfer):
    picture = d.picture_of(pixels)
    return score(trace(*at_edges(picture, find_colours(picture, ColourWish()), transfer), NEVER), shape)


@pytest.mark.parametrize("shape", d.shapes(300)[:4], ids=lambda shape: shape.name)
def test_edges_mixed_as_light_are_found_where_they_are_when_light_is_assumed(shape):
    pixels = mixed_as_light(shape, d.BLACK_ON_WHITE)
    assert found(shape, pixels, Transfer.LINEAR_LIGHT).rms < 0.02
    assert found(shape, pixels, Transfer.AS_STORED).rms > 0.1


def test_edges_mixed_as_stored_are_found_where_they_are_unless_told_otherwise():
    shape = d.shapes(300)[0]
    pixels = d.eight_bit(d.drawn(shape, d.BLACK_ON_WHITE))
    assert found(shape, pixels, Transfer.AS_STORED).rms < 0.005
    assert found(shape, pixels, Transfer.LINEAR_LIGHT).rms > 0.1


def test_light_is_what_the_curve_was_made_from():
    light = np.linspace(0.0, 1.0, 101)
    assert linear(stored(light)) == pytest.approx(light, abs=1e-9)
    grey = float(from_oklab([[0.5, 0.0, 0.0]])[0, 0])
    assert float(linear(grey)) == pytest.approx(0.125, abs=1e-6)  # lightness is the cube root of light


def test_colours_keep_their_labels_and_lose_nothing_but_the_curve():
    picture = d.picture_of(d.eight_bit(d.drawn(d.pie(200), d.FOUR)))
    colours = find_colours(picture, ColourWish())
    lit, told = at_edges(picture, colours, Transfer.LINEAR_LIGHT)
    assert np.array_equal(told.labels, colours.labels)
    assert told.palette == pytest.approx(linear(colours.palette))
    assert lit.pixels == pytest.approx(linear(picture.pixels), abs=1e-6)
