"""Places along Loops: closed forms on a circle, and pieces that make up the whole."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BadShape
from core.outline.along import pieces, place_at, started_at
from core.outline.loop import Loop
from core.outline.measure import distances
from tests.support.shapes import rough, rounded

SOME = settings(max_examples=40, deadline=None)
SEEDS = st.integers(0, 10_000)
SHARES = st.floats(0.0, 1.0)


def loop_of(seed):
    return rough(np.random.default_rng(seed), 3 + seed % 9)


@pytest.mark.parametrize("degrees", [0, 30, 180, 200, 359, 400])
def test_a_place_on_a_circle_is_where_its_angle_says(degrees):
    angle = np.radians(degrees)
    place = place_at(Loop.circle((1.0, 2.0), 10.0), 10.0 * angle)
    assert place.point == pytest.approx((1 + 10 * np.cos(angle), 2 + 10 * np.sin(angle)))
    assert np.cos(place.heading) == pytest.approx(-np.sin(angle))
    assert np.sin(place.heading) == pytest.approx(np.cos(angle))


def test_at_a_corner_the_heading_is_that_of_leaving_it():
    assert place_at(rounded(20.0, 10.0, 2.0), 0.0).heading == pytest.approx(0.0)
    square = Loop(np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]]), np.zeros(4))
    assert place_at(square, 4.0).heading == pytest.approx(np.pi / 2.0)
    assert place_at(square, 16.0).heading == pytest.approx(0.0)


@pytest.mark.parametrize("hair", [0.0, 1e-13, 1e-10])
def test_a_hair_before_the_end_of_the_round_is_its_beginning(hair):
    square = Loop(np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]]), np.zeros(4))
    assert place_at(square, 16.0 - hair).heading == pytest.approx(0.0)
    np.testing.assert_array_equal(started_at(square, 16.0 - hair).points, square.points)


@given(SEEDS, SHARES)
@SOME
def test_another_first_point_leaves_the_shape_as_it_was(seed, share):
    loop = loop_of(seed)
    again = started_at(loop, share * loop.length())
    assert again.length() == pytest.approx(loop.length())
    assert again.signed_area() == pytest.approx(loop.signed_area())
    assert distances((loop,), again.points).max() < 1e-9
    assert tuple(again.points[0]) == pytest.approx(place_at(loop, share * loop.length()).point)
    kept = {tuple(point) for point in loop.points.tolist()}
    assert kept <= {tuple(point) for point in again.points.tolist()}


@given(SEEDS, st.lists(SHARES, min_size=1, max_size=6, unique=True).map(sorted))
@SOME
def test_pieces_join_end_to_start_and_make_up_the_whole(seed, shares):
    loop = loop_of(seed)
    cuts = np.array(shares) * loop.length() * 0.999
    if np.diff(cuts).min(initial=1.0) < 1e-6:
        return
    runs = pieces(loop, cuts.tolist())
    spans = np.diff(np.append(cuts, cuts[0] + loop.length()))
    assert [run.length() for run in runs] == pytest.approx(spans.tolist(), abs=1e-8)
    for run, following in zip(runs, (*runs[1:], runs[0]), strict=True):
        np.testing.assert_array_equal(run.points[-1], following.points[0])
        assert len(run.points) == len(run.bulges) + 1


def test_no_cut_gives_the_whole_loop_as_one_closed_run():
    loop = rounded(20.0, 10.0, 2.0)
    (run,) = pieces(loop, ())
    np.testing.assert_array_equal(run.points, np.vstack((loop.points, loop.points[:1])))


@pytest.mark.parametrize("cuts", [(3.0, 2.0), (1.0, 1.0), (0.0, 1000.0)])
def test_cuts_that_do_not_rise_within_one_round_are_refused(cuts):
    with pytest.raises(BadShape):
        pieces(rounded(20.0, 10.0, 2.0), cuts)
