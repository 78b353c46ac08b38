"""A Job is saved with the way to its picture, and opens again wherever both lie."""

from dataclasses import replace

import pytest

from app.desk.homes import Home, home_of, save
from app.opened import Opened, opened
from core.job.job import Job, Source

SOURCE = Source("cat.png", b"a picture of a cat")
JOB = Job(source="cat.png").with_choice("shape.height", "80 mm")


@pytest.fixture
def picture(tmp_path):
    place = tmp_path / "pictures" / "cat.png"
    place.parent.mkdir()
    place.write_bytes(SOURCE.data)
    return place


def test_a_picture_with_a_file_is_named_by_the_way_to_it(tmp_path, picture):
    path = tmp_path / "jobs" / "cat.samecut"
    path.parent.mkdir()
    home = save(path, JOB, SOURCE, Home(None, picture))
    assert home == Home(path, picture)
    assert "../pictures/cat.png" in path.read_text()
    assert [entry.name for entry in path.parent.iterdir()] == ["cat.samecut"]
    assert opened(path).job == JOB


def test_a_picture_without_a_file_is_put_beside_the_job(tmp_path):
    save(tmp_path / "cat.samecut", JOB, SOURCE, Home())
    assert (tmp_path / "cat.png").read_bytes() == SOURCE.data
    assert opened(tmp_path / "cat.samecut").source.data == SOURCE.data


def test_another_picture_of_that_name_is_left_alone(tmp_path):
    (tmp_path / "cat.png").write_bytes(b"another cat")
    save(tmp_path / "cat.samecut", JOB, SOURCE, Home())
    assert (tmp_path / "cat.png").read_bytes() == b"another cat"
    assert opened(tmp_path / "cat.samecut").source.data == SOURCE.data


def test_a_picture_that_has_changed_on_the_disk_is_not_taken_for_the_jobs_own(tmp_path, picture):
    picture.write_bytes(b"painted over")
    save(tmp_path / "cat.samecut", JOB, SOURCE, Home(None, picture))
    assert opened(tmp_path / "cat.samecut").source.data == SOURCE.data


def test_comments_of_the_earlier_job_stay_and_another_file_is_written_over(tmp_path, picture):
    path = tmp_path / "cat.samecut"
    home = save(path, JOB, SOURCE, Home(None, picture))
    path.write_text(path.read_text() + "\n# mind the tail\n")
    save(path, JOB.with_choice("shape.height", "90 mm"), SOURCE, home)
    assert "# mind the tail" in path.read_text()
    path.write_text("no Job at all")
    save(path, JOB, SOURCE, home)
    assert opened(path).job == JOB


def test_a_second_picture_is_saved_and_named_too(tmp_path, picture):
    both = replace(SOURCE, face=Source("face.png", b"the same cat in colours"))
    job = replace(JOB, face="face.png")
    home = save(tmp_path / "cat.samecut", job, both, Home(None, picture))
    assert home.face == tmp_path / "face.png"
    again = opened(tmp_path / "cat.samecut")
    assert again.job == job
    assert again.source == both
    assert home_of(tmp_path / "cat.samecut", again).face == home.face


def test_what_was_opened_is_at_home_where_it_was(tmp_path):
    job, picture = tmp_path / "a.samecut", tmp_path / "a.png"
    found = Opened(JOB, SOURCE, picture=picture)
    assert home_of(job, found) == Home(job, picture)
    assert home_of(picture, found) == Home(None, picture)
    assert Home(None, picture).folder == tmp_path
