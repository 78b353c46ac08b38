"""The forecast of the fit: the numbers of the bench, and a claim that holds on fresh draws."""

from dataclasses import replace

import numpy as np
import pytest

from core.sheet.fit_error import Doubts, forecast, forecast_findings, layings

MARKS = [(-10.0, 128.0), (104.0, 128.0), (24.0, -10.0)]
PART = [(0.0, 0.0), (94.0, 0.0), (0.0, 118.0), (94.0, 118.0)]
CALIBRATED, FIRST_TRY = Doubts(0.15, 0.001, 0.0005), Doubts(0.30, 0.002, 0.001)


@pytest.mark.parametrize(  # derived values, worked out apart from this code
    ("doubts", "median", "claim"), [(CALIBRATED, 0.20, 0.35), (FIRST_TRY, 0.41, 0.70)]
)
def test_the_forecast_comes_to_the_numbers_of_the_bench(doubts, median, claim):
    found = forecast(MARKS, PART, doubts)
    assert found.median_mm == pytest.approx(median, abs=0.01)
    assert found.claim_mm == pytest.approx(claim, abs=0.01)


@pytest.mark.parametrize("seed", range(4))
def test_a_claim_of_95_in_100_holds_in_94_to_96_of_fresh_draws(seed):
    rng = np.random.default_rng(1000 + seed)
    marks = [tuple(mark) for mark in rng.uniform(0, 200, (3 + seed % 2, 2))]
    places = [tuple(place) for place in rng.uniform(0, 200, (6, 2))]
    doubts = Doubts(*(rng.uniform(0.05, 1.0) * np.array([0.3, 0.002, 0.001])))
    claim = forecast(marks, places, doubts).claim_mm
    held = np.mean(layings(marks, places, doubts, 20_000, rng) <= claim)
    assert 0.94 <= held <= 0.96


def test_the_inset_proposed_covers_the_claim_in_steps_of_a_tenth():
    found = forecast(MARKS, PART, FIRST_TRY)
    assert 0.0 <= found.inset_mm - found.claim_mm < 0.1
    assert found.inset_mm == pytest.approx(round(found.inset_mm, 1))


def test_an_inset_below_the_claim_is_a_caution_and_one_above_it_a_note():
    found = forecast(MARKS, PART, FIRST_TRY)
    assert [one.code for one in forecast_findings(found, 0.5)] == ["inset-below-forecast"]
    assert [one.code for one in forecast_findings(found, 0.8)] == ["fit-forecast"]
    assert forecast_findings(None, 0.5) == ()


def test_the_same_marks_give_the_same_forecast_every_time():
    assert forecast(MARKS, PART, FIRST_TRY) == forecast(MARKS, PART, FIRST_TRY)
    assert forecast(MARKS[:1], PART, FIRST_TRY) is None


def test_places_within_others_change_nothing():
    rng = np.random.default_rng(3)
    inner = [tuple(place) for place in rng.uniform((0, 0), (94, 118), (50, 2))]
    assert forecast(MARKS, [*inner, *PART], FIRST_TRY).claim_mm == pytest.approx(
        forecast(MARKS, PART, FIRST_TRY).claim_mm, abs=1e-9
    )
    draws = [np.random.default_rng(5) for _ in range(2)]
    meant = layings(MARKS, PART, FIRST_TRY, 500, draws[0])
    every = layings(MARKS, [*inner, *PART], FIRST_TRY, 500, draws[1])
    assert every == pytest.approx(meant, abs=1e-9)


def test_axes_that_are_off_each_by_itself_miss_more_often_and_as_two_draws_say():
    own = replace(FIRST_TRY, has_own_axes=True)
    assert forecast(MARKS, PART, own).claim_mm > 1.01 * forecast(MARKS, PART, FIRST_TRY).claim_mm
    rng, far = np.random.default_rng(2), Doubts(1e-9, 0.001, 1e-12, has_own_axes=True)
    off = layings([(0.0, 0.0), (100.0, 0.0)], [(100.0, 0.0), (0.0, 100.0)], far, 40_000, rng)
    scales = 0.001 * rng.standard_normal((2, 40_000))
    x, y = 50.0 * scales[0], np.hypot(50.0 * scales[0], 100.0 * scales[1])
    assert np.quantile(off, 0.95) == pytest.approx(np.quantile(np.maximum(np.abs(x), y), 0.95), rel=0.02)
