"""The fast reader of plain path data gives what the careful one gives, or leaves the data to it."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.drawing.read.svg_path import read_path
from core.drawing.read.svg_plain_path import plain_path
from core.errors import UnreadableFile

numbers = st.one_of(
    st.integers(-300, 300).map(str),
    st.floats(-300, 300).map(lambda value: f"{value:.7f}"),
    st.sampled_from(["1e1", "-2.5E0", ".5", "+3.", "0"]),
)
gaps = st.sampled_from([" ", ",", " , ", "\n"])
flags = st.sampled_from(["0", "1"])
radii = st.floats(0.5, 300).map(lambda value: f"{value:.7f}")


@st.composite
def drawn(draw):
    """A path of moves, lines, arcs and closings, each well formed."""
    steps = [["M", draw(numbers), draw(numbers)]]
    for _ in range(draw(st.integers(0, 8))):
        kind = draw(st.sampled_from("LLAAMZ"))
        if kind == "Z":
            steps += [["Z"], ["M", draw(numbers), draw(numbers)]]
        elif kind == "A":
            radius = draw(radii)
            ends = [draw(flags), draw(flags), draw(numbers), draw(numbers)]
            steps.append(["A", radius, radius, "0", *ends])
        else:
            steps.append([kind, draw(numbers), draw(numbers)])
    if draw(st.booleans()):
        steps.append(["Z"])
    return draw(gaps).join(word for step in steps for word in step)


@given(drawn())
def test_what_is_read_fast_is_what_the_careful_reader_reads(data):
    fast = plain_path(data)
    assume(fast is not None)  # a move that draws nothing, an arc to where it stands
    careful = read_path(data)
    assert len(fast) == len(careful)
    for one, other in zip(fast, careful, strict=True):
        np.testing.assert_array_equal(one.points, other.points)
        np.testing.assert_allclose(one.bulges, other.bulges, rtol=1e-12)
        assert one.is_closed == other.is_closed


def test_our_own_kind_of_path_is_read_fast():
    (loop, line) = plain_path("M1 -2 L3 -4 A2 2 0 0 1 5 -6 Z M0 0 L9 0")
    assert (loop.is_closed, loop.bulges.shape, line.is_closed, line.bulges.shape) == (True, (3,), False, (1,))


@pytest.mark.parametrize(
    "data",
    [
        "",
        "m0 0 L1 1",
        "M0 0 1 1",
        "M0 0 L1-1",
        "M0 0 L1 1 2 2",
        "M0 0 A1 1 0 01 1 1",
        "M0 0 A1 1 0 0 01 1 1",
        "M0 0 A1 2 0 0 1 1 1",
        "M0 0 A0 0 0 0 1 1 1",
        "M0 0 A1 1 0 0 1 0 0",
        "M0 0 L1e999 1",
        "M0 0 A1e999 1e999 0 0 1 1 1",
        "M0 0 A1 1 1e999 0 1 1 1",
        "M0 0 L1 1 Z L2 2",
        "M0 0 L1 1 Z 3",
        "M0 0 L1_0 1",
        "M0 0 Lnan 1",
        "M0 0 L1 ٣",
        "M0 0 H3",
        "M0 0",
        "L1 1",
        "M0 0 Z",
    ],
)
def test_what_is_odd_is_left_to_the_careful_reader(data):
    assert not plain_path(data)


@pytest.mark.parametrize("data", ["M0 0 L1 1 2", "M0 0 L1e999 1", "M0 0 L1 x", "L1 1", "M0 0 L1_0 1"])
def test_what_is_broken_is_still_told(data):
    with pytest.raises(UnreadableFile):
        read_path(data)
