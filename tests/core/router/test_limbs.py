"""Necks of the part: how wide, how far a push reaches, and what is told of them."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.findings import Level
from core.outline.loop import Loop
from core.outline.region import Region
from core.router.limbs import bending, limb_findings, necks_of
from core.router.setup import Setup
from core.sheet.material import material_named
from tests.core.router.sheet_after import BIT, CUTTING, MACHINE, TABS, planned, polygon, rectangle, sheet

SETUP = Setup(sheet(marks=()), BIT, CUTTING, TABS, MACHINE)


def arm(width, length):
    """A plate of 60 x 60 with an arm to its right."""
    low, high = 70.0 - width / 2, 70.0 + width / 2
    outline = [(5, 40), (65, 40), (65, low), (65 + length, low), (65 + length, high), (65, high), (65, 100)]
    return Region(polygon(*outline, (5, 100)))


@settings(deadline=None, max_examples=25)
@given(st.floats(1.5, 7.0), st.floats(15.0, 60.0), st.floats(0.0, 6.28))
def test_an_arm_is_as_wide_and_as_long_as_it_was_drawn(width, length, turn):
    cos, sin = np.cos(turn), np.sin(turn)
    loop = arm(width, length).outer
    turned = Region(Loop(loop.points @ np.array([[cos, sin], [-sin, cos]]), loop.bulges))
    necks = [neck for neck in necks_of(turned, (), 8.0) if not neck.is_bar]
    root = max(necks, key=lambda neck: neck.arm_mm)
    assert root.width_mm == pytest.approx(width, abs=0.02)
    assert root.arm_mm == pytest.approx(np.hypot(length, width / 2), abs=1.1)  # a step along the wall


def test_a_long_thin_arm_is_told_with_place_and_remedy_and_a_short_one_not():
    told = limb_findings((arm(2.0, 60.0),), (), SETUP)
    assert [one.code for one in told] == ["neck-may-break"]
    assert told[0].level is Level.CAUTION
    assert "tab" in told[0].remedy
    assert told[0].at == pytest.approx((65.0, 70.0), abs=2.0)
    assert limb_findings((arm(4.0, 25.0),), (), SETUP) == ()


def test_a_tab_on_the_arm_takes_the_push():
    assert limb_findings((arm(2.0, 60.0),), ((105.0, 71.0),), SETUP) == ()


def test_a_stronger_sheet_bears_more():
    weak = replace(SETUP, cutting=replace(CUTTING, material=material_named("HDPE")))
    assert limb_findings((arm(2.0, 30.0),), (), weak)
    assert not limb_findings((arm(2.0, 30.0),), (), SETUP)


def test_a_bar_beside_an_opening_is_held_at_both_its_ends():
    frame = Region(rectangle(10, 10, 130, 130), (rectangle(12, 30, 110, 110).reversed(),))
    bars = [neck for neck in necks_of(frame, (), 4.0) if neck.is_bar]
    middle = min(bars, key=lambda neck: np.hypot(neck.at[0] - 11.0, neck.at[1] - 70.0))
    assert middle.width_mm == pytest.approx(2.0, abs=0.02)
    assert middle.beyond_mm == pytest.approx(80.0, abs=2.5)
    assert middle.arm_mm == pytest.approx(middle.beyond_mm / 8.0)


def test_no_corner_is_a_neck():
    star = polygon(*[(70 + r * np.cos(t), 75 + r * np.sin(t)) for t, r in
                     zip(np.arange(10) * np.pi / 5, [50, 25] * 5, strict=True)])  # fmt: skip
    assert limb_findings((Region(star),), (), SETUP) == ()


def test_a_plan_tells_it():
    _, made = planned((arm(1.5, 60.0),), layout=sheet(marks=()), tabs=replace(TABS, placed=((35.0, 40.0),)))
    assert "neck-may-break" in {one.code for one in made.findings}


def test_bending_falls_with_width_and_with_the_square_of_the_thickness():
    assert bending(10, 30, 4, 3) / bending(10, 30, 8, 6) == pytest.approx(8.0)
