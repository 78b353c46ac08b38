"""The numbers that only the bench needs, as the job sheet says them and the report lists them."""

from dataclasses import asdict, dataclass
from typing import Any

from core.build import Build
from core.job.job import Job
from core.kit.measures import Measured, measures_of
from core.kit.programs import setup_of
from core.paper.cards import Measure
from core.router.feeds import chip_load_mm
from core.router.judged import judged
from core.router.stop_if import Change, StopIf, stop_ifs


@dataclass(frozen=True)
class Bench:
    """set_z_mm is what Z is set to when the bit touches; stop_ifs are empty where there is no program."""

    set_z_mm: float
    measures: tuple[Measured, ...]
    stop_ifs: tuple[StopIf, ...]


def bench_of(made: Build, *, has_program: bool) -> Bench:
    """The bench's numbers of a Build."""
    setup = setup_of(made)
    stops = stop_ifs(setup.cutting, setup.bit, setup.machine) if has_program else ()
    return Bench(set_z_of(made.job, made.layout.stock.masking_top_mm), measures_of(made), stops)


def set_z_of(job: Job, masking_top_mm: float) -> float:
    """What Z is set to when the bit touches: masking, and what lies under the bit, are above the zero."""
    masking = 0.0 if job.stock.z_zero == "board" else masking_top_mm
    return masking + job.stock.touch.value


def reported_bench(made: Build, *, has_program: bool) -> dict[str, Any]:
    """The report's entry."""
    bench, setup = bench_of(made, has_program=has_program), setup_of(made)
    return {
        "set_z_mm": bench.set_z_mm,
        "touch_mm": made.job.stock.touch.value,
        "flutes": setup.bit.flutes,
        "chip_mm": chip_load_mm(setup.cutting, setup.bit.flutes),
        "skim_mm": setup.cutting.skim_mm,
        "judged": [
            {"name": one.name, "value": one.value, "unit": one.unit}
            for one in judged(setup.cutting, setup.bit)
        ],
        "measure": [asdict(one) for one in bench.measures],
        "stop_if": [
            {"trouble": str(one.trouble), "changes": [_reported(change) for change in one.changes]}
            for one in bench.stop_ifs
        ],
    }


def _reported(change: Change) -> dict[str, Any]:
    return asdict(change) | {"number": f"cutting.{change.number}"}


#: What is measured, in words; {} is what it is measured on.
_WORDS = {
    "sheet": "Sheet, in 3 to 5 places",
    "part": "Part, top to bottom",
    "neck": "Narrowest tab, at the bottom",
    "film": "Film {}, top to bottom",
}


#: Where marks can be measured, where that is not in sheet and film.
_MARKS_IN = {"sheet": "in the film", "nest": "in the nest board and in the film"}


def measure_rows(measures: tuple[Measured, ...], way: str) -> tuple[Measure, ...]:
    """What to measure in words."""
    return tuple(_row(one, way) for one in measures)


def _row(one: Measured, way: str) -> Measure:
    where = _MARKS_IN.get(way, "in the sheet and in the film")
    words = f"Key mark to the one at {one.of}, {where}" if one.what == "marks" else _WORDS[one.what]
    allowed = f"{one.least_mm:.2f} to {one.most_mm:.2f}"
    return Measure(words.format(one.of), f"{one.expected_mm:.2f} mm", allowed, one.readings)
