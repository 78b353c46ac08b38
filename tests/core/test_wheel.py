"""What would be shipped: the built wheel, unpacked and used from elsewhere, with the sources out of reach."""

import json
import os
import subprocess
import sys
import zipfile
from importlib.util import find_spec
from pathlib import Path

import pytest

TOP = Path(__file__).parents[2]

#: Tells where the packages come from, and what the demo's files are.
LOOK = """
import json, app, core, assets
from importlib.resources import files
demo = {file.name: len(file.read_bytes()) for file in files("assets.demo").iterdir() if file.is_file()}
print(json.dumps({"from": [app.__file__, core.__file__, assets.__file__], "demo": demo}))
"""


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """The wheel of these sources; built by the backend that is here, or else by one that pip fetches."""
    place = tmp_path_factory.mktemp("wheel")
    here = ["--no-build-isolation"] if find_spec("hatchling") else []
    pip = [sys.executable, "-m", "pip", "wheel", "--quiet", "--disable-pip-version-check", "--no-deps"]
    done = subprocess.run(
        [*pip, *here, "--wheel-dir", place, TOP], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    (built,) = place.glob("samecut-*.whl")
    return built


@pytest.fixture(scope="module")
def unpacked(wheel):
    place = wheel.with_name("unpacked")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(place)
    return place


@pytest.fixture
def python(unpacked, tmp_path):
    """Runs Python with nothing of ours but the unpacked wheel; gives what it wrote."""

    def run(*arguments):
        variables = {**os.environ, "PYTHONPATH": str(unpacked)}
        done = subprocess.run(
            [sys.executable, "-P", *arguments], cwd=tmp_path, env=variables, capture_output=True, check=False
        )
        assert done.returncode == 0, done.stderr.decode()
        return done.stdout.decode()

    return run


def test_the_wheel_holds_what_runs_and_nothing_else(wheel):
    with zipfile.ZipFile(wheel) as archive:
        tops = {name.split("/")[0] for name in archive.namelist()}
        names = set(archive.namelist())
    assert {top for top in tops if not top.endswith(".dist-info")} == {"app", "core", "assets"}
    ours = {str(file.relative_to(TOP)) for top in ("app", "core") for file in (TOP / top).rglob("*.py")}
    assert ours <= names
    assert not [name for name in names if "__pycache__" in name or name.startswith("tests")]
    assert [name for name in names if name.endswith("licenses/LICENSE")]


def test_what_runs_is_the_wheel_and_the_demo_is_in_it(python, unpacked):
    told = json.loads(python("-c", LOOK))
    assert all(path.startswith(str(unpacked)) for path in told["from"])
    assert told["demo"]["turtle.png"] == (TOP / "assets" / "demo" / "turtle.png").stat().st_size
    assert told["demo"]["turtle.samecut"] > 100


def test_the_wheel_lists_its_choices(python):
    listed = json.loads(python("-m", "app", "choices", "--format", "json"))
    assert "shape.height" in json.dumps(listed)


def test_the_command_is_called_samecut(unpacked):
    (points,) = unpacked.glob("*.dist-info/entry_points.txt")
    assert "samecut = app.__main__:main" in points.read_text()
