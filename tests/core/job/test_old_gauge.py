"""A correction is as good as its gauge is young."""

from datetime import date

import pytest

from core.job.job import Job
from core.job.old_gauge import old_gauges

TODAY = date(2027, 3, 1)


@pytest.mark.parametrize(
    ("choices", "said"),
    [
        ({}, []),
        ({"machine.gauged": "2020-01-01"}, []),
        ({"machine.scale_x": "100.2 %", "machine.gauged": "2026-04-01"}, []),
        ({"machine.scale_x": "100.2 %", "machine.gauged": "2026-02-01"}, ["router"]),
        ({"knife.skew": "0.1 deg"}, ["cutter"]),
        ({"knife.skew": "0.1 deg", "machine.scale_y": "99 %"}, ["router", "cutter"]),
    ],
)
def test_an_old_gauge_and_one_of_no_known_day_are_said(choices, said):
    job = Job()
    for key, text in choices.items():
        job = job.with_choice(key, text)
    sentences = old_gauges(job, TODAY)
    assert [word for sentence in sentences for word in ("router", "cutter") if word in sentence] == said
