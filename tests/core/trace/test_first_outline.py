"""The outline that is shown while the trace goes on: already right to the eye, the same patches."""

import pytest

from core.cancel import NEVER, CancelToken
from core.errors import Cancelled
from core.trace.planar import crossing
from core.trace.trace import first_outline, trace
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
from tests.support.rough import hills
from tests.support.score import score

SHAPES = {shape.name: shape for shape in shapes(300)}


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_the_first_outline_of_a_soft_picture_looks_right(name):
    pixels = blurred(0.5)(drawn(SHAPES[name], BLACK_ON_WHITE))
    found = score(first_outline(picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE), NEVER), SHAPES[name])
    assert found.rms < 0.1
    assert found.greatest < 1.5
    assert found.pieces < 1.5


def test_it_has_the_faces_that_the_trace_has_in_the_same_order():
    pixels = drawn(pie(300), FOUR)
    case = picture_of(pixels), labelled(pie(300), pixels, FOUR)
    first, last = first_outline(*case, NEVER), trace(*case, NEVER)
    assert first.faces == last.faces
    assert [(c.left, c.right) for c in first.chains] == [(c.left, c.right) for c in last.chains]


@pytest.mark.parametrize("seed", range(4))
def test_it_does_not_cross_itself_either(seed):
    assert crossing(first_outline(*hills(seed), NEVER).chains) == set()


def test_it_is_given_up_when_no_longer_wanted():
    pixels = drawn(SHAPES["lens"], BLACK_ON_WHITE)
    with pytest.raises(Cancelled):
        first_outline(picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE), CancelToken(lambda: True))
