"""A ladder of sizes: a kit for each of several heights of one picture, side by side in one folder."""

from dataclasses import dataclass, replace
from pathlib import Path

from app import work
from app.asked import Asked
from app.opened import Opened, check_kit_place
from app.told import Told, progress
from core.cancel import NEVER
from core.errors import WrongCall
from core.files import write_folder
from core.findings import has_stop
from core.job.choice import AUTO
from core.job.job import Job, Source
from core.kit.kit import KitNames
from core.kit.older_kit import is_older_kit
from core.units import Measure


@dataclass(frozen=True)
class Ladder:
    """Where the kits go, and the report that was asked for."""

    folder: Path
    report: str | None


def make_ladder(opened: Opened, asked: Asked, heights: list[str], ladder: Ladder) -> int:
    """Make the kits; 1 when any of them has a stop. Raises errors of core/errors.py."""
    if ladder.report is not None:
        raise WrongCall("--report takes one kit: leave it out, or give one --height.")
    jobs = [replace(asked, height=height).job(opened.job) for height in heights]
    places = [ladder.folder / _name(job, opened.source) for job in jobs]
    if len(set(places)) < len(places):
        raise WrongCall("Two of the heights are the same; give each once.")
    for place in places:
        check_kit_place(place)
    ladder.folder.mkdir(parents=True, exist_ok=True)
    told, stopped = Told(None), False
    with progress() as tell:
        for place, kit in zip(places, work.make_kits(jobs, opened.source, NEVER, tell), strict=True):
            write_folder(place, kit.files, is_older_kit)
            told.kit(place, kit.report, len(kit.files))
            told.findings(kit.findings)
            stopped |= has_stop(kit.findings)
    told.unknown(opened.unknown)
    return int(stopped)


def _name(job: Job, source: Source) -> str:
    """What the kit's own files begin with: the job's name and height."""
    height = job.shape.height
    assert isinstance(height, Measure)  # noqa: S101 - each Job was given one just now
    return KitNames(source.stem if job.files.name is AUTO else str(job.files.name), height.value).base()
