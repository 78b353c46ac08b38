"""What the bit, the nut and the spindle would meet is told before it does."""

from dataclasses import replace

import numpy as np
import pytest

from core.findings import Level
from core.outline.region import Region
from core.router.clear_of import nearest_places, places_along
from core.router.lap import clearance_lap
from core.router.setup import Setup
from core.sheet.clamp import Clamp
from tests.core.router.sheet_after import BIT, CUTTING, MACHINE, TABS, planned, rectangle, sheet

PART = (Region(rectangle(40, 40, 100, 110)),)  # its passes run at x = 101.2


def with_clamp(*clamps, **body):
    layout = sheet()
    return replace(layout, clamps=clamps, body=replace(layout.body, **body))


def told(layout):
    return {finding.code: finding for finding in planned(PART, layout=layout)[1].findings}


def low(x, height=10.0):
    """A clamp whose left side stands at x."""
    return Clamp((x + 10, 75), (20, 20), height)


def test_a_low_clamp_meets_the_bit_alone():
    assert told(with_clamp(low(101.5)))["clamp-in-the-way"].text.startswith("The bit")
    assert "clamp-near" in told(with_clamp(low(103.5)))
    assert not {"clamp-near", "clamp-in-the-way"} & set(told(with_clamp(low(107.5))))


def test_a_high_clamp_meets_the_nut_and_a_higher_one_the_spindle():
    nut = told(with_clamp(low(107.5, 18.0)))["clamp-in-the-way"]
    assert nut.text == "The nut runs into the clamp at 117.5, 75 mm: 3.2 mm missing."
    assert nut.level is Level.STOP
    assert told(with_clamp(low(120.0, 33.0)))["clamp-in-the-way"].text.startswith("The spindle")


def test_the_bit_travels_above_the_highest_clamp_and_says_so():
    layout = with_clamp(low(115.0, 17.0))
    path = planned(PART, layout=layout)[1]
    assert path.safe_z_mm == 22.0
    assert "lifted-over-clamps" in {finding.code for finding in path.findings}
    rapids = path.toolpath.motions == 0
    across = rapids & (np.abs(np.diff(path.toolpath.starts()[:, 0], append=0)) > 1e-9)
    assert (path.toolpath.ends[across, 2] == 22.0).all()


def test_a_nut_that_would_rub_on_the_sheet_is_a_stop_with_what_is_missing():
    found = told(with_clamp(stick_out_mm=4.0))["bit-sticks-out-too-little"]
    assert "0.4 mm missing" in found.text


def test_the_path_is_looked_at_closely_arcs_and_slopes_too():
    path = planned(PART)[1].toolpath
    places = places_along(path)
    assert np.hypot(*np.diff(places[:, :2], axis=0).T).max() <= 0.5 + 1e-9
    assert places[-1] == pytest.approx(path.ends[-1])


def test_the_lap_goes_past_each_clamp():
    clamps = (low(115.0), Clamp((20, 75), (10, 10), 8, is_round=True))
    path = planned(PART)[1].toolpath
    lap = clearance_lap(path, Setup(with_clamp(*clamps), BIT, CUTTING, TABS, MACHINE))
    for place in nearest_places(path, clamps):
        assert np.hypot(*(lap.ends[:, :2] - place).T).min() < 1e-9
    assert (lap.ends[:, 2] == 15.0).all()
