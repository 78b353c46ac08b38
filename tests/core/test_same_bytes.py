"""Same in, same out: the bytes of a kit do not hang on the locale, the hash seed or the number of cores."""

import hashlib
import json
import locale
import os
import subprocess
import sys
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
print(json.dumps({"files": digests, "report": report}))
"""


def comma_locale():
    """A locale of this system that writes numbers with a comma; where there is none, the plainest."""
    for name in ("de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "pl_PL.UTF-8"):
        before = locale.setlocale(locale.LC_ALL)
        try:
            locale.setlocale(locale.LC_ALL, name)
        except locale.Error:
            continue
        finally:
            locale.setlocale(locale.LC_ALL, before)
        return name
    return "POSIX"


#: Locale, time zone, hash seed and cores of each run; every pair of settings is met in some two runs.
SETTINGS = {
    "plain": ("C.UTF-8", "UTC", "0", 1),
    "others' clock and seed": ("C.UTF-8", "Pacific/Auckland", "1", 2),
    "others' numbers": (comma_locale(), "America/St_Johns", "0", 2),
    "others' everything": (comma_locale(), "Asia/Kathmandu", "4294967295", 1),
}


def started(picture, speech, zone, seed, cores):
    variables = {"LC_ALL": speech, "LANG": speech, "TZ": zone, "PYTHONHASHSEED": seed}
    return subprocess.Popen(
        [sys.executable, "-W", "ignore", "-c", MAKE, picture, str(cores)],
        cwd=TOP,
        env={**os.environ, **variables, "PYTHONPATH": str(TOP)},
        stdout=subprocess.PIPE,
    )


@pytest.fixture(scope="module")
def kits(tmp_path_factory):
    """What each run told, two at a time."""
    picture = tmp_path_factory.mktemp("same") / "badge.png"
    picture.write_bytes(badge_png(200))
    picture.with_name("smaller.png").write_bytes(badge_png(150))
    told, names = {}, list(SETTINGS)
    for pair in (names[:2], names[2:]):
        runs = {name: started(picture, *SETTINGS[name]) for name in pair}
        told |= {name: run.communicate(timeout=120)[0] for name, run in runs.items()}
        assert [run.returncode for run in runs.values()] == [0, 0]
    return {name: json.loads(text) for name, text in told.items()}


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
