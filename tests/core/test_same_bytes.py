"""Same in, same out: the bytes of a kit do not hang on the locale, the hash seed or the number of cores."""

import hashlib
import json
import os
import shutil
import subprocess
import sys
from itertools import product
from pathlib import Path

import pytest

from tests.support.pictures import badge_png

TOP = Path(__file__).parents[2]

#: Makes the kit of the picture that it is given, films from the one beside it, where nothing but the time may
#: differ, and tells digests.
MAKE = """
import json, locale, os, sys
from hashlib import sha256
from pathlib import Path
locale.setlocale(locale.LC_ALL, "")
cores = int(sys.argv[2])
if cores and hasattr(os, "sched_setaffinity"):
    os.sched_setaffinity(0, sorted(os.sched_getaffinity(0))[:cores])
from core.cancel import NEVER
from core.job.job import Job, Source
from core.kit.make import make_kit
job = Job(source="badge.png", face="smaller.png").with_choice("shape.height", "60 mm")
picture, smaller = (Path(sys.argv[1]).with_name(name).read_bytes() for name in ("badge.png", "smaller.png"))
source = Source("badge.png", picture, Source("smaller.png", smaller))
kit = make_kit(job, source, NEVER, lambda stage: None)
report = dict(kit.report, seconds=None)
digests = {name: sha256(data).hexdigest() for name, data in kit.files.items() if name != "report.json"}
print(json.dumps({"files": digests, "report": report, "point": locale.localeconv()["decimal_point"]}))
"""


COMMA = "de_DE.UTF-8"


def made_locale(folder):
    """The variables by which a locale that writes numbers with a comma is spoken.

    It is compiled into the folder from the sources that the system has; where it has none, the plainest
    locale of all must do, and the test that a comma was in force is left out.
    """
    compiled = folder / COMMA
    if shutil.which("localedef") and not compiled.exists():
        command = ["localedef", "-i", COMMA.partition(".")[0], "-f", "UTF-8", compiled]
        subprocess.run(command, check=False, capture_output=True)
    if compiled.exists():
        return {"LC_ALL": COMMA, "LANG": COMMA, "LOCPATH": str(folder)}
    return {"LC_ALL": "POSIX", "LANG": "POSIX"}


#: The speech of C; of the other locale of made_locale.
PLAIN, OTHER = "C.UTF-8", COMMA
SEEDS, CORES = ("0", "4294967295"), (1, 2)

#: Locale, time zone, hash seed and cores of each run; every pair of settings is met in some two runs.
SETTINGS = {
    "plain": (PLAIN, "UTC", "0", 1),
    "others' clock and seed": (PLAIN, "Pacific/Auckland", "1", 2),
    "others' numbers": (OTHER, "America/St_Johns", "0", 2),
    "others' everything": (OTHER, "Asia/Kathmandu", "4294967295", 1),
}


def started(picture, speech, zone, seed, cores):
    spoken = {"LC_ALL": speech, "LANG": speech} if speech == PLAIN else made_locale(picture.parent)
    variables = spoken | {"TZ": zone, "PYTHONHASHSEED": seed}
    return subprocess.Popen(
        [sys.executable, "-W", "ignore", "-c", MAKE, picture, str(cores)],
        cwd=TOP,
        env={**os.environ, **variables, "PYTHONPATH": str(TOP)},
        stdout=subprocess.PIPE,
    )


def told(folder, settings):
    """What each run told, by its name, two at a time."""
    picture = folder / "badge.png"
    picture.write_bytes(badge_png(200))
    picture.with_name("smaller.png").write_bytes(badge_png(150))
    texts = {}
    for pair in batched(settings.items(), 2):
        runs = {name: started(picture, *setting) for name, setting in pair}
        texts |= {name: run.communicate(timeout=120)[0] for name, run in runs.items()}
        assert [run.returncode for run in runs.values()] == [0] * len(pair)
    return {name: json.loads(text) for name, text in texts.items()}


def batched(values, count):
    values = list(values)
    return [values[start : start + count] for start in range(0, len(values), count)]


@pytest.fixture(scope="module")
def kits(tmp_path_factory):
    return told(tmp_path_factory.mktemp("same"), SETTINGS)


@pytest.mark.whole
def test_all_eight_of_two_locales_two_hash_seeds_and_one_and_two_cores_are_the_same(tmp_path):
    every = product((PLAIN, OTHER), ("UTC",), SEEDS, CORES)
    runs = told(tmp_path, {"-".join(map(str, setting)): setting for setting in every})
    assert len(runs) == 8
    points = {name: run.pop("point") for name, run in runs.items()}
    assert all(point == "." for name, point in points.items() if name.startswith(PLAIN))
    first = next(iter(runs.values()))
    assert len(first["files"]) > 10
    assert [name for name, run in runs.items() if run != first] == []


def test_the_other_locale_writes_numbers_with_a_comma(kits):
    if not Path("/usr/share/i18n/locales/de_DE").exists():
        pytest.skip("this system has no sources of locales")
    assert [kits[name]["point"] for name in SETTINGS] == [".", ".", ",", ","]


@pytest.mark.parametrize("name", list(SETTINGS)[1:])
def test_every_file_has_the_same_bytes_wherever_it_is_made(kits, name):
    assert kits[name]["files"] == kits["plain"]["files"]
    assert len(kits["plain"]["files"]) > 10


@pytest.mark.parametrize("name", list(SETTINGS)[1:])
def test_the_report_is_the_same_but_for_the_seconds(kits, name):
    assert kits[name]["report"] == kits["plain"]["report"]


def test_the_digests_in_the_report_are_those_of_the_files(kits):
    listed = {file["path"]: file["sha256"] for file in kits["plain"]["report"]["files"]}
    assert listed == kits["plain"]["files"]
    source = next(file for file in kits["plain"]["report"]["files"] if file["role"] == "source")
    assert source["sha256"] == hashlib.sha256(badge_png(200)).hexdigest()
