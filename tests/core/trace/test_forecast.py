"""What pixels should read, against a renderer that shares nothing with it, and against closed forms."""

import numpy as np
import pytest

from core.outline.chain import Chain
from core.trace.forecast import cut_off, forecast, grain_of
from tests.support.drawn import FOUR, drawn, flag, pie


@pytest.mark.parametrize("shape", [pie(120), flag(120)], ids=lambda shape: shape.name)
def test_a_forecast_of_the_truth_reads_as_it_was_drawn(shape):
    chains = tuple(
        Chain(np.vstack((ring.points, ring.points[:1])), ring.bulges, patch.colour, 0)
        for patch in shape.patches
        for ring in patch.rings
    )
    told = forecast(chains, FOUR, FOUR[0], (122, 122), 0.0)
    assert np.abs(told[1:-1, 1:-1][::-1] - drawn(shape, FOUR)).max() < 1e-3


def test_noise_cut_off_at_white_lowers_white_by_its_mean_and_leaves_grey_alone():
    told = np.array([[[1.0, 0.5, 0.0]]], dtype=np.float32)
    grain = 0.05
    found = cut_off(told, grain)[0, 0]
    lost = grain / np.sqrt(2.0 * np.pi)  # the mean of max(z, 0) for z normal about 0
    np.testing.assert_allclose(found, [1.0 - lost, 0.5, lost], atol=1e-6)


def test_the_grain_of_a_picture_is_the_noise_that_was_put_in():
    told = np.full((240, 240, 3), 0.5, dtype=np.float32)
    pixels = told + np.random.default_rng(3).normal(0.0, 0.03, told.shape).astype(np.float32)
    assert grain_of(pixels, told) == pytest.approx(0.03, rel=0.03)
