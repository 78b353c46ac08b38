"""`samecut make` as a script sees it: exit codes, sentences, and what lies on the disk afterwards.

The work itself is a stand-in; what it makes of real pictures is tested where it is done.
"""

import json
import os
import tomllib
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from app import cli, edge
from core.errors import UnreadableFile, Unwritable, WrongCall
from core.findings import Finding, Level
from core.job.job import Job, Source
from core.job.saved import PictureEntry, write_job

CAUTION = Finding(Level.CAUTION, "neck", "The neck is thin.", "Widen it.", (12.34, 5.0))
STOP = Finding(Level.STOP, "bit-too-wide", "The bit is too wide.", "Take a smaller one.")
REPORT = {
    "report": 1,
    "height_mm": 118.0,
    "width_mm": 94.31,
    "files": [{"path": "turtle.nc"}],
    "readback": {"height_error_mm": -0.0002, "edge_error_mm": {"max": 0.004}, "mark_error_mm": 0.0},
}


@dataclass(frozen=True)
class Kit:
    files: dict
    report: dict
    findings: tuple = ()


KIT = Kit({"turtle.nc": b"G21", "report.json": json.dumps(REPORT).encode()}, REPORT, (CAUTION,))


def listed(folder: Path) -> list[str]:
    return sorted(entry.name for entry in folder.iterdir())


class StandIn:
    """Remembers the Job and the picture that it was given."""

    def __init__(self):
        self.kit, self.error, self.job, self.source, self.also, self.calls = KIT, None, None, None, None, 0

    def make_kit(self, job, source, token, progress, also):
        self.job, self.source, self.also, self.calls = job, source, also, self.calls + 1
        token.check()
        progress("read")
        if self.error:
            raise self.error
        return self.kit


@pytest.fixture
def work(monkeypatch):
    stand_in = StandIn()
    monkeypatch.setattr(cli, "work", stand_in)
    return stand_in


@pytest.fixture
def bench(tmp_path, monkeypatch, work):  # noqa: ARG001 - the stand-in must be in place
    monkeypatch.chdir(tmp_path)
    (tmp_path / "turtle.png").write_bytes(b"picture")
    return tmp_path


@pytest.fixture
def samecut(bench, capfdbinary):  # noqa: ARG001 - commands run at the bench
    """Runs a command; gives its exit code, standard output and standard error."""

    def run(*arguments):
        code = edge.run(arguments)
        out, err = capfdbinary.readouterr()
        assert b"Traceback" not in err
        return code, out.decode(), err.decode()

    return run


def refused(result, code, words):
    assert result[0] == code
    assert result[1] == ""
    assert words in result[2]
    assert result[2].count("\n") == 1
    assert result[2].endswith(".\n")


def test_a_picture_and_nothing_else_becomes_a_kit(samecut, bench, work):
    code, out, err = samecut("make", "turtle.png", "--out", "kit")
    assert (code, err) == (0, "")
    assert {entry.name: entry.read_bytes() for entry in (bench / "kit").iterdir()} == KIT.files
    assert work.job == Job(source="turtle.png")
    assert work.source == Source("turtle.png", b"picture")
    assert out.splitlines() == [
        "kit: 2 files, 94.31 x 118 mm.",
        "Read back from the files, off by at most: edge 0.004 mm, height 0.000 mm, marks 0.000 mm.",
        "caution: The neck is thin. At (12.3, 5.0) mm. Widen it.",
    ]


def test_every_option_ends_in_its_choice(samecut, work):
    options = ["--height", "4 5/8 in", "--thickness", "3.02mm", "--thickness", "2,98", "--fit", "frame"]
    options += ["--copies", "1", "--set", "bit.diameter=3.175 mm", "--set", "machine.arcs=no"]
    assert samecut("make", "turtle.png", "--out", "kit", *options)[0] == 0
    assert work.job.shape.height.value == 117.475
    assert work.job.shape.height.typed == "4 5/8 in"
    assert [place.value for place in work.job.stock.thickness] == [3.02, 2.98]
    assert work.job.bit.diameter.value == 3.175
    assert not work.job.machine.arcs


def test_a_stop_is_exit_1_and_the_kit_is_written(samecut, bench, work):
    work.kit = replace(KIT, findings=(CAUTION, STOP))
    code, out, _ = samecut("make", "turtle.png", "--out", "kit")
    assert code == 1
    assert (bench / "kit" / "report.json").exists()
    assert out.index("stop: The bit is too wide. Take a smaller one.") < out.index("caution:")


def test_the_report_on_standard_output_stands_alone(samecut):
    code, out, err = samecut("make", "turtle.png", "--out", "kit", "--report", "-")
    assert (code, json.loads(out)) == (0, REPORT)
    assert "kit: 2 files" in err


def test_the_report_in_a_file_is_the_kit_s_own(samecut, bench):
    assert samecut("make", "turtle.png", "--out", "kit", "--report", "r.json")[0] == 0
    assert (bench / "r.json").read_bytes() == KIT.files["report.json"]


@pytest.mark.parametrize(
    ("height", "words"),
    [
        ("0", "too little"),
        ("-5", "too little"),
        ("1 km", "too much"),
        ("abc", "is no length"),
        ("", "is missing"),
        ("nan", "is no length"),
        ("1e2", "is no length"),
        ("auto ly", "is no length"),
    ],
)
def test_a_height_that_is_none_is_refused_before_anything_is_read(samecut, bench, work, height, words):
    refused(samecut("make", "nowhere.png", "--out", "kit", "--height", height), 2, words)
    assert (listed(bench), work.calls) == (["turtle.png"], 0)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--fit", "glue"], "it takes frame"),
        (["--copies", "0"], "stock.copies"),
        (["--copies", "many"], "stock.copies"),
        (["--set", "bit.diametr=3"], "There is no choice bit.diametr; the nearest is bit.diameter."),
        (["--set", "knife.pressure=80"], "There is no choice knife.pressure"),
        (["--set", "bit.diameter"], "--set takes GROUP.CHOICE=VALUE"),
        (["--set", "bit.diameter="], "bit.diameter: the length is missing"),
        (["--set", "=3"], "There is no choice"),
        (["--thickness", "40"], "stock.thickness: 40 is too much"),
        (["--hieght", "3"], "No such option: --hieght"),
        (["another.png"], "unexpected extra argument"),
        (["--height"], "--height"),
        (["--report", "kit/report.json"], "The kit carries its report already"),
        (["--report", "turtle.png"], "--report would write over turtle.png"),
    ],
)
def test_a_command_that_is_written_wrongly_is_exit_2_and_one_sentence(samecut, bench, work, options, words):
    refused(samecut("make", "turtle.png", "--out", "kit", *options), 2, words)
    assert (listed(bench), work.calls) == (["turtle.png"], 0)
    assert (bench / "turtle.png").read_bytes() == b"picture"


def test_what_is_missing_is_said(samecut):
    refused(samecut("make"), 2, "Missing argument 'PICTURE|JOB'")
    refused(samecut("make", "turtle.png"), 2, "Missing option '--out'")
    refused(samecut("--colour"), 2, "No such option: --colour")


@pytest.mark.parametrize(
    ("picture", "words"),
    [
        (".", "is a folder"),
        ("none.png", "There is no file none.png"),
        ("empty.png", "empty.png is empty"),
        ("turtle.png/x", "not a directory"),
        ("/dev/zero", "is no plain file"),
        ("none.samecut", "There is no file"),
    ],
)
def test_a_picture_that_cannot_be_read_is_exit_3_and_nothing_is_written(samecut, bench, work, picture, words):
    (bench / "empty.png").touch()
    refused(samecut("make", picture, "--out", "kit"), 3, words)
    assert (listed(bench), work.calls) == (["empty.png", "turtle.png"], 0)


def test_a_folder_with_something_else_in_it_is_refused_before_the_work(samecut, bench, work):
    refused(samecut("make", "turtle.png", "--out", "."), 2, "give the kit a folder of its own")
    refused(samecut("make", "turtle.png", "--out", "turtle.png"), 2, "is not a folder")
    refused(samecut("make", "turtle.png", "--out", "turtle.png/kit"), 3, "cannot be written")
    assert (listed(bench), work.calls) == (["turtle.png"], 0)


def test_an_older_kit_is_replaced_and_kept_when_the_work_fails(samecut, bench, work):
    assert samecut("make", "turtle.png", "--out", "kit")[0] == 0
    work.error = UnreadableFile("turtle.png is no picture")
    refused(samecut("make", "turtle.png", "--out", "kit"), 3, "turtle.png is no picture.")
    assert (bench / "kit" / "turtle.nc").read_bytes() == b"G21"
    work.error, work.kit = None, replace(KIT, files={"report.json": b"{}"})
    assert samecut("make", "turtle.png", "--out", "kit")[0] == 0
    assert listed(bench / "kit") == ["report.json"]


@pytest.mark.parametrize(
    ("error", "code", "words"),
    [
        (WrongCall("Nothing in it is part."), 2, "Nothing in it is part."),
        (Unwritable("No room"), 3, "No room."),
        (MemoryError(), 3, "not enough memory"),
        (KeyboardInterrupt(), 130, "Given up; nothing was written or changed."),
        (ZeroDivisionError("by\nzero"), 3, "a mistake of its own (ZeroDivisionError in test_cli_make.py"),
    ],
)
def test_whatever_the_work_raises_is_one_sentence_and_leaves_nothing(
    samecut, bench, work, error, code, words
):
    work.error = error
    refused(samecut("make", "turtle.png", "--out", "deep/kit"), code, words)
    assert listed(bench) == ["turtle.png"]


def test_a_report_that_cannot_be_written_is_known_before_the_work(samecut, work):
    refused(samecut("make", "turtle.png", "--out", "kit", "--report", "no/r.json"), 3, "there is no folder")
    assert work.calls == 0


def test_a_saved_job_is_made_with_its_picture_and_options_go_first(samecut, bench, work):
    (bench / "sub").mkdir()
    job = Job(source="first.png").with_choice("shape.height", "90").with_choice("bit.flutes", "2")
    picture = PictureEntry("../turtle.png", Source("", b"picture").digest)
    (bench / "sub" / "t.samecut").write_text(write_job(job, picture) + "\n[bench]\nshelf = 3\n")
    code, out, _ = samecut("make", "sub/t.samecut", "--out", "kit", "--height", "118")
    assert code == 0
    assert work.job == job.with_choice("shape.height", "118")
    assert work.source == Source("first.png", b"picture")
    assert "note: bench in the Job is not known here" in out


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda text: text.replace("90", "9000"), "t.samecut, line 9: shape.height: 9000 is too much"),
        (
            lambda text: text.replace("turtle.png", "gone.png").replace('sha256 = "', 'sha256 = "00'),
            "There is no picture gone.png",
        ),
        (lambda text: text.replace('sha256 = "', 'sha256 = "00'), "is no longer the picture that t.samecut"),
        (lambda _: "not = a = job", "t.samecut cannot be read as a Job"),
        (lambda _: "", "a Job says which format it has"),
    ],
)
def test_a_saved_job_that_is_wrong_is_exit_3_with_the_reason(samecut, bench, work, change, words):
    job = Job(source="turtle.png").with_choice("shape.height", "90")
    text = write_job(job, PictureEntry("turtle.png", Source("", b"picture").digest))
    (bench / "t.samecut").write_text(change(text))
    refused(samecut("make", "t.samecut", "--out", "kit"), 3, words)
    assert work.calls == 0


def test_a_job_that_is_no_text_is_exit_3(samecut, bench):
    (bench / "t.samecut").write_bytes(b"\xff\xfe\x00")
    refused(samecut("make", "t.samecut", "--out", "kit"), 3, "it is not text in UTF-8")


def test_a_name_that_is_no_text_does_no_harm(samecut, bench, work):
    odd = os.fsdecode(b"t\xff\xfertle.png")
    (bench / odd).write_bytes(b"picture")
    assert samecut("make", odd, "--out", "kit")[0] == 0
    assert (
        tomllib.loads(write_job(work.job, PictureEntry(work.job.source)))["source"]["picture"]
        == "t??rtle.png"
    )


def test_a_second_picture_gives_the_films_of_the_first(samecut, bench, work):
    (bench / "painted.png").write_bytes(b"other")
    assert samecut("make", "turtle.png", "--face", "painted.png", "--out", "kit")[0] == 0
    assert (work.source.data, work.source.face) == (b"picture", Source("painted.png", b"other"))
    assert work.job.face == "painted.png"


def test_a_second_picture_that_is_missing_is_exit_3_before_the_work(samecut, bench, work):
    refused(
        samecut("make", "turtle.png", "--face", "none.png", "--out", "kit"), 3, "There is no file none.png"
    )
    assert work.calls == 0
    assert not (bench / "kit").exists()


def test_the_report_is_not_written_over_the_second_picture(samecut, bench):
    (bench / "painted.png").write_bytes(b"other")
    options = ("--face", "painted.png", "--report", "painted.png")
    refused(samecut("make", "turtle.png", "--out", "kit", *options), 2, "would write over painted.png")


def test_a_saved_job_brings_its_second_picture_unless_another_is_given(samecut, bench, work):
    (bench / "painted.png").write_bytes(b"other")
    (bench / "third.png").write_bytes(b"third")
    entries = (PictureEntry("turtle.png"), PictureEntry("painted.png", Source("", b"other").digest))
    text = write_job(Job("turtle.png", "painted.png"), entries[0], face=entries[1])
    (bench / "t.samecut").write_text(text)
    assert samecut("make", "t.samecut", "--out", "kit")[0] == 0
    assert work.source.face == Source("painted.png", b"other")
    assert samecut("make", "t.samecut", "--face", "third.png", "--out", "other kit")[0] == 0
    assert work.source.face == Source("third.png", b"third")
    (bench / "painted.png").write_bytes(b"changed")
    refused(samecut("make", "t.samecut", "--out", "kit"), 3, "painted.png is no longer the picture")


def test_the_kit_that_is_written_over_is_compared_with(samecut, bench, work):
    samecut("make", "turtle.png", "--out", "kit")
    assert work.also.earlier is None
    samecut("make", "turtle.png", "--out", "kit")
    assert work.also.earlier == json.loads((bench / "kit" / "report.json").read_text())


def test_an_earlier_kit_is_named_and_limits_are_asked_for(samecut, work):
    samecut("make", "turtle.png", "--out", "kit")
    samecut("make", "turtle.png", "--out", "other", "--since", "kit", "--limits")
    assert work.also.earlier["report"] == 1
    assert work.also.with_limits


def test_an_earlier_kit_that_is_none_is_exit_3_before_the_work(samecut, work):
    code, _, said = samecut("make", "turtle.png", "--out", "kit", "--since", "nowhere")
    assert (code, work.calls) == (3, 0)
    assert "no kit" in said
