"""How deep a router truly cuts, from its stair."""

import numpy as np
import pytest

from core.gauge.depths import DepthReading, depth_lines, depths_of
from core.gauge.plate import STAIR, stair, steps


def readings(scale, off, noise=(0.0, 0.0, 0.0, 0.0)):
    return [
        DepthReading(one.letter, one.depth_mm, scale * one.depth_mm + off + by)
        for one, by in zip(steps(), noise, strict=True)
    ]


def test_offset_and_scale_come_out_of_readings_without_noise():
    found = depths_of(readings(1.02, 0.08), 0.05)
    assert (found.scale, found.off_mm) == (pytest.approx(1.02), pytest.approx(0.08))


def test_what_is_stated_for_95_of_100_holds():
    rng = np.random.default_rng(5)
    off = []
    for _ in range(2000):
        found = depths_of(readings(1.0, 0.1, rng.normal(0.0, 0.05, 4)), 0.05)
        off.append(
            ((found.off_mm - 0.1) / found.off_deviation_mm, (found.scale - 1.0) / found.scale_deviation)
        )
    assert (np.abs(off) < 1.96).mean() == pytest.approx(0.95, abs=0.01)


def test_one_step_tells_the_offset_alone_and_none_tells_nothing():
    one = depths_of(readings(1.0, 0.1)[:1], 0.05)
    assert (one.off_mm, one.scale_deviation) == (pytest.approx(0.1), None)
    assert depths_of([], 0.05) is None


def test_what_is_sure_is_said_with_what_to_do():
    assert any("set z anew" in line for line in depth_lines(depths_of(readings(1.0, 0.2), 0.03)))
    assert not any("set z anew" in line for line in depth_lines(depths_of(readings(1.0, 0.01), 0.03)))


def test_thin_stock_has_fewer_steps():
    assert stair(3.0, 0.8) == STAIR
    assert [depth for _, depth in stair(2.0, 0.6)] == [0.5, 1.0]
    assert stair(1.0, 0.6) == ()
