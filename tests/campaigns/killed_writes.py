"""A seeded campaign of killed writers: is the old or the new whole after the next start, and nothing else?

A process writes over an older kit, or over a saved Job, again and again, and is killed at a random moment;
on systems without the one exchange of two folders the two renames and their journal are tried as well.
The next start mends what was left. Harm is a kit or a Job that is neither of both, or anything beside it.

    python -m tests.campaigns.killed_writes --seed 1 --count 500
"""

import os
import signal
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

import core.files
from app.opened import check_kit_place, saved_job
from core.files import write_file, write_folder
from core.job.job import Job
from core.job.saved import PictureEntry, write_job
from core.kit.older_kit import is_older_kit
from tests.campaigns.tally import Tally, command
from tests.support.pictures import badge_kit

#: s after which a writer is killed at the latest; a kit is written in a few hundredths.
LONGEST = 0.08

Contents = dict[str, bytes]


def _job(height: str) -> bytes:
    job = Job(source="badge.png").with_choice("shape.height", height)
    return write_job(job, PictureEntry("badge.png")).encode()


def contents(place: Path) -> Contents:
    """Every file below a folder, by its way from there."""
    return {str(one.relative_to(place)): one.read_bytes() for one in place.rglob("*") if one.is_file()}


def killed(work: Callable[[], None], after_s: float) -> bool:
    """Whether the process that does this work for ever was still at it when it was killed."""
    child = os.fork()
    if child == 0:
        try:
            while True:
                work()
        finally:
            os._exit(1)
    time.sleep(after_s)
    os.kill(child, signal.SIGKILL)
    return os.WIFSIGNALED(os.waitpid(child, 0)[1])


def _kit_trial(place: Path, after_s: float) -> str:
    """A kit over an older kit; what is wrong after the next start, in words."""
    kits = [dict(badge_kit().files), dict(badge_kit(bit__diameter="1.5 mm").files)]
    write_folder(place / "kit", kits[0], is_older_kit)

    def work() -> None:
        for kit in reversed(kits):
            write_folder(place / "kit", kit, is_older_kit)

    if not killed(work, after_s):
        return "the writer gave up by itself"
    check_kit_place(place / "kit")
    found = contents(place)
    wanted = [{f"kit/{name}": data for name, data in kit.items()} for kit in kits]
    return "" if found in wanted else f"neither the old nor the new kit: {sorted(found)}"


def _job_trial(place: Path, after_s: float) -> str:
    """A Job over an older Job; what is wrong after the next start, in words."""
    jobs = [_job("60 mm"), _job("61 mm")]
    path = place / "badge.samecut"
    write_file(path, jobs[0])

    def work() -> None:
        for job in reversed(jobs):
            write_file(path, job)

    if not killed(work, after_s):
        return "the writer gave up by itself"
    saved_job(path)
    found = contents(place)
    return "" if found in [{path.name: job} for job in jobs] else f"neither Job: {sorted(found)}"


def _in_two_steps(place: Path, after_s: float) -> str:
    """The same kit where the system cannot exchange two folders."""
    able = core.files.exchange
    core.files.exchange = lambda *_places: False
    try:
        return _kit_trial(place, after_s)
    finally:
        core.files.exchange = able


TRIALS = {
    "kit over a kit": _kit_trial,
    "kit over a kit, two renames": _in_two_steps,
    "Job over a Job": _job_trial,
}


def campaign(seed: int, count: int) -> Tally:
    """count writers killed; caught is what ended whole."""
    random, tally = np.random.default_rng(seed), Tally()
    badge_kit(bit__diameter="1.5 mm")  # made before anything is forked
    for index in range(count):
        kind = list(TRIALS)[index % len(TRIALS)]
        with tempfile.TemporaryDirectory(prefix="samecut-killed-") as place:
            wrong = TRIALS[kind](Path(place), random.uniform(0.0, LONGEST))
        tally.count(kind, wrong, "" if wrong else "whole", is_dress=False)
    return tally


if __name__ == "__main__":
    command(__doc__ or "", campaign, 500)
