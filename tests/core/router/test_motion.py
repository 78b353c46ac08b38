"""Motion time against closed forms, and against the same model stepped through in small slices."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.router.machine import Machine
from core.router.motion import timed

MACHINE = Machine((300, 200, 50), 6000, 100, 30, 0.01, "program", 5)


def run(points, feed=600.0, machine=MACHINE, *, bulges=None, rapid=False):
    points = np.array(points, dtype=float)
    count = len(points) - 1
    bulges = np.zeros(count) if bulges is None else np.array(bulges, dtype=float)
    feeds = np.broadcast_to(np.asarray(feed, dtype=float), count)
    return timed(points[:-1], points[1:], bulges, feeds, np.full(count, rapid), machine)


def test_a_long_move_takes_its_length_by_its_feed_and_one_ramp_more():
    assert run([(0, 0, 0), (100, 0, 0)]).total() == pytest.approx(100 / 10 + 10 / 100)


def test_a_rapid_runs_at_the_top_feed_whatever_its_feed_word_says():
    timing = run([(0, 0, 0), (400, 0, 0)], feed=1.0, rapid=True)
    assert timing.peak[0] == pytest.approx(100.0)


def test_a_straight_line_in_many_pieces_takes_as_long_as_in_one():
    pieces = run([(x, 0, 0) for x in np.linspace(0, 50, 41)])
    assert pieces.total() == pytest.approx(run([(0, 0, 0), (50, 0, 0)]).total())


def test_a_helix_is_as_long_as_its_slope_makes_it():
    turn = [(10, 0, 0), (-10, 0, -0.5), (10, 0, -1)]
    timing = run(turn, feed=60.0, machine=replace(MACHINE, acceleration_z_mm_s2=100), bulges=[1, 1])
    assert timing.total() == pytest.approx(62.8398103 + 1.0 / 100, rel=1e-6)


def test_an_arc_is_never_taken_faster_than_its_radius_allows():
    timing = run([(1.5875, 0, 0), (-1.5875, 0, 0), (1.5875, 0, 0)], feed=6000.0, bulges=[1, 1])
    assert timing.peak.max() <= math.sqrt(100 * 1.5875) + 1e-9


def test_an_upward_move_gets_only_what_the_z_axis_has():
    timing = run([(0, 0, 0), (0, 0, 1)], feed=6000.0)
    assert timing.total() == pytest.approx(2 * math.sqrt(1 / 30))


def test_a_reversal_is_a_full_stop():
    timing = run([(0, 0, 0), (20, 0, 0), (0, 0, 0)])
    assert timing.exit[0] == 0.0


def test_beside_a_short_move_a_corner_is_slower():
    # 135 degrees: R = min(12.137 d, L/2 tan(67.5 deg)); the second is smaller for L < 0.1005 mm at d 0.01.
    way = np.array([(-10, 0, 0), (0, 0, 0), (0.02 * math.sqrt(0.5), 0.02 * math.sqrt(0.5), 0)])
    corner = run([*way, way[-1] + (0, 10, 0)], feed=6000.0)
    assert corner.exit[0] == pytest.approx(math.sqrt(100 * 0.01 * math.tan(math.radians(67.5))), rel=1e-6)


def test_moves_without_length_take_no_time_and_stop_nothing():
    timing = run([(0, 0, 0), (20, 0, 0), (20, 0, 0), (40, 0, 0)])
    assert timing.seconds[1] == 0.0
    assert timing.total() == pytest.approx(run([(0, 0, 0), (40, 0, 0)]).total())


def test_nothing_at_all_takes_no_time():
    assert run([(0, 0, 0)]).total() == 0.0


PLACE = st.tuples(st.floats(-20, 20), st.floats(-20, 20), st.floats(-3, 3))
WAYS = st.lists(PLACE, min_size=3, max_size=12, unique=True)


@settings(deadline=None, max_examples=40)
@given(WAYS, st.floats(60, 3000))
def test_no_move_speeds_up_or_brakes_faster_than_its_axes_can(points, feed):
    timing = run(points, feed=feed)
    spans = np.diff(np.array(points), axis=0)
    lengths = np.linalg.norm(spans, axis=1)
    real = lengths > 1e-9
    steepest = np.abs(timing.exit**2 - timing.entry**2)[real] / (2 * lengths[real])
    shares = np.abs(spans[real]) / lengths[real, None]
    assert (steepest[:, None] * shares <= np.array([100, 100, 30]) * (1 + 1e-9) + 1e-9).all()
    assert (timing.peak <= feed / 60 + 1e-9).all()
    assert (np.maximum(timing.entry, timing.exit) <= timing.peak + 1e-9).all()


@settings(deadline=None, max_examples=25)
@given(WAYS, st.floats(60, 3000))
def test_seconds_equal_a_fine_integration_of_the_speeds(points, feed):
    timing = run(points, feed=feed)
    lengths = np.linalg.norm(np.diff(np.array(points), axis=0), axis=1)
    for index, length in enumerate(lengths):
        if length > 1e-6:
            stepped = integrated(timing.entry[index], timing.exit[index], length, points, index, feed)
            assert timing.seconds[index] == pytest.approx(stepped, rel=5e-3, abs=1e-5)


def integrated(entry, leave, length, points, index, feed):
    """The highest speed allowed at each of many places from both ends; time is the sum of ds / v."""
    span = np.abs(np.subtract(points[index + 1], points[index])) / length
    acceleration = min(
        limit / share for limit, share in zip((100, 100, 30), span, strict=True) if share > 1e-9
    )
    edges = length * (1 - np.cos(np.linspace(0, np.pi, 4001))) / 2  # finer where it is slow
    at = (edges[1:] + edges[:-1]) / 2
    speed = np.sqrt(np.minimum(entry**2 + 2 * acceleration * at, leave**2 + 2 * acceleration * (length - at)))
    return float(np.sum(np.diff(edges) / np.minimum(speed, feed / 60)))
