"""Painted areas become faces that tile, neighbours on one Chain, lines and arcs whole."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.outline.loop import Loop
from core.outline.measure import segments_of
from core.outline.outline import BEYOND
from core.outline.partition import Paint, partition
from core.patches.face_at import face_at
from core.patches.specks import face_areas

GROUND = 0
HAIR = 1e-6


def rectangle(x, y, wide, tall):
    return Loop(np.array([[x, y], [x + wide, y], [x + wide, y + tall], [x, y + tall]]), np.zeros(4))


def paint(colour, *loops, even_odd=False):
    return Paint(segments_of(loops), even_odd, colour)


def made(*paints, thinnest=HAIR):
    return partition(paints, GROUND, thinnest, 0.0)


def area_of(outline, colour):
    areas = face_areas(outline)
    return sum(areas[k] for k, face in enumerate(outline.faces) if face.colour == colour and k != BEYOND)


def test_what_is_painted_later_covers_what_was_painted_before():
    outline = made(paint(1, rectangle(0, 0, 10, 10)), paint(2, Loop.circle((10, 5), 3)))
    assert area_of(outline, 2) == pytest.approx(9 * math.pi, rel=1e-12)
    assert area_of(outline, 1) == pytest.approx(100 - 9 * math.pi / 2, rel=1e-12)


def test_neighbours_share_one_chain_and_nothing_else_lies_there():
    outline = made(paint(1, rectangle(0, 0, 10, 10)), paint(2, rectangle(10, 0, 10, 10)))
    between = [chain for chain in outline.chains if BEYOND not in (chain.left, chain.right)]
    assert len(outline.chains) == 3
    assert [len(chain.bulges) for chain in between] == [1]
    assert sorted(between[0].points[:, 1].tolist()) == [0.0, 10.0]


def test_an_edge_that_only_a_covered_edge_crosses_stays_one_arc():
    circle = Loop.circle((0, 0), 5)
    outline = made(paint(1, rectangle(-9, -2, 9, 4)), paint(1, circle), paint(1, rectangle(-1, -1, 2, 2)))
    assert len(outline.faces) == 2
    assert sum((chain.bulges != 0.0).sum() for chain in outline.chains) == 2


def test_both_fill_rules():
    loops = rectangle(0, 0, 10, 10), rectangle(2, 2, 4, 4)
    assert area_of(made(paint(1, *loops, even_odd=True)), 1) == pytest.approx(84)
    assert area_of(made(paint(1, *loops)), 1) == pytest.approx(100)
    assert area_of(made(paint(1, loops[0], loops[1].reversed())), 1) == pytest.approx(84)


def test_islands_within_islands_find_the_face_that_they_lie_in():
    rings = [paint(k % 2 + 1, Loop.circle((0, 0), 10 - k)) for k in range(9)]
    outline = made(*rings)
    assert len(outline.faces) == 10
    assert [len(outline.neighbours(k)) for k in range(10)].count(2) == 8


def test_a_gap_thinner_than_a_hair_is_no_face():
    apart = paint(1, rectangle(0, 0, 10, 10)), paint(2, rectangle(10 + 1e-4, 0, 10, 10))
    assert len(made(*apart).faces) == 3
    closed = made(
        *apart, paint(3, rectangle(-1, -1, 22, 1)), paint(3, rectangle(-1, 10, 22, 1)), thinnest=1e-3
    )
    assert len(closed.faces) == 5
    assert area_of(closed, GROUND) == 0.0


def test_nothing_painted_is_ground_alone():
    assert len(made().faces) == 1
    assert made(paint(GROUND, rectangle(0, 0, 5, 5))).chains == ()


#: Places on a coarse lattice, so that edges coincide, touch and meet in corners all the time.
_AT = st.integers(0, 6)
_SIDE = st.integers(1, 4)
_RECTANGLES = st.tuples(_AT, _AT, _SIDE, _SIDE).map(lambda r: rectangle(*map(float, r)))
_CIRCLES = st.tuples(_AT, _AT, _SIDE).map(lambda c: Loop.circle((float(c[0]), float(c[1])), float(c[2])))
_PAINTS = st.tuples(st.integers(0, 3), _RECTANGLES | _CIRCLES).map(lambda p: paint(p[0], p[1]))


def flat(one):
    return shapely.Polygon(one.segments.corners(1e-5))


@given(st.lists(_PAINTS, min_size=1, max_size=8))
@settings(deadline=None, max_examples=25)
def test_every_colour_has_the_area_that_is_seen_of_it(paints):
    outline = made(*paints)
    covered = shapely.Polygon()
    seen = np.zeros(4)
    for one in reversed(paints):
        seen[one.colour] += flat(one).difference(covered).area
        covered = covered.union(flat(one))
    for colour in (1, 2, 3):
        assert area_of(outline, colour) == pytest.approx(seen[colour], abs=1e-3)


@given(st.lists(_PAINTS, min_size=1, max_size=8))
@settings(deadline=None, max_examples=25)
def test_faces_close_and_each_is_found_again_by_the_point_inside_it(paints):
    outline = made(*paints)
    assert [face_at(outline, face.inside) for face in outline.faces] == list(range(len(outline.faces)))
    ends = [tuple(point) for chain in outline.chains if not chain.is_ring for point in chain.points[[0, -1]]]
    assert all(ends.count(end) >= 2 for end in ends)


@given(st.lists(_PAINTS, min_size=1, max_size=6), st.floats(0, 6.28), st.floats(0.1, 50))
@settings(deadline=None, max_examples=12)
def test_turned_and_scaled_paints_give_the_same_faces(paints, angle, scale):
    cos, sin = scale * math.cos(angle), scale * math.sin(angle)
    turn = np.array([[cos, sin], [-sin, cos]])
    turned = [
        Paint(type(one.segments)(one.segments.starts @ turn, one.segments.ends @ turn, one.segments.bulges),
              one.is_even_odd, one.colour)
        for one in paints
    ]  # fmt: skip
    before, after = made(*paints, thinnest=1e-4), made(*turned, thinnest=1e-4 * scale)
    assert sorted(face.colour for face in after.faces) == sorted(face.colour for face in before.faces)
    areas = np.sort(face_areas(before)) * scale**2
    assert np.sort(face_areas(after))[:-1] == pytest.approx(areas[:-1], rel=1e-6, abs=1e-5 * scale**2)
