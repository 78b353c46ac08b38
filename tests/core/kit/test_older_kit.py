"""A folder is taken for an older kit only when its report answers for everything in it."""

import json

import pytest

from core.kit.older_kit import is_older_kit

REPORT = {"report": 1, "files": [{"path": "a.nc"}, {"path": "b.svg"}]}


@pytest.fixture
def kit(tmp_path):
    (tmp_path / "report.json").write_text(json.dumps(REPORT))
    (tmp_path / "a.nc").write_text("G21")
    (tmp_path / "b.svg").write_text("<svg/>")
    return tmp_path


def test_a_kit_is_known_by_its_report(kit):
    assert is_older_kit(kit)


def test_a_kit_that_lost_a_file_is_still_one(kit):
    (kit / "a.nc").unlink()
    assert is_older_kit(kit)


@pytest.mark.parametrize(
    "spoil",
    [
        lambda kit: (kit / "mine.txt").write_text("x"),
        lambda kit: (kit / ".hidden").write_text("x"),
        lambda kit: (kit / "sub").mkdir(),
        lambda kit: ((kit / "a.nc").unlink(), (kit / "a.nc").mkdir()),
        lambda kit: ((kit / "a.nc").unlink(), (kit / "a.nc").symlink_to("b.svg")),
        lambda kit: (kit / "report.json").unlink(),
        lambda kit: ((kit / "report.json").rename(kit / "b.svg"), (kit / "report.json").symlink_to("b.svg")),
        lambda kit: (kit / "report.json").write_text("{"),
        lambda kit: (kit / "report.json").write_text("[" * 100_000),
        lambda kit: (kit / "report.json").write_bytes(b"\xff\xfe\x00"),
        lambda kit: (kit / "report.json").write_text("[]"),
        lambda kit: (kit / "report.json").write_text(json.dumps(REPORT | {"report": None})),
        lambda kit: (kit / "report.json").write_text(json.dumps(REPORT | {"files": "a.nc b.svg"})),
        lambda kit: (kit / "report.json").write_text(json.dumps(REPORT | {"files": ["a.nc", {"path": 3}]})),
    ],
)
def test_anything_that_the_report_does_not_answer_for_makes_it_none(kit, spoil):
    spoil(kit)
    assert not is_older_kit(kit)


def test_an_empty_folder_is_no_kit(tmp_path):
    assert not is_older_kit(tmp_path)
