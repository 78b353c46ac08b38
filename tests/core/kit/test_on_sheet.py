"""Film on the sheet first: a kit that waits for readings, then a program turned and shifted to them."""

import json

import numpy as np
import pytest

from core.errors import BadValue
from core.findings import has_stop
from core.job.job import Job
from core.kit.check import check_files
from core.sheet.pose import Pose
from tests.support.pictures import badge_kit

POSE = Pose(0.0421, (17.3, -4.25))


@pytest.fixture(scope="module")
def waiting():
    return badge_kit(fit__way="sheet")


def told(kit, pose, count=3):
    """What a controller would show over the marks of a kit, to a hundredth."""
    x, y = kit.report["frame"]["zero_at"]
    marks = np.array([mark["at"] for mark in kit.report["marks"]]) - (x, y)
    return "; ".join(f"{a:.2f},{b:.2f}" for a, b in pose.of(marks)[:count])


@pytest.fixture(scope="module")
def found(waiting):
    return badge_kit(fit__way="sheet", fit__readings=told(waiting, POSE))


def codes(findings):
    return {finding.code for finding in findings}


def test_before_the_readings_there_are_films_and_no_program_and_nothing_is_wrong(waiting):
    roles = {file["role"] for file in waiting.report["files"]}
    assert not has_stop(waiting.findings)
    assert waiting.report["program"] is None
    assert waiting.report["frame"]["found"] is None
    assert "film-drawing" in roles
    assert not roles & {"part-program", "clearance-lap", "no-program"}
    assert "readings-awaited" in codes(waiting.findings)
    assert check_files(waiting.files)[1] == ()


def test_film_that_goes_first_lies_a_whole_millimetre_inside_and_its_marks_are_not_bored(waiting, found):
    assert [film["inset_mm"] for film in waiting.report["films"]] == [1.0, 1.0]
    assert {mark["kind"] for mark in waiting.report["marks"]} == {"film"}
    assert b"mark" not in found.files["badge-60mm-part-Ztop.nc"]


def test_the_program_is_written_to_the_pose_that_the_readings_say(found):
    pose = found.report["frame"]["found"]
    assert pose["turn_deg"] == pytest.approx(np.degrees(POSE.turn), abs=0.01)
    assert pose["shift_mm"] == pytest.approx(POSE.shift, abs=0.02)
    assert not has_stop(found.findings)
    assert found.report["readback"]["edge_error_mm"]["max"] < 0.01


def test_check_undoes_the_pose(found):
    assert check_files(found.files)[1] == ()
    report = json.loads(found.files["report.json"])
    report["frame"]["found"]["turn_deg"] += 0.1
    harmed = dict(found.files) | {"report.json": json.dumps(report).encode()}
    assert has_stop(check_files(harmed)[1])


def test_readings_that_are_not_these_marks_are_a_stop_and_no_program_is_written():
    kit = badge_kit(fit__way="sheet", fit__readings="10,10; 40,10; 10,70")
    assert "readings-disagree" in codes(kit.findings)
    assert has_stop(kit.findings)
    assert kit.report["program"] is None


def test_a_sheet_that_moved_is_found_again_in_its_frame_too():
    before = badge_kit()
    after = badge_kit(fit__readings=told(before, Pose(-0.02, (3.0, 4.0)), 2))
    assert not has_stop(after.findings)
    assert "third-mark-unread" in codes(after.findings)
    assert after.report["readback"]["mark_error_mm"] <= 0.001


def test_films_for_the_back_cannot_go_on_the_sheet_first():
    assert "film-first-behind" in codes(badge_kit(fit__way="sheet", film__side="behind").findings)


def test_a_reading_is_two_lengths():
    assert Job().with_choice("fit.readings", "1.25, -3; 1 in x 2 mm").fit.readings == (
        (1.25, -3.0),
        (25.4, 2.0),
    )
    with pytest.raises(BadValue):
        Job().with_choice("fit.readings", "12")


def test_an_inset_that_was_asked_for_is_kept_and_judged():
    kit = badge_kit(fit__way="sheet", film__inset="0.7 mm")
    assert [film["inset_mm"] for film in kit.report["films"]] == [0.7, 0.7]
    assert "film-near-bit" in codes(kit.findings)
    assert "film-first-inset" not in codes(kit.findings)


def test_the_default_inset_that_was_typed_is_kept_too():
    kit = badge_kit(fit__way="sheet", film__inset="0.8 mm")
    assert [film["inset_mm"] for film in kit.report["films"]] == [0.8, 0.8]
    assert "film-near-bit" in codes(kit.findings)
    assert "film-first-inset" not in codes(kit.findings)
    (saved,) = (kit.files[file["path"]] for file in kit.report["files"] if file["role"] == "job")
    assert 'inset = "0.8 mm"' in saved.decode()


def test_an_inset_that_follows_the_way_of_fitting_is_told(waiting):
    assert "film-first-inset" in codes(waiting.findings)
    assert "film-near-bit" not in codes(waiting.findings)


def test_copies_on_a_sheet_that_was_found_are_proven_too():
    many = badge_kit(fit__way="sheet", stock__copies="3")
    kit = badge_kit(fit__way="sheet", stock__copies="3", fit__readings=told(many, POSE))
    assert not has_stop(kit.findings)
    assert check_files(kit.files)[1] == ()
