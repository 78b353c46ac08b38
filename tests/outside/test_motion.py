"""Motion times and corner speeds against worked values of the formulas that controllers use."""

import math

import numpy as np
import pytest

from core.router.machine import Machine
from core.router.motion import timed

pytestmark = pytest.mark.outside


def machine(acceleration, deviation=0.01):
    return Machine((300, 200, 50), 1e6, acceleration, acceleration, deviation, "program", 5)


def along(points, feed, which):
    points = np.array(points, dtype=float)
    count = len(points) - 1
    bare = np.zeros(count)
    return timed(points[:-1], points[1:], bare, np.full(count, feed), np.zeros(count, dtype=bool), which)


# Constant acceleration from rest to rest: t = L/v + v/a, or 2 sqrt(L/a) where L < v^2/a (kinematics of the
# trapezoid, derived); length mm, feed mm/min, acceleration mm/s2, seconds, peak mm/s.
TRAPEZOIDS = [
    (100, 600, 100, 10.100000, 10),
    (100, 600, 500, 10.020000, 10),
    (10, 600, 100, 1.100000, 10),
    (1, 600, 100, 0.200000, 10),
    (0.5, 600, 100, 0.141421, 7.0711),
    (10, 1200, 200, 0.600000, 20),
    (1, 1500, 200, 0.141421, 14.1421),
    (2, 1500, 200, 0.200000, 20),
    (200, 1500, 50, 8.500000, 25),
]


@pytest.mark.parametrize(("length", "feed", "acceleration", "seconds", "peak"), TRAPEZOIDS)
def test_a_move_from_rest_to_rest_takes_the_time_of_its_trapezoid(length, feed, acceleration, seconds, peak):
    timing = along([(0, 0, 0), (length, 0, 0)], feed, machine(acceleration))
    assert timing.total() == pytest.approx(seconds, rel=1e-5)
    assert timing.peak[0] == pytest.approx(peak, rel=1e-5)


# The same with speeds at both ends: (v - v0)/a + (v - v1)/a + (L - (v^2 - v0^2)/2a - (v^2 - v1^2)/2a)/v, else
# to a peak of sqrt(a L + (v0^2 + v1^2)/2). On from 10 mm/s at 100 mm/s2, at most 20: worked by hand.
ONWARD = [
    (10, 20.0, 0.1 + 0.2 + 6.5 / 20),
    (3.5, 20.0, 0.3),  # exactly the triangular limit: 1.5 mm up, 2 mm down
    (1, 12.247449, 0.1449490),
]


@pytest.mark.parametrize(("length", "peak", "seconds"), ONWARD)
def test_a_move_entered_at_speed_takes_the_time_of_its_trapezoid(length, peak, seconds):
    points = np.array([(0, 0, 0), (10, 0, 0), (10 + length, 0, 0)], dtype=float)
    timing = timed(
        points[:-1], points[1:], np.zeros(2), np.array([600, 1200]), np.zeros(2, bool), machine(100)
    )
    assert timing.entry[1] == pytest.approx(10, rel=1e-9)
    assert timing.peak[1] == pytest.approx(peak, rel=1e-6)
    assert timing.seconds[1] == pytest.approx(seconds, rel=1e-6)


# Corner speed by deviation, v^2 = a d sin(t/2) / (1 - sin(t/2)): public planner sources of small open
# controllers (formula and sign), derivation by S. K. Jeon, 2011; interior angle in degrees, speeds in mm/s
# at 100 mm/s2 and 0.01 mm, at 500 and 0.01, at 500 and 0.02.
CORNERS = [
    (45, 0.78735, 1.76056, 2.48981),
    (60, 1.00000, 2.23607, 3.16228),
    (90, 1.55377, 3.47434, 4.91346),
    (120, 2.54246, 5.68511, 8.03996),
    (135, 3.48383, 7.79008, 11.01684),
    (150, 5.32426, 11.90541, 16.83679),
    (170, 16.17996, 36.17950, 51.16554),
    (175, 32.39853, 72.44531, 102.45315),
]


@pytest.mark.parametrize(("degrees", "slow", "quick", "loose"), CORNERS)
def test_a_corner_is_taken_at_the_speed_of_its_deviation(degrees, slow, quick, loose):
    turn = math.pi - math.radians(degrees)
    corner = [(-1000, 0, 0), (0, 0, 0), (1000 * math.cos(turn), 1000 * math.sin(turn), 0)]
    for speed, which in ((slow, machine(100)), (quick, machine(500)), (loose, machine(500, 0.02))):
        assert along(corner, 60000, which).exit[0] == pytest.approx(speed, rel=1e-5)


# The radius of that circle over the deviation, sin(t/2) / (1 - sin(t/2)).
RADII = [
    (45, 0.619915), (60, 1), (90, 2.414214), (120, 6.464102), (135, 12.137071), (150, 28.347718),
    (170, 261.7912), (175, 1049.6647),
]  # fmt: skip


@pytest.mark.parametrize(("degrees", "radius"), RADII)
def test_a_corner_has_the_circle_of_its_deviation(degrees, radius):
    turn = math.pi - math.radians(degrees)
    corner = [(-1000, 0, 0), (0, 0, 0), (1000 * math.cos(turn), 1000 * math.sin(turn), 0)]
    assert along(corner, 60000, machine(500, 0.02)).exit[0] ** 2 / (500 * 0.02) == pytest.approx(
        radius, rel=1e-6
    )


def test_a_corner_between_short_moves_is_no_rounder_than_they_are_long():
    # Public planner sources of small open controllers: R at most L/2 tan(t/2) of each neighbour. A right
    # angle with 0.02 mm on one side: R 0.01 mm, v = sqrt(100 * 0.01) = 1 mm/s, not 1.55377.
    corner = [(-50, 0, 0), (0, 0, 0), (0, 0.02, 0), (0, 50, 0)]
    assert along(corner, 600, machine(100)).exit[0] == pytest.approx(1.0, rel=1e-9)


def test_a_factory_machine_takes_a_right_angle_at_thirty_millimetres_a_minute():
    # Public default configurations: 10 mm/s2, deviation 0.01 mm; product derived: 29.5 mm/min.
    corner = along([(0, 0, 0), (100, 0, 0), (100, 100, 0)], 600, machine(10))
    assert corner.exit[0] * 60 == pytest.approx(29.5, abs=0.05)


def test_an_eighth_inch_bit_rounds_its_own_corner_at_the_speed_of_the_arc():
    # v = sqrt(a R): a 100 mm/s2, R 1.5875 mm -> 12.5996 mm/s (derived). One quarter turn between long lines.
    points = np.array([(-50, -1.5875, 0), (0, -1.5875, 0), (1.5875, 0, 0), (1.5875, 50, 0)], dtype=float)
    bulges = np.array([0, math.tan(math.pi / 8), 0])
    timing = timed(points[:-1], points[1:], bulges, np.full(3, 6000.0), np.zeros(3, bool), machine(100))
    assert timing.peak[1] == pytest.approx(12.5996, rel=1e-5)
