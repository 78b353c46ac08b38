"""What bad input gets from the real command line and the real work: one sentence, and nothing written.

What is wrong with a call alone is tried in test_cli_make.py, where the work is a stand-in.
"""

import errno
import io
import os
import subprocess
import zlib
from contextlib import suppress
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from app import edge
from tests.support.pictures import badge_kit, badge_png

#: Bytes: a disk too small for a kit.
TINY_DISK = "size=64k"


def encoded(pixels, form="PNG", **options):
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, form, **options)
    return out.getvalue()


def flat(height, width, colour=(10, 120, 200)):
    return np.full((height, width, 3), colour, np.uint8)


def head_of(wide, high):
    """A PNG that says it is so large and then holds a few bytes only."""

    def chunk(name, data):
        summed = zlib.crc32(name + data).to_bytes(4, "big")
        return len(data).to_bytes(4, "big") + name + data + summed

    size = wide.to_bytes(4, "big") + high.to_bytes(4, "big")
    head, body = size + bytes([1, 0, 0, 0, 0]), zlib.compress(bytes(4000))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def badge_pixels():
    return np.asarray(Image.open(io.BytesIO(badge_png())))


NO_PICTURES = {
    "an empty file": ("empty.png", lambda: b"", "is empty"),
    "text named .png": ("notes.png", lambda: b"height 118 mm, three of them\n" * 40, "notes.png"),
    "half a JPEG": ("half.jpg", lambda: halved(encoded(badge_pixels(), "JPEG")), "half.jpg"),
    "half a PNG": ("half.png", lambda: halved(badge_png()), "half.png"),
    "the first bytes of a JPEG": ("head.jpg", lambda: encoded(badge_pixels(), "JPEG")[:20], "head.jpg"),
    "a picture of 1 x 1": ("dot.png", lambda: encoded(flat(1, 1)), "dot.png"),
    "a picture of 1 x 300": ("line.png", lambda: encoded(flat(300, 1)), "line.png"),
    "a head of 30 000 x 30 000": ("huge.png", lambda: head_of(30_000, 30_000), "huge.png"),
    "a head of no size": ("none.png", lambda: head_of(0, 0), "none.png"),
    "nothing but zeros": ("zeros.png", lambda: bytes(5000), "zeros.png"),
}


def halved(data):
    return data[: len(data) // 2]


@pytest.fixture
def bench(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def samecut(bench, capfdbinary):  # noqa: ARG001 - commands run at the bench
    """Runs a command; gives its exit code, standard output and standard error."""

    def run(*arguments):
        code = edge.run(arguments)
        out, err = capfdbinary.readouterr()
        return code, out.decode(), err.decode()

    return run


def refused(result, codes, words):
    code, out, err = result
    assert (code in codes, out) == (True, "")
    assert words in err
    assert "mistake of its own" not in err
    assert err.endswith(".\n")
    assert err.count("\n") == 1


def listed(folder: Path) -> list[str]:
    return sorted(entry.name for entry in folder.iterdir())


@pytest.mark.parametrize("what", NO_PICTURES)
def test_a_file_that_is_no_picture_is_exit_3_and_one_sentence(samecut, bench, what):
    name, data, words = NO_PICTURES[what]
    (bench / name).write_bytes(data())
    refused(samecut("make", name, "--out", "deep/kit"), {3}, words)
    assert listed(bench) == [name]


@pytest.mark.parametrize("colour", [(255, 255, 255), (0, 0, 0), (10, 120, 200)])
def test_a_picture_of_one_colour_has_no_shape_in_it(samecut, bench, colour):
    (bench / "plain.png").write_bytes(encoded(flat(200, 300, colour)))
    code, out, err = samecut("make", "plain.png", "--out", "kit")
    refused((code, out, err), {2, 3}, "plain.png" if code == 3 else "")
    assert listed(bench) == ["plain.png"]


def test_a_picture_whose_every_colour_is_ground_is_refused(samecut, bench):
    (bench / "badge.png").write_bytes(badge_png())
    options = ["--set", "shape.colours=#2c6e91 ground; #e9c46a ground"]
    refused(samecut("make", "badge.png", "--out", "kit", *options), {2, 3}, "")
    assert listed(bench) == ["badge.png"]


@pytest.mark.parametrize("height", ["0", "0 mm", "-118", "1 km", "abc", "118 kg", "1/0 in", "inf"])
def test_a_height_that_is_none_is_exit_2(samecut, bench, height):
    (bench / "badge.png").write_bytes(badge_png())
    refused(samecut("make", "badge.png", "--out", "kit", "--height", height), {2}, "height")
    assert listed(bench) == ["badge.png"]


def test_no_such_file_and_a_folder_in_its_place_are_exit_3(samecut, bench):
    (bench / "pictures").mkdir()
    refused(samecut("make", "none.png", "--out", "kit"), {3}, "none.png")
    refused(samecut("make", "pictures", "--out", "kit"), {3}, "pictures is a folder")
    assert listed(bench) == ["pictures"]


def test_a_folder_with_something_else_in_it_is_left_alone(samecut, bench):
    (bench / "badge.png").write_bytes(badge_png())
    (bench / "letters").mkdir()
    (bench / "letters" / "ada.txt").write_text("Dear Ada")
    refused(samecut("make", "badge.png", "--out", "letters"), {2}, "a folder of its own")
    assert (bench / "letters" / "ada.txt").read_text() == "Dear Ada"
    assert listed(bench / "letters") == ["ada.txt"]


def older_kit(bench):
    (bench / "badge.png").write_bytes(badge_png())
    (bench / "kit").mkdir()
    for name, data in badge_kit().files.items():
        (bench / "kit" / name).write_bytes(data)


def contents(folder):
    return {entry.name: entry.read_bytes() for entry in folder.iterdir()}


def test_an_older_kit_with_a_file_that_is_not_its_own_is_left_alone(samecut, bench):
    older_kit(bench)
    (bench / "kit" / "ada.txt").write_text("Dear Ada")
    before = contents(bench / "kit")
    refused(samecut("make", "badge.png", "--out", "kit"), {2}, "a folder of its own")
    assert contents(bench / "kit") == before


@pytest.mark.parametrize("bytes_left", [0, 10_000, 60_000])
def test_a_disk_that_is_full_leaves_the_older_kit_as_it_was(samecut, bench, monkeypatch, bytes_left):
    older_kit(bench)
    before, left, flushed = contents(bench / "kit"), [bytes_left], os.fsync

    def full(handle):
        left[0] -= os.fstat(handle).st_size
        if left[0] < 0:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        flushed(handle)

    monkeypatch.setattr(os, "fsync", full)
    refused(samecut("make", "badge.png", "--out", "kit"), {3}, "no space left")
    monkeypatch.undo()
    assert contents(bench / "kit") == before
    assert listed(bench) == ["badge.png", "kit"]


@pytest.fixture
def tiny_disk(tmp_path):
    """A disk of a few kilobytes, where the system lets us mount one."""
    place = tmp_path / "disk"
    place.mkdir()
    with suppress(FileNotFoundError):
        done = subprocess.run(
            ["mount", "-t", "tmpfs", "-o", TINY_DISK, "tmpfs", place], capture_output=True, check=False
        )
        if done.returncode == 0:
            yield place
            subprocess.run(["umount", "-l", place], capture_output=True, check=True)
            return
    pytest.skip("this system lets us mount no disk to fill")


def test_a_disk_that_is_really_full_is_one_sentence_and_stays_empty(samecut, bench, tiny_disk):
    (bench / "badge.png").write_bytes(badge_png())
    refused(samecut("make", "badge.png", "--out", str(tiny_disk / "kit")), {3}, "no space left")
    assert listed(tiny_disk) == []


def test_a_kit_that_is_no_kit_and_a_program_that_is_none_are_exit_3(samecut, bench):
    (bench / "badge.png").write_bytes(badge_png())
    (bench / "empty").mkdir()
    refused(samecut("check", "empty"), {3}, "report.json")
    refused(samecut("check", "none"), {3}, "none")
    refused(samecut("check", "badge.png"), {3}, "badge.png")
    refused(samecut("inspect", "badge.png"), {3}, "badge.png")
    refused(samecut("inspect", "none.nc"), {3}, "none.nc")
    assert listed(bench) == ["badge.png", "empty"]


@pytest.mark.parametrize(
    "setting",
    [
        "stock.thickness=0",
        "cutting.feed=0",
        "cutting.speed=0",
        "bit.diameter=0",
        "part.tab_neck=-1",
        "part.skin=0",
    ],
)
def test_a_number_that_no_cut_has_is_exit_2_and_names_the_choice(samecut, bench, setting):
    (bench / "badge.png").write_bytes(badge_png())
    refused(samecut("make", "badge.png", "--out", "kit", "--set", setting), {2}, setting.partition("=")[0])
    assert listed(bench) == ["badge.png"]


HEAD = b"G21 G90 G17 G94\nG0 Z5\nX0 Y0\nG1 Z-1 F100\n"
PROGRAMS = {
    "a picture named .nc": (badge_png, "no router program"),
    "zeros": (lambda: bytes(4000), "no router program"),
    "nothing": (lambda: b"", "is empty"),
    "an arc without an end": (
        lambda: HEAD + b"G2 I5\nG0 Z5\nM2\n",
        "Line 5",
    ),
    "an arc without a centre": (
        lambda: HEAD + b"G2 X5\nG0 Z5\nM2\n",
        "Line 5",
    ),
    "an arc whose end is off it": (
        lambda: HEAD + b"G2 X5 Y1 I2 J0\nM2\n",
        "Line 5",
    ),
    "an arc of radius 0": (lambda: HEAD + b"G2 X5 R0\nM2\n", "Line 5"),
    "half a program": (lambda: b"G21 G90 G17 G94\nG0 Z5\nX0 Y0\nG1 X1", ""),
}


@pytest.mark.parametrize("what", PROGRAMS)
def test_a_program_that_is_none_is_exit_3_with_its_line_or_a_stop(samecut, bench, what):
    data, words = PROGRAMS[what]
    (bench / "part.nc").write_bytes(data())
    code, out, err = samecut("inspect", "part.nc")
    assert code in (1, 3)
    assert "mistake of its own" not in err
    assert words in out + err
    if code == 3:
        refused((code, out, err), {3}, "part.nc")


@pytest.mark.whole
def test_a_program_of_two_million_lines_is_read_or_refused_in_a_sentence(samecut, bench):
    lines = "".join(f"X{n % 290}.{n % 10} Y{n % 190}\n" for n in range(2_000_000))
    (bench / "long.nc").write_text(
        f"G21 G90 G17 G94\nG0 Z5\nS10000 M3\nG4 P5\nX0 Y0\nG1 Z-1 F400\n{lines}G0 Z5\nM5\nM2\n"
    )
    code, out, err = samecut("inspect", "long.nc")
    assert code in (0, 1, 3)
    assert "mistake of its own" not in err
    assert "2000000" in out.replace(",", "") or err
