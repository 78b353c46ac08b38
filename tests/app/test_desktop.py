"""The files that let a double press open a Job: what they say, and that the system's own tools take them."""

import configparser
import re
import shutil
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from app.desktop import entry, main, placed, put, take_away, type_of_jobs
from core.job.saved import MIME, SUFFIX

SPACE = "{http://www.freedesktop.org/standards/shared-mime-info}"


def read(text):
    parser = configparser.RawConfigParser(delimiters="=")
    parser.optionxform = str
    parser.read_string(text)
    return parser["Desktop Entry"]


@pytest.mark.parametrize("command", ["/opt/samecut/bin/samecut", '/home/a b/50% $x/`q`/sam"e\\cut'])
def test_the_entry_starts_the_program_with_the_file_whatever_its_path_is(command):
    told = read(entry(Path(command)))
    unescaped = told["Exec"].replace("\\\\", "\\")  # first as every text, then as a command line
    quoted = re.fullmatch(r'"((?:\\.|[^"\\])*)" %f', unescaped).group(1)
    assert re.sub(r"\\(.)", r"\1", quoted).replace("%%", "%") == command
    assert MIME in told["MimeType"].split(";")


def test_the_type_is_known_by_the_ending_that_jobs_have():
    (kind,) = ET.fromstring(type_of_jobs()).findall(f"{SPACE}mime-type")  # noqa: S314 - our own
    assert kind.get("type") == MIME
    assert kind.find(f"{SPACE}glob").get("pattern") == f"*{SUFFIX}"


def test_the_icon_has_colours_of_its_own():
    for place, text in placed(Path("/samecut")).items():
        if place.endswith(".svg"):
            ET.fromstring(text)  # noqa: S314 - our own
            assert "currentColor" not in text
            assert '"ground"' not in text


@pytest.mark.skipif(shutil.which("update-mime-database") is None, reason="needs shared-mime-info")
def test_the_system_s_own_tool_takes_the_type_and_gives_it_back(tmp_path):
    put(tmp_path, Path("/opt/samecut"))
    globs = (tmp_path / "mime" / "globs2").read_text()
    assert f"60:{MIME}:*{SUFFIX}" in globs.splitlines()
    take_away(tmp_path)
    assert MIME not in (tmp_path / "mime" / "globs2").read_text()
    assert [path for path in tmp_path.rglob("samecut*") if path.is_file()] == []


def test_it_is_a_command_that_writes_where_the_system_says(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert main(["/opt/samecut"]) == 0
    assert (tmp_path / "applications" / "samecut.desktop").is_file()
    assert main(["--away"]) == 0
    assert not (tmp_path / "applications" / "samecut.desktop").exists()
    done = subprocess.run([sys.executable, "-m", "app.desktop", "here"], capture_output=True, check=False)
    assert (done.returncode, b"whole path" in done.stderr) == (2, True)
