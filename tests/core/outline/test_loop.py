"""Loop against closed forms, against itself run backwards, and against shapely."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BadShape
from core.outline.loop import Loop

TOLERANCE = 1e-3  # mm: what the design asks of a flattening
MM, BEND = st.floats(-200, 200), st.just(0.0) | st.floats(-1e-3, 1e-3) | st.floats(-3, 3)
ROWS = st.lists(st.tuples(MM, MM, BEND), min_size=3, max_size=12).map(np.array)
LOOPS = ROWS.map(lambda rows: Loop(rows[:, :2], rows[:, 2]))
SOME = settings(max_examples=60, deadline=None)


def test_two_half_circles_scaled_by_two_make_a_circle_twice_as_wide():
    circle = Loop.circle((10.0, 2.5), 5.0).scaled(2.0)
    measures = (circle.length(), circle.signed_area(), *circle.bounds())
    assert measures == pytest.approx((20 * np.pi, 100 * np.pi, 10, -5, 30, 15))


@given(LOOPS)
@SOME
def test_reversing_flips_the_area_and_nothing_else(loop):
    back = loop.reversed()
    assert back.signed_area() == pytest.approx(-loop.signed_area(), abs=1e-6)
    assert back.bounds() == pytest.approx(loop.bounds(), abs=1e-9)
    np.testing.assert_array_equal(back.reversed().points, loop.points)


@given(LOOPS)
@SOME
def test_a_flattening_stays_within_its_tolerance(loop):
    polygon = shapely.Polygon(loop.flattened(TOLERANCE))
    assert polygon.bounds == pytest.approx(loop.bounds(), abs=TOLERANCE)
    x, y = loop.flattened(TOLERANCE).T
    area = np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2.0
    assert area == pytest.approx(loop.signed_area(), abs=loop.length() * TOLERANCE + 1e-9)


@given(LOOPS, st.floats(-50, 50))
@SOME
def test_mirroring_twice_gives_the_same_loop_and_once_the_same_area(loop, axis):
    mirrored = loop.mirrored(axis)
    assert mirrored.signed_area() == pytest.approx(loop.signed_area(), abs=1e-6)
    np.testing.assert_allclose(mirrored.mirrored(axis).points, loop.points, atol=1e-9)


def test_a_flattening_takes_as_many_chords_as_the_sagitta_formula_says():
    """Radius 10 within 0.01 mm: at least 71 chords a turn, epsilon = R (1 - cos(a / 2))."""
    assert len(Loop.circle((0.0, 0.0), 10.0).flattened(0.01)) == 72  # two half turns of 36


@pytest.mark.parametrize("bad", [np.nan, np.inf])
def test_numbers_that_are_no_shape_are_refused(bad):
    with pytest.raises(BadShape):
        Loop(np.array([[0.0, 0.0], [bad, 1.0]]), np.zeros(2))
    with pytest.raises(BadShape):
        Loop(np.zeros((1, 2)), np.zeros(1))
    with pytest.raises(BadShape):
        Loop.circle((0.0, 0.0), 1.0).scaled(0.0)
    with pytest.raises(BadShape):
        Loop.circle((0.0, 0.0), 1.0).flattened(0.0)


def test_a_loop_cannot_be_written_to_and_keeps_its_own_copy():
    points = np.array([[0.0, 0.0], [1.0, 0.0]])
    loop = Loop(points, np.ones(2))
    points[0, 0] = 7.0
    assert loop.points[0, 0] == 0.0
    with pytest.raises(ValueError, match="read-only"):
        loop.points[0, 0] = 7.0
