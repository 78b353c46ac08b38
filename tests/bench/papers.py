"""Processor seconds that the papers and pictures of the demo take, each, and all of them.

python -m tests.bench.papers [--runs 5]
"""

import argparse
from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import process_time

from core.build import Build, build
from core.job.job import Job, Source
from core.kit.kit import KitNames
from core.kit.known import Known
from core.kit.make import job_name
from core.kit.papers import job_sheet_file
from core.kit.pictures import picture_files
from core.kit.report import report_of
from core.kit.true_size import paper_proof_file
from core.kit.written import written_of
from core.proof.read_claims import claims_of

DEMO = Path(__file__).parents[2] / "assets" / "demo" / "turtle.png"


def demo() -> Build:
    """The demo at its own height."""
    job = (
        Job(source=DEMO.name).with_choice("shape.height", "118 mm").with_choice("stock.thickness", "3.02 mm")
    )
    return build(job, Source(DEMO.name, DEMO.read_bytes()))


def papers(made: Build) -> dict[str, Callable[[], object]]:
    """What is drawn, by name, ready to be drawn again and again."""
    names = KitNames(job_name(made.job, made.source), made.shape.size_mm[1])
    written = written_of(made, names)
    claims = claims_of(report_of(made, written.programs, written.box, written.files()))
    return {
        "job sheet": lambda: job_sheet_file(made, written, made.findings, Known()),
        "paper proof": lambda: paper_proof_file(made, names, written.box),
        "pictures": lambda: picture_files(made, written, claims),
    }


def seconds(draw: Callable[[], object], runs: int) -> float:
    """Median processor seconds of several runs, the first left out, whoever else holds the machine."""
    took = []
    for _ in range(runs + 1):
        begun = process_time()
        draw()
        took.append(process_time() - begun)
    return median(took[1:])


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=5)
    runs = parser.parse_args().runs
    table = {name: seconds(draw, runs) for name, draw in papers(demo()).items()}
    for name, took in {**table, "all papers": sum(table.values())}.items():
        print(f"{name:12} {took:6.3f} s")  # noqa: T201 - the table is the point


if __name__ == "__main__":
    main()
