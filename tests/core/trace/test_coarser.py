"""A large picture looked at in half its size: the same faces, edges within a pixel, in its own px."""

import numpy as np
import pytest

from core.cancel import NEVER
from core.trace import coarser
from core.trace.coarser import quick_outline
from core.trace.trace import first_outline
from tests.support.drawn import (
    BLACK_ON_WHITE,
    FOUR,
    blurred,
    colours_of,
    drawn,
    labelled,
    picture_of,
    pie,
    shapes,
)
from tests.support.score import score

SHAPES = {shape.name: shape for shape in shapes(301)}


@pytest.fixture(autouse=True)
def _halved(monkeypatch):
    """Pictures of a test are small; take them for large ones."""
    monkeypatch.setattr(coarser, "LOOKED_AT_WHOLE", 1)


@pytest.mark.parametrize("name", ["lens", "gear"])
def test_edges_are_where_they_are_in_the_whole_picture_within_a_pixel(name):
    pixels = blurred(0.5)(drawn(SHAPES[name], BLACK_ON_WHITE))
    assert pixels.shape[0] % 2 == 1
    found = score(quick_outline(picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE), NEVER), SHAPES[name])
    assert found.rms < 0.3
    assert found.greatest < 3.0


def test_faces_and_their_order_are_those_of_the_whole_picture():
    pixels = drawn(pie(300), FOUR)
    case = picture_of(pixels), labelled(pie(300), pixels, FOUR)
    halved, whole = quick_outline(*case, NEVER), first_outline(*case, NEVER)
    assert [face.colour for face in halved.faces] == [face.colour for face in whole.faces]
    for one, other in zip(halved.faces, whole.faces, strict=True):
        assert one.inside == pytest.approx(other.inside, abs=30.0)


def test_a_small_picture_is_looked_at_whole(monkeypatch):
    monkeypatch.setattr(coarser, "LOOKED_AT_WHOLE", 1_500_000)
    pixels = drawn(SHAPES["lens"], BLACK_ON_WHITE)
    case = picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE)
    one, other = quick_outline(*case, NEVER), first_outline(*case, NEVER)
    for here, there in zip(one.chains, other.chains, strict=True):
        np.testing.assert_array_equal(here.points, there.points)


def test_each_label_is_one_of_its_four_and_the_palette_stays():
    pixels = drawn(pie(300), FOUR)
    picture, colours = picture_of(pixels), labelled(pie(300), pixels, FOUR)
    halved, told = coarser.coarser(picture, colours)
    assert halved.pixels.shape[:2] == told.labels.shape == (150, 150)
    four = np.array([colours.labels[down::2, across::2] for down in (0, 1) for across in (0, 1)])
    assert (four == told.labels).any(axis=0).all()
    np.testing.assert_array_equal(told.palette, colours.palette)
