"""How long each stage takes on fixed inputs, as ratios to a floor measured in the same run.

The floor is what any program must do at least: decode the picture, divide it by Otsu's threshold, and
follow the contours, each by one call of OpenCV. Every figure is the median of several runs.

    python -m tests.bench.stages [--runs 5] [--only demo]
"""

import argparse
from collections.abc import Callable, Sequence
from statistics import median
from time import perf_counter

import cv2
import numpy as np

from core.build import Build, build
from core.cancel import NEVER
from core.job.job import Job, Source
from core.kit.kit import Kit
from core.kit.make import kit_of
from tests.bench.inputs import INPUTS

#: Choices that are changed alone, the rest of the Build kept.
CHANGES = {
    "height alone": ("shape.height", ("90 mm", "91 mm", "92 mm", "93 mm", "94 mm")),
    "a tab's neck alone": ("part.tab_neck", ("4 mm", "4.1 mm", "4.2 mm", "4.3 mm", "4.4 mm")),
    "the inset alone": ("film.inset", ("0.6 mm", "0.65 mm", "0.7 mm", "0.75 mm", "0.85 mm")),
}


def floor(data: bytes) -> float:
    """Seconds for decoding, Otsu's threshold and contours."""
    begun = perf_counter()
    grey = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_GRAYSCALE)
    _, parted = cv2.threshold(grey, 0, 255, cv2.THRESH_BINARY | cv2.THRESH_OTSU)
    cv2.findContours(parted, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    return perf_counter() - begun


def one_run(job: Job, source: Source) -> dict[str, float]:
    """Seconds by stage for a kit made from nothing."""
    begun = perf_counter()
    made = build(job, source)
    built = perf_counter() - begun
    kit = made_kit(made)
    stages = {f"build: {name}": kept.seconds for name, kept in made.kept.items()}
    of_kit = {f"kit: {name}": float(kit.report["seconds"][name]) for name in ("write", "readback")}
    return {**stages, "the whole build": built, **of_kit, "the whole kit": perf_counter() - begun}


def made_kit(made: Build) -> Kit:
    """The kit of a Build."""
    return kit_of(made, NEVER, lambda _stage: None, perf_counter())


def changes(job: Job, source: Source, runs: int) -> dict[str, float]:
    """Median seconds of a Build after one choice has changed."""
    before = build(job, source)
    return {
        f"build after {what}": median(
            timed(lambda text=text, key=key: build(job.with_choice(key, text), source, before))
            for text in texts[:runs]
        )
        for what, (key, texts) in CHANGES.items()
    }


def timed(call: Callable[[], object]) -> float:
    """Seconds that the call takes."""
    begun = perf_counter()
    call()
    return perf_counter() - begun


def medians(rows: Sequence[dict[str, float]]) -> dict[str, float]:
    """The median of each figure."""
    return {name: median(row[name] for row in rows) for name in rows[0]}


def table(name: str, runs: int) -> str:
    """The figures of one input, in words."""
    job, source = INPUTS[name]()
    floors = median(floor(source.data) for _ in range(4 * runs))
    rows = medians([one_run(job, source) for _ in range(runs)]) | changes(job, source, runs)
    lines = [f"{what:32} {seconds * 1e3:9.1f} ms {seconds / floors:9.1f} x" for what, seconds in rows.items()]
    return "\n".join([f"{name}: floor {floors * 1e3:.2f} ms", *lines, ""])


def main() -> None:
    """Print a table for each input."""
    parser = argparse.ArgumentParser(description="Each stage and the whole, as ratios to a floor.")
    parser.add_argument("--runs", type=int, default=5, help="runs of which the median is taken")
    parser.add_argument("--only", choices=list(INPUTS), help="one input instead of all")
    asked = parser.parse_args()
    floor(INPUTS["demo"]()[1].data)  # the first call loads what the others find loaded
    for name in [asked.only] if asked.only else INPUTS:
        print(table(name, asked.runs), flush=True)  # noqa: T201 - a command speaks by printing


if __name__ == "__main__":
    main()
