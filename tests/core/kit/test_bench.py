"""The bench's own numbers: they follow from the Job, and the report lists what the sheet says."""

from math import hypot

import pytest

from core.build import build
from core.kit.bench import measure_rows, reported_bench
from core.kit.measures import READING_MM, measures_of
from tests.support.pictures import badge, badge_kit, job


@pytest.fixture(scope="module")
def measured():
    return {one.what: one for one in measures_of(build(job(), badge()))}


def test_what_is_measured_is_what_the_report_says(measured):
    report = badge_kit().report
    marks = report["marks"]
    (key,) = (mark["at"] for mark in marks if mark["key"])
    apart = max(hypot(mark["at"][0] - key[0], mark["at"][1] - key[1]) for mark in marks)
    assert measured["sheet"].expected_mm == report["stock"]["thickness_mm"]
    good = [measured["sheet"].least_mm, measured["sheet"].most_mm]
    assert good == pytest.approx(report["stock"]["good_for_mm"])
    assert measured["part"].expected_mm == pytest.approx(report["height_mm"], abs=0.001)
    assert measured["neck"].expected_mm == pytest.approx(report["program"]["tabs"][0]["neck_mm"])
    assert measured["marks"].expected_mm == pytest.approx(apart)


def test_a_length_is_as_doubtful_as_the_reading_and_the_machines(measured):
    surer = {one.what: one for one in measures_of(build(job(fit__scale_doubt="0 %"), badge()))}
    part = measured["part"]
    assert part.most_mm - part.expected_mm == pytest.approx(READING_MM + 0.002 * part.expected_mm)
    assert surer["part"].expected_mm - surer["part"].least_mm == pytest.approx(READING_MM)


def test_a_film_is_as_tall_as_its_pieces_on_one_part(measured):
    """The badge is 60 mm tall and its film lies 0.8 mm inside, above and below."""
    assert measured["film"].expected_mm == pytest.approx(60.0 - 2 * 0.8, abs=0.02)


def test_marks_that_are_not_bored_are_measured_in_the_film_alone():
    made = build(job(fit__way="sheet"), badge())
    (row,) = (row for row in measure_rows(measures_of(made), "sheet") if "mark" in row.what)
    assert row.what.endswith("in the film")
    assert row.readings == 1


def test_without_a_program_nothing_is_said_of_stopping():
    made = build(job(), badge())
    assert reported_bench(made, has_program=False)["stop_if"] == []
    told = reported_bench(made, has_program=True)["stop_if"]
    assert {"melts", "chatters", "lifts"} <= {one["trouble"] for one in told}
    listed = badge_kit().report["bench"]["stop_if"]
    assert [one["trouble"] for one in listed] == [one["trouble"] for one in told]
    assert listed[0]["changes"][0]["number"] == "cutting.speed"
