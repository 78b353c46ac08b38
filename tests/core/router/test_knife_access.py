"""A knife gets at tabs on a free side, not at those in a narrow bay or a small opening."""

from dataclasses import replace

import pytest

from core.findings import Level
from core.outline.region import Region
from core.router.bit import Bit
from core.router.checks import checked
from core.router.knife_access import access_findings
from core.router.setup import Setup
from core.router.tab import TabPlace
from tests.core.router.sheet_after import BIT, CUTTING, MACHINE, TABS, polygon, rectangle, sheet

SETUP = Setup(sheet(marks=()), BIT, CUTTING, TABS, MACHINE)
BAY = (Region(polygon((30, 30), (110, 30), (110, 130), (80, 130), (80, 60), (60, 60), (60, 130), (30, 130))),)
WINDOW = (Region(rectangle(30, 30, 110, 130), (rectangle(40, 50, 100, 110).reversed(),)),)


def hidden(part, at, outwards, bit=BIT):
    on = (at[0] + outwards[0] * bit.radius_mm, at[1] + outwards[1] * bit.radius_mm)
    return [one.code for one in access_findings((TabPlace(on, at),), part, replace(SETUP, bit=bit))]


def test_a_tab_on_a_free_side_is_reached():
    assert hidden(BAY, (110, 80), (1, 0)) == []
    assert hidden(BAY, (70, 30), (0, -1)) == []


def test_a_tab_in_a_bay_narrower_than_a_knife_is_long_is_not():
    assert hidden(BAY, (80, 90), (-1, 0)) == ["tab-out-of-reach"]


def test_the_bottom_of_a_bay_is_reached_through_its_mouth():
    assert hidden(BAY, (70, 60), (0, 1)) == []


def test_a_large_window_has_room_for_a_knife_and_its_corner_too_by_a_turn():
    assert hidden(WINDOW, (40, 80), (1, 0)) == []
    assert hidden(WINDOW, (40, 55.5), (1, 0), Bit(3.175, 1, 6.0)) == []


@pytest.mark.parametrize(("feed", "level"), [(400, Level.NOTE), (750, Level.CAUTION)])
def test_a_speed_set_by_hand_is_told_with_the_chip_at_a_fifth_less(feed, level):
    by_knob = replace(MACHINE, spindle="knob")
    found = checked(Setup(sheet(), BIT, replace(CUTTING, feed_mm_min=float(feed)), TABS, by_knob))
    (told,) = [one for one in found if one.code == "speed-by-hand"]
    assert told.level is level
    assert f"{feed / 8000:.3f} mm" in told.text
    assert not [one for one in checked(SETUP) if one.code == "speed-by-hand"]
