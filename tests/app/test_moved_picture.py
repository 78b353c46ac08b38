from hashlib import sha256
from pathlib import Path

import pytest

from app.opened import opened
from core.errors import LostPicture, UnreadableFile
from core.job.job import Job
from core.job.saved import PictureEntry, write_job
from tests.support.pictures import badge_png

DIGEST = sha256(badge_png()).hexdigest()


@pytest.fixture
def bench(tmp_path):
    """A folder of Jobs in a folder of its own, so that nothing else lies near."""
    folder = tmp_path / "shop" / "jobs"
    folder.mkdir(parents=True)
    return folder


def saved(folder: Path, path="pictures/badge.png", digest=DIGEST) -> Path:
    place = folder / "badge.samecut"
    place.write_text(write_job(Job(source="badge.png"), PictureEntry(path, digest)))
    return place


def put(place: Path, data=None) -> Path:
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(badge_png() if data is None else data)
    return place


@pytest.mark.parametrize(
    "where",
    ["badge.png", "other name.PNG", "deeper/badge.png", "../badge.png", "../beside/turned.png"],
)
def test_a_picture_that_has_moved_near_the_job_is_found_and_told(bench, where):
    job, place = saved(bench), put(bench / where)
    put(bench / "another.png", b"of another shape")
    found = opened(job)
    assert found.source.data == badge_png()
    assert (found.has_moved, found.picture.resolve()) == (True, place.resolve())


def test_a_picture_in_its_place_is_taken_there(bench):
    put(bench / "badge.png")
    put(bench / "pictures" / "badge.png")
    found = opened(saved(bench))
    assert (found.has_moved, found.picture) == (False, bench / "pictures/badge.png")


def test_another_picture_in_its_place_is_passed_by_for_the_true_one(bench):
    put(bench / "pictures" / "badge.png", b"another")
    put(bench / "badge.png")
    assert opened(saved(bench)).source.data == badge_png()


def test_another_picture_in_its_place_is_refused_where_the_true_one_is_nowhere(bench):
    put(bench / "pictures" / "badge.png", b"another")
    with pytest.raises(UnreadableFile, match="no longer the picture"):
        opened(saved(bench))


def test_a_picture_that_is_nowhere_is_asked_for_by_a_sentence_of_its_own(bench):
    put(bench / "badge.png", b"another of the same name")
    with pytest.raises(LostPicture, match="beside the Job"):
        opened(saved(bench))


def test_without_a_digest_only_the_same_name_in_the_same_folder_will_do(bench):
    job = saved(bench, digest="")
    put(bench.parent / "badge.png")
    with pytest.raises(LostPicture):
        opened(job)
    put(bench / "badge.png", b"any")
    assert opened(job).source.data == b"any"


def test_a_name_that_no_file_can_have_is_asked_for_like_any_other(bench):
    with pytest.raises(LostPicture):
        opened(saved(bench, path="x" * 5000))


def test_a_link_to_a_folder_is_not_followed(bench, tmp_path):
    put(tmp_path / "far" / "away" / "badge.png")
    (bench / "link").symlink_to(tmp_path / "far" / "away", target_is_directory=True)
    with pytest.raises(LostPicture):
        opened(saved(bench))


def test_what_a_killed_writer_left_beside_a_job_is_gone_once_it_is_opened(bench):
    put(bench / "pictures" / "badge.png")
    job = saved(bench)
    put(bench / ".badge.samecut.samecut-new", b"half")
    opened(job)
    assert sorted(one.name for one in bench.iterdir()) == ["badge.samecut", "pictures"]
