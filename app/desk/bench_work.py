"""What the bench view shows of a kit: one card for each step of the work, and the pictures beside them."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from app import work
from core.errors import UnreadableFile
from core.files import mend, read_folder
from core.findings import has_stop
from core.kit.older_kit import REPORT

SCENE, VIEW = "scene: ", "view: "


@dataclass(frozen=True)
class BenchStep:
    """A step of the work: scene is the name of its picture, or view which of the kit's pictures; "" for none.

    place and count: the how manieth of its stage, from 1.
    """

    stage: str
    place: int
    count: int
    words: str
    care: str
    number: str
    scene: str
    view: str


@dataclass(frozen=True)
class BenchWork:
    """Of a kit: what it is called, its steps, and its pictures as PNG by their view."""

    title: str
    steps: tuple[BenchStep, ...]
    pictures: Mapping[str, bytes]


def bench_work(title: str, report: Mapping[str, Any], files: Mapping[str, bytes]) -> BenchWork:
    """From a kit's report and files. Raises UnreadableFile for a kit whose report lists no order of work."""
    listed = report.get("order")
    if not isinstance(listed, list) or not listed:
        raise UnreadableFile(f"{title} lists no order of work; write the kit again.")
    stages = [entry["stage"] for entry in listed]
    steps = tuple(
        BenchStep(
            entry["stage"],
            stages[: at + 1].count(entry["stage"]),
            stages.count(entry["stage"]),
            entry["words"],
            entry["care"],
            entry["number"],
            entry["picture"].removeprefix(SCENE) if entry["picture"].startswith(SCENE) else "",
            entry["picture"].removeprefix(VIEW) if entry["picture"].startswith(VIEW) else "",
        )
        for at, entry in enumerate(listed)
    )
    pictures = {
        entry["view"]: files[entry["path"]]
        for entry in reversed(report["files"])  # of two of one view, the first listed is for the screen
        if entry.get("view") and entry["path"] in files
    }
    return BenchWork(title, steps, pictures)


def bench_in(folder: Path) -> BenchWork:
    """The work of the kit in a folder, proved again. Raises UnreadableFile where it is not as it was made."""
    mend(folder)
    kit = read_folder(folder)
    if REPORT not in kit:
        raise UnreadableFile("Write the kit first: the bench shows its files and its numbers.")
    checked = work.check_kit(kit)
    if has_stop(checked.findings):
        raise UnreadableFile(f"{folder.name} is not as it was made: {checked.findings[0].text}")
    return bench_work(folder.name, json.loads(kit[REPORT]), kit)
