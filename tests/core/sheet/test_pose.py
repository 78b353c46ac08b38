"""A sheet found by its marks: any pose, within the predicted error; what is not these marks is refused."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.sheet.pose import Pose, agreement, found_pose, predicted_error

MARKS = [(-10.0, 128.0), (104.0, 128.0), (24.0, -10.0)]
EDGE = [(0.0, 0.0), (94.0, 0.0), (0.0, 118.0), (94.0, 118.0)]
TURNS = st.floats(-np.pi + 0.01, np.pi - 0.01)
MM = st.floats(-300, 300)


def read(pose, marks=MARKS, noise=0.0, rng=None):
    places = pose.of(np.array(marks))
    return [tuple(place) for place in (places + noise * rng.standard_normal(places.shape) if rng else places)]


@given(TURNS, MM, MM, st.integers(2, 3))
@settings(deadline=None)
def test_exact_readings_give_the_pose_back(turn, x, y, count):
    turn = turn / 4.1 if count == 2 else turn  # two marks are believed up to 45 degrees
    pose, findings = found_pose(MARKS, read(Pose(turn, (x, y)))[:count])
    assert pose.turn == pytest.approx(turn, abs=1e-9)
    assert pose.shift == pytest.approx((x, y), abs=1e-6)
    assert [finding.code for finding in findings] == (["third-mark-unread"] if count == 2 else [])


@pytest.mark.parametrize("count", [2, 3])
def test_noise_of_a_tenth_gives_the_pose_within_the_predicted_error(count):
    rng = np.random.default_rng(7)
    used, errors = MARKS[:count], []
    for _ in range(3000):
        pose = Pose(float(rng.uniform(-0.7, 0.7)), tuple(rng.uniform(-200, 200, 2)))
        got = agreement(used, read(pose, used, 0.1, rng)).pose
        errors.append(np.hypot(*(got.of(np.array(EDGE)) - pose.of(np.array(EDGE))).T))
    rms = np.sqrt(np.mean(np.square(errors), axis=0))
    predicted = [predicted_error(used, place, 0.1) for place in EDGE]
    assert rms == pytest.approx(predicted, rel=0.06)


def test_noise_of_a_tenth_is_hardly_ever_refused():
    rng = np.random.default_rng(8)
    poses = [Pose(float(rng.uniform(-3, 3)), tuple(rng.uniform(-200, 200, 2))) for _ in range(400)]
    refused = sum(found_pose(MARKS, read(pose, noise=0.1, rng=rng))[0] is None for pose in poses)
    assert refused <= 16  # 0.3 mm is two standard deviations of a distance between two such readings


@given(TURNS, MM, MM, st.permutations([0, 1, 2]).filter(lambda order: order != [0, 1, 2]))
@settings(deadline=None)
def test_marks_taken_for_each_other_are_refused(turn, x, y, order):
    told = read(Pose(turn, (x, y)))
    assert found_pose(MARKS, [told[index] for index in order])[0] is None


@given(TURNS, MM, MM)
@settings(deadline=None)
def test_a_film_turned_over_is_refused(turn, x, y):
    over = [(-mark[0], mark[1]) for mark in MARKS]
    assert found_pose(MARKS, read(Pose(turn, (x, y)), over))[0] is None


def test_two_marks_taken_for_each_other_are_refused_on_a_sheet_that_lies_about_straight():
    told = read(Pose(0.1, (5.0, 7.0)))
    pose, (finding,) = found_pose(MARKS, [told[1], told[0]])
    assert pose is None
    assert finding.code == "readings-disagree"


@pytest.mark.parametrize("scale", [25.4, 1 / 25.4, 1.005, 0.995])
@pytest.mark.parametrize("count", [2, 3])
def test_a_wrong_scale_is_refused_and_says_by_how_much(scale, count):
    told = [(scale * x, scale * y) for x, y in read(Pose(0.2, (10.0, 4.0)))][:count]
    pose, (finding,) = found_pose(MARKS, told)
    assert pose is None
    assert f"{abs(scale - 1) * 114:.2f} mm off" in finding.text


def test_more_readings_than_marks_are_refused():
    assert found_pose(MARKS, [*read(Pose()), (0.0, 0.0)])[0] is None


@given(TURNS, MM, MM, st.floats(0.9, 1.1))
@settings(deadline=None)
def test_turn_shift_and_scale_of_any_readings_are_told_apart(turn, x, y, scale):
    scaled = [(scale * a, scale * b) for a, b in MARKS]
    got = agreement(MARKS, read(Pose(turn, (x, y)), scaled), EDGE)
    assert got.scale == pytest.approx(scale, abs=1e-9)
    assert np.exp(1j * got.pose.turn) == pytest.approx(np.exp(1j * turn), abs=1e-9)
    middle = np.mean(MARKS, axis=0)
    far = max(np.hypot(*(np.array(place) - middle)) for place in EDGE)
    assert got.edge_mm == pytest.approx(abs(scale - 1) * far, abs=1e-9)


def test_what_is_left_at_the_edge_follows_the_scatter_of_many_readings():
    rng = np.random.default_rng(9)
    marks = [tuple(mark) for mark in rng.uniform(0, 100, (12, 2))]
    left = [agreement(marks, read(Pose(0.3, (5, 6)), marks, 0.2, rng), EDGE).edge_mm for _ in range(300)]
    assert 0.05 < np.median(left) < 0.4
