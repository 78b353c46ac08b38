"""Tabs that nobody asked for follow the sheet's material; those that were asked for stay as they are."""

import pytest

from core.job.job import Job
from core.job.resolve import tab_rule


def rule(**choices):
    job = Job()
    for name, text in choices.items():
        job = job.with_choice(name.replace("__", "."), text)
    return tab_rule(job, None)  # no tab is placed by hand, so that no place is asked for


@pytest.mark.parametrize(
    ("material", "neck", "height"),
    [
        # Common practice, no source: 3 x 0.8 in the frame at least, 4 x 1.0 in wood and HDPE.
        ("clear cast acrylic", 3.0, 0.8),
        ("opaque cast acrylic", 3.0, 0.8),
        ("ABS", 3.0, 0.8),
        ("HDPE", 4.0, 1.0),
        ("plywood", 4.0, 1.0),
        ("MDF", 4.0, 1.0),
    ],
)
def test_tabs_nobody_asked_for_follow_the_material(material, neck, height):
    made = rule(stock__material=material)
    assert (made.neck_mm, made.height_mm, made.spacing_mm, made.least_count) == (neck, height, 60.0, 4)


def test_tabs_that_were_asked_for_stay():
    made = rule(stock__material="plywood", part__tab_neck="2.5 mm", part__tab_height="0.6 mm")
    assert (made.neck_mm, made.height_mm) == (2.5, 0.6)


def test_in_a_thin_sheet_a_tab_is_no_higher_than_half_of_it():
    assert rule(stock__material="plywood", stock__thickness="1.8 mm").height_mm == pytest.approx(0.9)
    assert rule(stock__material="plywood", stock__thickness="1.2 mm").height_mm == 0.8
