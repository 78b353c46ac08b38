"""The Outline of drawn pictures against the lines and arcs they were drawn from."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.cancel import NEVER, CancelToken
from core.errors import Cancelled
from core.outline.outline import BEYOND
from core.trace.trace import first_outline, trace
from tests.support.drawn import (
    BLACK_ON_WHITE,
    FOUR,
    blurred,
    colours_of,
    drawn,
    eight_bit,
    flag,
    labelled,
    noisy,
    picture_of,
    pie,
    shapes,
)
from tests.support.score import score

SHAPES = {shape.name: shape for shape in shapes(300)}


def traced(shape, spoil=eight_bit):
    pixels = spoil(drawn(shape, BLACK_ON_WHITE))
    return trace(picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE), NEVER)


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_a_clean_shape_comes_back_within_a_hundredth_of_a_pixel(name):
    found = score(traced(SHAPES[name]), SHAPES[name])
    assert found.rms < 0.01
    assert found.pieces == pytest.approx(1.0, abs=0.1)


@pytest.mark.parametrize("shape", [pie(300), flag(300)], ids=lambda shape: shape.name)
def test_patches_that_touch_share_one_chain_and_meet_at_equal_nodes(shape):
    pixels = eight_bit(drawn(shape, FOUR))
    outline = trace(picture_of(pixels), labelled(shape, pixels, FOUR), NEVER)
    assert score(outline, shape).rms < 0.01
    assert len(outline.faces) == 4
    assert len(outline.chains) == 6
    ends = [tuple(chain.points[end].tolist()) for chain in outline.chains for end in (0, -1)]
    assert sorted(ends.count(end) for end in set(ends)) == [3, 3, 3, 3]


def test_the_washer_has_a_hole_that_belongs_to_the_ground_colour_but_not_to_the_face_beyond():
    outline = traced(SHAPES["washer"])
    assert [face.colour for face in outline.faces] == [0, 0, 1] or [f.colour for f in outline.faces] == [
        0,
        1,
        0,
    ]
    assert sum(face.colour == 0 for face in outline.faces) == 2
    assert outline.faces[BEYOND].colour == 0


@pytest.mark.parametrize("drawn_by", [trace, first_outline])
@settings(max_examples=4, deadline=None)
@given(
    right=st.integers(-9, 9),
    up=st.integers(-9, 9),
    name=st.sampled_from(sorted(SHAPES)),
    spoil=st.sampled_from([eight_bit, noisy(5), blurred(1.0)]),
)
def test_a_picture_moved_by_whole_pixels_gives_the_outline_moved_by_as_many(drawn_by, right, up, name, spoil):
    pixels = spoil(drawn(SHAPES[name], BLACK_ON_WHITE))
    still = drawn_by(picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE), NEVER)
    pixels = np.roll(pixels, (-up, right), axis=(0, 1))
    moved = drawn_by(picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE), NEVER)
    for before, after in zip(still.chains, moved.chains, strict=True):
        np.testing.assert_allclose(after.points, before.points + np.array([right, up]), atol=1e-6)
        np.testing.assert_allclose(after.bulges, before.bulges, atol=1e-8)


def test_a_trace_that_is_no_longer_wanted_is_given_up():
    pixels = drawn(SHAPES["lens"], BLACK_ON_WHITE)
    with pytest.raises(Cancelled):
        trace(picture_of(pixels), colours_of(pixels, BLACK_ON_WHITE), CancelToken(lambda: True))
