"""`samecut check`, `inspect`, `choices`, and what stands before any command."""

import json
import os
import subprocess
import sys
import time
import tomllib
from dataclasses import dataclass
from pathlib import Path

import pytest

from app import __main__ as start
from app import cli, edge
from core.findings import Finding, Level
from core.job.job import CHOICES, Job

STOP = Finding(Level.STOP, "film-moved", "The film is not where it was.", "Make the kit again.", (1.0, 2.0))


@dataclass(frozen=True)
class Result:
    report: dict
    findings: tuple = ()


class StandIn:
    result = Result({"report": 1, "name": "Größe ⌀"})

    def check_kit(self, files):
        self.given = files
        return self.result

    def inspect_program(self, data, name):
        self.given = (data, name)
        return self.result


@pytest.fixture
def work(monkeypatch, tmp_path):
    stand_in = StandIn()
    monkeypatch.setattr(cli, "work", stand_in)
    monkeypatch.chdir(tmp_path)
    (tmp_path / "kit").mkdir()
    (tmp_path / "kit" / "a.nc").write_bytes(b"G21")
    return stand_in


@pytest.fixture
def samecut(capfdbinary):
    def run(*arguments):
        code = edge.run(arguments)
        out, err = capfdbinary.readouterr()
        return code, out.decode(), err.decode()

    return run


def test_check_reads_the_files_and_changes_none(samecut, work, tmp_path):
    assert samecut("check", "kit") == (0, "kit: 1 files: no stop was found.\n", "")
    assert work.given == {"a.nc": b"G21"}
    assert [entry.name for entry in (tmp_path / "kit").iterdir()] == ["a.nc"]


def test_a_stop_is_exit_1_in_check_and_inspect_alike(samecut, work):
    work.result = Result({}, (STOP,))
    for command in (("check", "kit"), ("inspect", "kit/a.nc")):
        code, out, _ = samecut(*command)
        assert code == 1
        assert "a stop was found" in out
        assert "stop: The film is not where it was. At (1.0, 2.0) mm. Make the kit again." in out


def test_inspect_gives_the_program_s_bytes_and_name(samecut, work):
    code, out, err = samecut("inspect", "kit/a.nc", "--report", "-")
    assert (code, json.loads(out)) == (0, work.result.report)
    assert err == "kit/a.nc: no stop was found.\n"
    assert work.given == (b"G21", "a.nc")


def test_a_report_never_goes_into_the_kit_or_over_the_program(samecut, work):
    assert samecut("check", "kit", "--report", "kit/r.json")[0] == 2
    assert samecut("inspect", "kit/a.nc", "--report", "kit/a.nc")[0] == 2
    assert samecut("inspect", "kit/a.nc", "--report", "r.json")[0] == 0
    assert json.loads(Path("r.json").read_bytes()) == work.result.report


@pytest.mark.parametrize(
    "command", [("check", "none"), ("check", "kit/a.nc"), ("inspect", "none"), ("inspect", "kit")]
)
@pytest.mark.usefixtures("work")
def test_what_cannot_be_read_is_exit_3(samecut, command):
    code, out, err = samecut(*command)
    assert (code, out, err.count("\n")) == (3, "", 1)


def test_choices_are_every_choice_and_say_everything(samecut):
    code, listed, _ = samecut("choices", "--format", "json")
    assert code == 0
    entries = {entry.pop("name"): entry for entry in json.loads(listed)["choices"]}
    assert list(entries) == list(CHOICES)
    tables = tomllib.loads(samecut("choices", "--format", "toml")[1])
    for key, entry in entries.items():
        group, name = key.split(".")
        assert tables[group][name] == entry
        assert {"default", "unit", "limits", "help"} <= entry.keys()
        assert CHOICES[key].read(entry["default"]) == Job().value(key)
    assert samecut("choices")[1] == samecut("choices", "--format", "toml")[1]


def test_choices_in_another_form_are_exit_2(samecut):
    assert samecut("choices", "--format", "xml") == (2, "", "--format takes toml or json, not 'xml'.\n")


def test_help_is_exit_0_and_names_every_command(samecut):
    code, out, err = samecut("--help")
    assert (code, err) == (0, "")
    assert all(command in out for command in start.COMMANDS)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["mkae", "turtle.png"], "There is no command mkae; the nearest is make."),
        (
            ["qqq"],
            "There is no command qqq; there are make, limits, check, inspect, residual, choices",
        ),
    ],
)
def test_without_a_command_one_sentence_says_what_there_is(monkeypatch, capsys, arguments, words):
    monkeypatch.setattr(sys, "argv", ["samecut", *arguments])
    assert start.main() == 2
    said = capsys.readouterr()
    assert (said.out, said.err.count("\n")) == ("", 1)
    assert words in said.err


def run(*arguments, **named):
    return subprocess.run(
        [sys.executable, "-m", "app", *arguments], capture_output=True, check=False, **named
    )


def test_nothing_that_the_first_sight_of_the_window_can_do_without_is_imported_before_it():
    heavy = ["numpy", "cv2", "shapely", "ezdxf", "reportlab", "tomlkit"]
    code = f"import sys, app.desk.start; print(sorted(set({heavy}) & sys.modules.keys()))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert done.stdout.strip() == b"[]"


def test_choices_start_at_once_and_without_pictures_or_a_window():
    heavy = ["numpy", "cv2", "PySide6", "shapely", "rich", "tomlkit"]
    run_it = "import sys; sys.argv[1:] = ['choices']; from app.__main__ import main; main()"
    code = f"{run_it}; assert not set({heavy}) & sys.modules.keys()"
    begun = time.perf_counter()
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")
    assert time.perf_counter() - begun < 5.0  # a busy machine; alone it is under half a second


def test_choices_are_the_same_bytes_in_every_locale_and_for_every_hash_seed():
    plain = run(
        "choices", env={"PATH": os.environ["PATH"], "LC_ALL": "C", "PYTHONHASHSEED": "1", "PYTHONUTF8": "0"}
    )
    other = run("choices", env={"PATH": os.environ["PATH"], "LC_ALL": "de_DE.UTF-8", "PYTHONHASHSEED": "2"})
    assert plain.returncode == other.returncode == 0
    assert plain.stdout == other.stdout


def test_a_reader_that_goes_away_is_no_error():
    listing = f"{sys.executable} -m app choices | head -n 1; echo ${{PIPESTATUS[0]}}"
    done = subprocess.run(["bash", "-c", listing], capture_output=True, text=True, check=False)
    assert done.stdout.splitlines()[0].startswith("[")
    assert (done.stdout.splitlines()[1], done.stderr) == ("0", "")
