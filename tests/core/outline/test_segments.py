"""The formulas of lines and arcs against 60-digit arithmetic and closed forms."""

from decimal import Decimal, getcontext

import numpy as np
import pytest

from core.outline.curve import distances_between, equations_at, fractions_of, part_between, picked
from core.outline.segments import Segments


def one(bulge, chord=10.0):
    return Segments(np.array([[0.0, 0.0]]), np.array([[chord, 0.0]]), np.array([bulge]))


def many(seed, count=500):
    rng = np.random.default_rng(seed)
    bulges = np.where(
        rng.random(count) < 0.2, 0.0, rng.normal(0, 1, count) * 10.0 ** rng.uniform(-12, 0, count)
    )
    return Segments(rng.uniform(-50, 50, (count, 2)), rng.uniform(-50, 50, (count, 2)), bulges), rng


def exact_cap(bulge, chord):
    """c^2 (h - sin h cos h) / (4 sin^2 h) with the series of atan, sin and cos to 60 digits."""
    getcontext().prec = 60
    b = Decimal(bulge)
    half = 2 * sum((-1) ** k * b ** (2 * k + 1) / (2 * k + 1) for k in range(200))
    sin = 2 * b / (1 + b * b)
    cos = (1 - b * b) / (1 + b * b)
    return float(Decimal(chord) ** 2 * (half - sin * cos) / (4 * sin * sin))


@pytest.mark.parametrize("bulge", [1e-8, 3e-5, 0.9e-4, 1.1e-4, 1e-3, 0.05, 0.3, 0.7])
def test_the_cap_of_an_arc_is_right_to_seven_digits_however_flat_it_is(bulge):
    assert one(bulge).cap_areas()[0] == pytest.approx(exact_cap(bulge, 10.0), rel=1e-7)


@pytest.mark.parametrize("degrees", [1, 30, 90, 180, 270, 350])
def test_length_radius_and_centre_are_those_of_the_circle(degrees):
    sweep = np.radians(degrees)
    arc = Segments(
        np.array([[3.0 + 5.0, 4.0]]),
        np.array([[3.0 + 5.0 * np.cos(sweep), 4.0 + 5.0 * np.sin(sweep)]]),
        np.array([np.tan(sweep / 4.0)]),
    )
    assert arc.lengths()[0] == pytest.approx(5.0 * sweep)
    assert arc.radii()[0] == pytest.approx(5.0)
    np.testing.assert_allclose(arc.centres(), [[3.0, 4.0]], atol=1e-9)
    np.testing.assert_allclose(
        arc.points_at(np.array([0.25])),
        [[3.0 + 5.0 * np.cos(sweep / 4.0), 4.0 + 5.0 * np.sin(sweep / 4.0)]],
        atol=1e-12,
    )


def test_the_fraction_of_a_point_on_a_segment_comes_back():
    segments, rng = many(1)
    shares = rng.uniform(0.0, 1.0, len(segments))
    np.testing.assert_allclose(fractions_of(segments, segments.points_at(shares)), shares, atol=1e-12)


@pytest.mark.parametrize("tip", ["starts", "ends"])
def test_a_point_a_hair_beside_an_end_has_the_fraction_of_that_end(tip):
    """A fault of old: square to the end of a line, the fraction came out as that of its start."""
    segments, rng = many(2)
    beside = getattr(segments, tip) + rng.uniform(-1e-14, 1e-14, (len(segments), 2))
    np.testing.assert_allclose(fractions_of(segments, beside), float(tip == "ends"), atol=1e-9)


def test_the_distance_to_an_arc_is_that_to_the_nearest_of_its_points():
    segments, rng = many(3, 60)
    places = rng.uniform(-80, 80, (len(segments), 2))
    shares = np.linspace(0.0, 1.0, 20001)
    for index in range(len(segments)):
        row = picked(segments, np.full(len(shares), index))
        nearest = np.hypot(*(row.points_at(shares) - places[index]).T).min()
        found = distances_between(picked(segments, np.array([index])), places[index : index + 1])[0]
        step = segments.lengths()[index] / 20000
        assert nearest - step**2 / max(found, step) - 1e-9 <= found <= nearest + 1e-9


def test_the_equation_of_a_segment_is_zero_on_it_and_positive_to_its_left():
    segments, rng = many(4)
    places = segments.points_at(rng.uniform(0.05, 0.95, len(segments)))
    assert np.abs(equations_at(segments, places)).max() < 1e-11
    inside = Segments(np.array([[1.0, 0.0]]), np.array([[-1.0, 0.0]]), np.array([1.0]))
    assert equations_at(inside, np.zeros((1, 2)))[0] == pytest.approx(0.5)  # (R^2 - 0) / 2R


def test_two_parts_of_a_segment_are_as_long_as_the_whole():
    segments, rng = many(5)
    cut = rng.uniform(0.1, 0.9, len(segments))
    middle = segments.points_at(cut)
    first = Segments(segments.starts, middle, part_between(segments, 0.0 * cut, cut))
    last = Segments(middle, segments.ends, part_between(segments, cut, 1.0 + 0.0 * cut))
    np.testing.assert_allclose(first.lengths() + last.lengths(), segments.lengths(), rtol=1e-12)


def test_a_step_turns_back_where_the_arc_does():
    assert one(1.0).turning_points()[:, 1].min() == pytest.approx(-5.0)
