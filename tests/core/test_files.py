"""Files and folders are written whole or not at all, whatever the disk says and whenever it says it."""

import errno
import io
import json
import os
import shutil
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from core import files
from core.errors import BadValue, UnreadableFile, Unwritable, WrongCall
from core.files import check_replaceable, mend, read_file, read_folder, write_file, write_folder

OLD = {"a.nc": b"old program", "b.svg": b"old film", "report.json": b"{}"}
NEW = {"a.nc": b"new program", "c.svg": b"new film", "report.json": b"{ }"}
STEPS = ("rename", "replace", "mkdir", "unlink", "rmdir", "fsync", "open")


def always(_folder: Path) -> bool:
    return True


def never(_folder: Path) -> bool:
    return False


def listed(folder: Path) -> list[str]:
    return sorted(entry.name for entry in folder.iterdir())


def held(folder: Path) -> dict[str, bytes]:
    return {entry.name: entry.read_bytes() for entry in folder.iterdir()}


def filled(folder: Path, contents: dict[str, bytes]) -> Path:
    folder.mkdir(parents=True)
    for name, data in contents.items():
        (folder / name).write_bytes(data)
    return folder


@pytest.fixture(params=["one exchange", "two renames"])
def way(request, monkeypatch):
    if request.param == "two renames":
        monkeypatch.setattr(files, "exchange", lambda _one, _other: False)
    return request.param


class Faults:
    """Counts the steps that touch the disk, and fails at one of them."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.steps, self.fatal = 0, -1
        for name in STEPS:
            monkeypatch.setattr(os, name, self._counted(getattr(os, name)))
        monkeypatch.setattr(io, "open", self._counted(io.open))
        monkeypatch.setattr(files, "exchange", self._counted(files.exchange))

    def _counted(self, step):
        def counted(*arguments, **named):
            self.steps += 1
            if self.steps == self.fatal:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return step(*arguments, **named)

        return counted

    def at(self, fatal: int) -> None:
        self.steps, self.fatal = 0, fatal


def test_a_new_folder_and_those_above_it_come_to_be(tmp_path):
    folder = tmp_path / "deep" / "kit"
    write_folder(folder, NEW, never)
    assert held(folder) == NEW
    assert [entry.name for entry in folder.parent.iterdir()] == ["kit"]


def test_an_empty_folder_is_filled(tmp_path):
    write_folder(filled(tmp_path / "kit", {}), NEW, never)
    assert held(tmp_path / "kit") == NEW


def test_no_file_of_an_older_kit_is_left_in_the_new_one(tmp_path, way):
    folder = filled(tmp_path / "kit", OLD)
    write_folder(folder, NEW, always)
    assert held(folder) == NEW
    assert listed(tmp_path) == ["kit"], way


def test_a_link_to_a_folder_stays_a_link(tmp_path):
    filled(tmp_path / "real", OLD)
    (tmp_path / "link").symlink_to("real")
    write_folder(tmp_path / "link", NEW, always)
    assert (tmp_path / "link").is_symlink()
    assert held(tmp_path / "real") == NEW


def test_a_folder_with_something_else_in_it_is_refused_untouched(tmp_path):
    folder = filled(tmp_path / "kit", OLD)
    with pytest.raises(WrongCall, match="give the kit a folder of its own"):
        write_folder(folder, NEW, never)
    assert held(folder) == OLD
    assert listed(tmp_path) == ["kit"]


def test_a_file_put_into_the_older_kit_meanwhile_is_not_lost(tmp_path):
    folder, asked = filled(tmp_path / "kit", OLD), []

    def at_first(place: Path) -> bool:
        asked.append(place)
        return len(asked) == 1

    with pytest.raises(WrongCall):
        write_folder(folder, NEW, at_first)
    assert held(folder) == OLD
    assert listed(tmp_path) == ["kit"]


def test_a_file_in_the_place_of_a_folder_is_refused(tmp_path):
    (tmp_path / "kit").write_bytes(b"mine")
    with pytest.raises(WrongCall, match="is not a folder"):
        write_folder(tmp_path / "kit", NEW, always)
    with pytest.raises(Unwritable):
        write_folder(tmp_path / "kit" / "inside", NEW, always)
    assert (tmp_path / "kit").read_bytes() == b"mine"


@pytest.mark.parametrize("name", ["../a", "a/b", "a\\b", "", ".", "..", "a\x00", "a\nb", "c:x", "x" * 256])
def test_a_name_that_is_more_than_a_name_is_refused(tmp_path, name):
    with pytest.raises(BadValue):
        write_folder(tmp_path / "kit", {name: b""}, always)
    assert not listed(tmp_path)


def test_two_names_that_some_disks_take_for_one_are_refused(tmp_path):
    with pytest.raises(BadValue, match="upper and lower case"):
        write_folder(tmp_path / "kit", {"A.svg": b"1", "a.svg": b"2"}, always)


@pytest.mark.parametrize("before", [None, {}, OLD], ids=["nothing", "an empty folder", "an older kit"])
def test_a_disk_that_fails_at_any_step_leaves_everything_as_it_was(tmp_path, monkeypatch, way, before):
    folder, told = tmp_path / "above" / "kit", 0
    faults = Faults(monkeypatch)
    for fatal in range(1, 100):
        if before is not None:
            filled(folder, before)
        faults.at(fatal)
        try:
            write_folder(folder, NEW, always)
        except Unwritable as error:
            told += "no space left on device" in str(error)
            stands, above = before, ["above"] if before is not None else []
            assert not above or listed(folder.parent) == ["kit"]
        else:
            stands, above = NEW, ["above"]
        is_over = faults.steps < fatal  # it took fewer steps than that
        faults.at(-1)
        assert listed(tmp_path) == above
        mend(folder)  # an older kit that could not be thrown away
        assert not above or listed(folder.parent) == (["kit"] if stands is not None else []), way
        assert stands is None or held(folder) == stands
        shutil.rmtree(tmp_path / "above", ignore_errors=True)
        if is_over:
            break
    assert is_over
    assert told >= 8


def test_a_file_is_written_over_whole_and_keeps_its_rights(tmp_path):
    place = tmp_path / "turtle.samecut"
    write_file(place, b"one")
    place.chmod(0o640)
    write_file(place, b"two")
    assert (place.read_bytes(), stat.S_IMODE(place.stat().st_mode)) == (b"two", 0o640)
    assert listed(tmp_path) == ["turtle.samecut"]


def test_a_file_outlasts_a_disk_that_fails_at_any_step(tmp_path, monkeypatch):
    place = tmp_path / "turtle.samecut"
    place.write_bytes(b"old")
    faults, failures = Faults(monkeypatch), 0
    for fatal in range(1, 12):
        faults.at(fatal)
        try:
            write_file(place, b"new")
        except Unwritable:
            failures += 1
            faults.at(-1)
            assert place.read_bytes() == b"old"
        else:
            faults.at(-1)
            assert place.read_bytes() == b"new"
        assert listed(tmp_path) == ["turtle.samecut"]
        place.write_bytes(b"old")
    assert failures >= 4


def test_what_is_no_plain_file_is_not_written_over(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    for place in (tmp_path, tmp_path / "pipe", Path("/dev/null")):
        with pytest.raises(Unwritable, match="is no plain file"):
            write_file(place, b"x")
    assert stat.S_ISFIFO((tmp_path / "pipe").stat().st_mode)
    assert Path("/dev/null").is_char_device()


def test_a_real_limit_of_the_system_is_one_sentence_and_leaves_nothing(tmp_path):
    code = (
        "import resource, sys; from pathlib import Path; from core.files import write_folder\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))\n"
        "try: write_folder(Path(sys.argv[1]) / 'kit', {'a': b'x', 'b': b'x' * 5000}, lambda _: True)\n"
        "except Exception as error: print(type(error).__name__, error)"
    )
    told = subprocess.check_output([sys.executable, "-c", code, str(tmp_path)], text=True)
    assert told == f"Unwritable {tmp_path}/kit cannot be written: file too large.\n"
    assert not listed(tmp_path)


def test_long_names_that_begin_alike_do_not_share_a_passing_name(tmp_path):
    one, other = tmp_path / ("k" * 250 + "1"), tmp_path / ("k" * 250 + "2")
    assert files._passing(one, "-x") != files._passing(other, "-x")
    write_folder(one, NEW, never)
    assert held(one) == NEW


@pytest.mark.parametrize(
    ("left", "stands"),
    [
        ({"kit": OLD, ".kit.samecut-new": {"a.nc": b"ha"}}, OLD),
        ({".kit.samecut-old": OLD, ".kit.samecut-new": NEW}, OLD),
        ({"kit": NEW, ".kit.samecut-old": OLD}, NEW),
        ({"kit": NEW, ".kit.samecut-new": OLD}, NEW),
        ({".kit.samecut-new": NEW}, None),
    ],
)
def test_whatever_a_killed_writer_left_is_mended(tmp_path, left, stands):
    for name, contents in left.items():
        filled(tmp_path / name, contents)
    mend(tmp_path / "kit")
    assert listed(tmp_path) == (["kit"] if stands else [])
    assert stands is None or held(tmp_path / "kit") == stands


def test_reading_tells_what_is_wrong_with_a_file(tmp_path):
    (tmp_path / "big").write_bytes(b"x" * 2_000_000)
    os.mkfifo(tmp_path / "pipe")
    assert read_file(tmp_path / "big") == b"x" * 2_000_000
    for place, why in [
        (tmp_path, "is a folder; a file is needed"),
        (tmp_path / "none", "There is no file"),
        (tmp_path / "big" / "x", "cannot be read: not a directory"),
        (tmp_path / "pipe", "is no plain file"),
        (tmp_path / "a\x00b", "cannot be read"),
        (tmp_path / ("x" * 300), "file name too long"),
    ]:
        with pytest.raises(UnreadableFile, match=why):
            read_file(place)
    with pytest.raises(UnreadableFile, match="is larger than 1 MB"):
        read_file(tmp_path / "big", 1 << 20)


def test_reading_a_folder_passes_over_links_and_folders(tmp_path):
    folder = filled(tmp_path / "kit", OLD)
    (folder / "sub").mkdir()
    (folder / "link").symlink_to("/etc/hostname")
    assert read_folder(folder) == OLD
    with pytest.raises(UnreadableFile, match="There is no folder"):
        read_folder(tmp_path / "none")
    with pytest.raises(UnreadableFile, match="is no folder"):
        read_folder(folder / "a.nc")


def test_a_place_under_a_file_is_known_to_be_none_before_any_work(tmp_path):
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(Unwritable, match="is no folder"):
        check_replaceable(tmp_path / "file" / "kit", never)
    check_replaceable(tmp_path / "new" / "kit", never)
    assert listed(tmp_path) == ["file"]


KILLED_AT_EVERY_STEP = """
import json, os, sys
from pathlib import Path
from core import files
where, two_renames = Path(sys.argv[1]), sys.argv[2] == "two renames"
old, new = {"a": b"old", "b": b"old"}, {"a": b"new", "c": b"new"}
kit, count, ends = where / "kit", 0, []
def counted(step, fatal):
    def call(*arguments, **named):
        global count
        count += 1
        if count == fatal: os._exit(9)
        return step(*arguments, **named)
    return call
def child(fatal):
    import io
    if two_renames: files.exchange = lambda one, other: False
    files.exchange = counted(files.exchange, fatal)
    for name in STEPS: setattr(os, name, counted(getattr(os, name), fatal))
    io.open = counted(io.open, fatal)
    files.write_folder(kit, new, lambda folder: True)
    os._exit(0)
files.write_folder(kit, old, lambda folder: True)
for fatal in range(1, 200):
    pid = os.fork()
    if pid == 0: child(fatal)
    code = os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
    files.mend(kit)
    held = {entry.name: entry.read_bytes() for entry in kit.iterdir()}
    ends.append("old" if held == old else "new" if held == new else "broken")
    if os.listdir(where) != ["kit"]: ends.append("left behind")
    files.write_folder(kit, old, lambda folder: True)
    if code == 0: break
print(json.dumps(ends))
"""


@pytest.mark.parametrize("way", ["one exchange", "two renames"])
def test_a_writer_killed_before_any_step_leaves_the_old_or_the_new_kit_whole(tmp_path, way):
    told = subprocess.check_output(
        [sys.executable, "-c", f"STEPS = {STEPS}{KILLED_AT_EVERY_STEP}", str(tmp_path), way]
    )
    ends = json.loads(told)
    assert len(ends) > 15
    assert set(ends) == {"old", "new"}
    assert ends == sorted(ends, reverse=True)  # old until the exchange, new from then on


def test_the_next_writer_clears_what_a_killed_one_left(tmp_path):
    filled(tmp_path / ".kit.samecut-old", OLD)
    filled(tmp_path / ".kit.samecut-new", {"half": b""})
    asked = []
    write_folder(tmp_path / "kit", NEW, lambda place: asked.append(held(place)) is None)
    assert asked[0] == OLD
    assert held(tmp_path / "kit") == NEW
    assert listed(tmp_path) == ["kit"]


def test_a_link_in_the_passing_place_is_cleared_and_what_it_leads_to_is_not(tmp_path):
    mine = filled(tmp_path / "mine", OLD)
    for name in (".kit.samecut-new", ".job.samecut-new"):
        (tmp_path / name).symlink_to("mine")
    write_folder(tmp_path / "kit", NEW, never)
    write_file(tmp_path / "job", b"x")
    assert held(mine) == OLD
    assert listed(tmp_path) == ["job", "kit", "mine"]
