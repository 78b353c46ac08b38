"""Work that a crash left is offered; what a living window holds is not; what is done is cleared."""

import subprocess
import sys
from pathlib import Path

import pytest

from app.desk.keeping import Keeper
from core.job.job import Job, Source

SOURCE = Source("turtle.png", b"no picture, but bytes")
JOB = Job(source="turtle.png").with_choice("shape.height", "118 mm")

CRASH = """
import os, sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
from app.desk.keeping import Keeper
from core.job.job import Job, Source
job = Job(source="turtle.png").with_choice("shape.height", "118 mm")
Keeper(Path(sys.argv[1])).keep(job, Source("turtle.png", b"no picture, but bytes"))
os._exit(9)
"""


@pytest.fixture
def crashed(tmp_path):
    root = str(Path(__file__).parents[3])
    done = subprocess.run([sys.executable, "-c", CRASH, str(tmp_path), root], check=False)
    assert done.returncode == 9
    return tmp_path


def test_a_job_and_its_picture_outlive_a_process_that_dies(crashed):
    left = Keeper(crashed).left()
    assert left is not None
    assert left.job == JOB
    assert left.source.data == SOURCE.data


def test_what_another_window_holds_is_not_offered(tmp_path):
    other = Keeper(tmp_path)
    other.keep(JOB, SOURCE)
    assert Keeper(tmp_path).left() is None
    other.close(is_done=False)
    assert Keeper(tmp_path).left() is not None


def test_a_clean_close_leaves_nothing(tmp_path):
    keeper = Keeper(tmp_path)
    keeper.keep(JOB, SOURCE)
    keeper.close(is_done=True)
    assert list(tmp_path.iterdir()) == []


def test_what_cannot_be_read_is_cleared_and_not_offered(crashed):
    (folder,) = crashed.iterdir()
    (folder / "kept.samecut").write_text("nonsense")
    assert Keeper(crashed).left() is None
    assert list(crashed.iterdir()) == []


def test_the_last_change_is_what_is_kept(tmp_path):
    keeper = Keeper(tmp_path)
    keeper.keep(JOB, SOURCE)
    keeper.keep(JOB.with_choice("bit.diameter", "3.175 mm"), SOURCE)
    keeper.close(is_done=False)
    assert Keeper(tmp_path).left().job.text("bit.diameter") == "3.175 mm"
