"""Least-squares lines and arcs from moments, against the samples they were made from."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.trace.moments import fits, powers


def along_arc(centre, radius, start, sweep, count=40):
    angle = start + np.linspace(0.0, sweep, count)
    return np.asarray(centre) + radius * np.column_stack((np.cos(angle), np.sin(angle)))


@settings(max_examples=40, deadline=None)
@given(
    radius=st.floats(2.0, 500.0),
    start=st.floats(0.0, 6.2),
    sweep=st.floats(0.3, 6.0),
)
def test_samples_of_an_arc_give_back_its_circle_and_no_misfit(radius, start, sweep):
    places = along_arc((31.7, -12.9), radius, start, sweep)
    found = fits(powers(places - places[0]).sum(axis=1))
    np.testing.assert_allclose(
        found.centre + places[0], (31.7, -12.9), atol=1e-4 * radius / min(sweep, 1) ** 2
    )
    assert found.radius == pytest.approx(radius, rel=1e-4 / min(sweep, 1.0) ** 2)
    assert found.arc < 1e-6 * radius


def test_the_misfit_of_a_noisy_arc_is_that_of_its_samples():
    rng = np.random.default_rng(1)
    places = along_arc((0.0, 0.0), 50.0, 0.4, 1.0, 80) + rng.normal(0.0, 0.02, (80, 2))
    found = fits(powers(places - places[0]).sum(axis=1))
    off = np.hypot(*(places - places[0] - found.centre).T) - found.radius
    assert float(found.arc) == pytest.approx(float(np.sum(off**2)), rel=1e-3)


def test_a_line_misfits_by_the_smaller_spread_of_its_samples():
    places = np.column_stack((np.arange(10.0), np.tile([0.1, -0.1], 5)))
    slope, _, *_ = np.polyfit(places[:, 0], places[:, 1], 1)
    found = fits(powers(places).sum(axis=1))
    assert float(found.line) == pytest.approx(np.sum((places[:, 1]) ** 2), rel=0.05)
    assert abs(slope) < 0.02
