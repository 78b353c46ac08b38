"""Areas, saddles and cracks of small label pictures drawn by hand."""

import numpy as np
import pytest

from core.trace.cracks import corners_along, find_cracks, string_together
from core.trace.faces import areas, framed, inside_points, settled
from tests.support.drawn import Colours, picture_of

PALETTE = np.array([[1.0, 1.0, 1.0], [0.0, 0.0, 0.0], [1.0, 0.0, 0.0]])


def frame_of(rows):
    labels = np.array([[int(sign) for sign in row] for row in rows], dtype=np.uint8)
    return framed(picture_of(PALETTE[labels]), Colours(PALETTE, labels, 0))


def test_ground_that_touches_the_border_is_the_face_beyond_and_a_hole_is_not():
    found = areas(frame_of(["00000", "01110", "01010", "01110", "00000"]))
    assert found.colour.tolist() == [0, 1, 0] or found.colour.tolist() == [0, 0, 1]
    assert found.index[0, 0] == 0
    assert found.index[3, 3] not in (0, found.index[2, 2])


def test_a_shape_that_touches_the_border_has_the_border_as_its_edge():
    found = areas(frame_of(["111", "111", "111"]))
    cracks = find_cracks(found)
    (ring,) = string_together(cracks, found)
    corners = corners_along((ring,), cracks)
    assert ring.is_ring
    assert corners.min() == 0
    assert corners.max() == 3


@pytest.mark.parametrize("turn", [1, -1], ids=["falling", "rising"])
def test_a_thin_diagonal_stroke_of_two_hard_colours_stays_one_piece(turn):
    rows = ["000000", "010000", "001000", "000100", "000010", "000000"]
    assert len(areas(frame_of(rows[::turn])).colour) == 2


def test_three_colours_that_meet_make_a_node_where_three_chains_end():
    found = areas(frame_of(["000000", "011220", "011220", "011220", "011220", "000000"]))
    chains = string_together(find_cracks(found), found)
    ends = [node for chain in chains for node in (chain.tail, chain.head)]
    assert len(chains) == 3
    assert sorted(ends.count(node) for node in set(ends)) == [3, 3]


def test_specks_of_a_pixel_go_to_their_neighbour_and_a_dot_of_five_pixels_stays():
    rows = ["0000000000", "0100000000", "0000001000", "0000011100", "0000001000", "0000000000"]
    _, found = settled(frame_of(rows))
    assert np.bincount(found.index.ravel())[1:].tolist() == [5]


def test_the_inside_point_of_every_face_lies_in_it_and_in_the_picture():
    frame, found = settled(frame_of(["0000000", "0111110", "0111110", "0111110", "0000000"]))
    points = inside_points(found, frame.depth())
    for index, (x, y) in enumerate(points):
        assert 0 < x < 7
        assert 0 < y < 5
        assert found.index[int(y) + 1, int(x) + 1] == index
