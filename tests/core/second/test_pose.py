import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.second.by_hand import pose_of
from core.second.pose import IDENTITY, Pose
from tests.support.copies import any_drawing, inverse, traced

COORDINATES = st.floats(-1000.0, 1000.0)
POSES = st.builds(Pose.turned, st.floats(0.2, 5.0), st.floats(-3.0, 3.0), st.tuples(COORDINATES, COORDINATES))
POINTS = np.array([[10.0, 20.0], [300.0, 15.0], [120.0, 400.0]])


@given(POSES)
def test_the_way_back_leads_back(pose):
    assert inverse(pose).of(pose.of(POINTS)) == pytest.approx(POINTS, abs=1e-6)


@given(POSES)
def test_a_pose_keeps_angles_and_scales_every_length_alike(pose):
    sides = np.hypot(*np.diff(pose.of(POINTS), axis=0).T) / np.hypot(*np.diff(POINTS, axis=0).T)
    assert sides == pytest.approx(pose.scale)


def test_a_mirrored_pose_turns_the_other_way_round():
    def area(points):
        (a, b), (c, d) = points[1] - points[0], points[2] - points[0]
        return a * d - b * c

    mirrored = Pose.turned(2.0, 0.3, (5.0, 6.0), is_mirrored=True)
    assert area(mirrored.of(POINTS)) == pytest.approx(-4.0 * area(POINTS))


@given(POSES)
def test_three_exact_pairs_give_their_pose(pose):
    there = pose.of(POINTS)
    pairs = tuple((tuple(p), tuple(q)) for p, q in zip(POINTS, there, strict=True))
    found, off = pose_of(pairs)
    assert off == pytest.approx(0.0, abs=1e-6)
    assert found.of(POINTS) == pytest.approx(there, abs=1e-6)


def test_a_pair_that_is_wrong_shows_in_what_is_left():
    there = POINTS + np.array([[0.0, 0.0], [0.0, 30.0], [0.0, 0.0]])
    _, off = pose_of(tuple((tuple(p), tuple(q)) for p, q in zip(POINTS, there, strict=True)))
    assert 1.0 < off < 30.0


def test_pairs_that_all_lie_in_one_place_only_shift():
    pose, off = pose_of((((5.0, 5.0), (7.0, 8.0)),) * 3)
    assert (pose.scale, off) == (1.0, 0.0)
    assert pose.of(np.array([[5.0, 5.0]])) == pytest.approx(np.array([[7.0, 8.0]]))


def test_an_outline_that_is_laid_keeps_its_faces_on_the_same_sides():
    outline = traced(any_drawing(np.random.default_rng(3), 200)).outline
    pose = Pose.turned(0.8, 0.2, (30.0, 4.0))
    laid = pose.outline(outline)
    assert IDENTITY.outline(outline).chains[0].points == pytest.approx(outline.chains[0].points)
    for before, after in zip(outline.chains, laid.chains, strict=True):
        assert (before.left, before.right, before.is_ring) == (after.left, after.right, after.is_ring)
        assert after.points == pytest.approx(pose.of(before.points))
        assert float(after.segments().lengths().sum()) == pytest.approx(
            0.8 * float(before.segments().lengths().sum())
        )


def test_chains_that_met_in_a_node_still_meet_to_the_last_bit():
    outline = traced(any_drawing(np.random.default_rng(8), 240)).outline
    laid = Pose.turned(0.7913, 0.1234, (0.1, 0.7)).outline(outline)

    def ends(one):
        return [tuple(point) for chain in one.chains for point in (chain.points[0], chain.points[-1])]

    before, after = ends(outline), ends(laid)
    for index, end in enumerate(before):
        for other in range(index):
            assert (before[other] == end) == (after[other] == after[index])
