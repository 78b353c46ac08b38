"""A kit whose part stands on a base plate: both sizes are claimed, and both are proven."""

import pytest

from tests.support.pictures import badge_kit


def test_the_kit_is_proven_with_the_height_of_the_drawn_shape():
    report = badge_kit(shape__pieces="based", shape__base_margin="4 mm", film__inset="1 mm").report
    assert report["height_mm"] == 60.0
    assert report["part_mm"][1] == pytest.approx(68.0, abs=1e-4)
    assert report["readback"]["height_error_mm"] < 0.005
    assert report["readback"]["rules"]["broken"] == []
    assert not [finding for finding in report["findings"] if finding["level"] == "stop"]
