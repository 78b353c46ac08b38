"""Chains and the Outline they make up."""

import numpy as np
import pytest

from core.errors import BadShape
from core.outline.chain import Chain
from core.outline.outline import Face, Outline

ARC = Chain(np.array([[0.0, 0.0], [2.0, 0.0], [3.0, 1.0]]), np.array([0.5, -0.2]), 1, 0)


def test_a_chain_run_backwards_exchanges_its_sides_and_comes_back():
    back = ARC.reversed()
    assert (back.left, back.right) == (0, 1)
    np.testing.assert_allclose(back.segments().midpoints(), ARC.segments().midpoints()[::-1], atol=1e-12)
    np.testing.assert_array_equal(back.reversed().points, ARC.points)


def test_a_ring_is_known_by_its_ends_to_the_last_bit():
    ring = np.array([[1.0, 0.0], [-1.0, 0.0], [1.0, 0.0]])
    assert Chain(ring, np.ones(2), 1, 0).is_ring
    ring[2, 0] = np.nextafter(1.0, 2.0)
    assert not Chain(ring, np.ones(2), 1, 0).is_ring


def test_an_outline_is_scaled_whole():
    outline = Outline((ARC,), (Face(0, (9.0, 9.0)), Face(2, (1.0, 0.5))), (0.3,))
    mapped = outline.mapped(2.0, (10.0, 0.0))
    assert mapped.chains[0].points.tolist() == [[10.0, 0.0], [14.0, 0.0], [16.0, 2.0]]
    assert mapped.faces[1] == Face(2, (12.0, 1.0))
    assert mapped.doubt == (0.6,)
    assert outline.neighbours(1) == {0}


@pytest.mark.parametrize("points", [np.zeros((2, 2)), np.full((3, 2), np.nan)])
def test_numbers_that_are_no_chain_are_refused(points):
    with pytest.raises(BadShape):
        Chain(points, np.zeros(2), 0, 1)
