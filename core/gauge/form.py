"""The form that the readings are written into: TOML, a letter for each distance, a part for each machine."""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite

from core.errors import BadValue, UnreadableFile
from core.gauge.depths import DepthReading
from core.gauge.plate import Measured, MeasuredStep, measured, steps
from core.gauge.solve import Reading
from core.units import LENGTH, parsed

#: Beside the letters: how far a reading is off, most times.
WELL = "well"
#: mm, unless the maker says better: calipers on a hard plate, and on film that gives way.
USUALLY = {"router": "0.05 mm", "cutter": "0.1 mm"}
#: mm; a reading farther from what was meant is no reading of this distance.
FARTHEST_MM = 5.0


class Machine(StrEnum):
    """Which machine a reading belongs to."""

    ROUTER = "router"
    CUTTER = "cutter"


@dataclass(frozen=True)
class Readings:
    """What was read on one machine's plate, and its standard deviation, mm."""

    readings: tuple[Reading, ...]
    deviation_mm: float
    depths: tuple[DepthReading, ...] = ()


def form_text(title: str) -> str:
    """An empty form for the kit called title."""
    lines = [
        f"# Readings of {title}. Write each number in mm beside its letter; leave empty what was not read.",
        "# Plate and film have the room's temperature, and the calipers too. Close them without force.",
        "# well: how far one reading is off, most times; calipers on film do worse than on a plate.",
    ]
    for machine in Machine:
        lines += ["", f"[{machine}]", f'{WELL} = "{USUALLY[machine]}"']
        lines += [f'{one.letter} = ""  # {one.words}: {one.feature.meant_mm:.2f}' for one in measured()]
        if machine is Machine.ROUTER:
            lines += [f'{one.letter} = ""  # depth of a step: {one.depth_mm:.2f}' for one in steps()]
    return "\n".join(lines) + "\n"


def read_form(text: str, name: str) -> dict[Machine, Readings]:
    """The readings of each machine that has any. Raises UnreadableFile, which names part and letter."""
    try:
        tables = tomllib.loads(text, parse_float=str)
    except (ValueError, RecursionError) as error:
        raise UnreadableFile(f"{name} cannot be read as a form: {error}.") from error
    strange = [part for part in tables if part not in {str(machine) for machine in Machine}]
    if strange:
        raise UnreadableFile(f"{name}: there is no part [{strange[0]}]; the parts are router and cutter.")
    found = {machine: _part(tables.get(str(machine), {}), machine, name) for machine in Machine}
    return {machine: one for machine, one in found.items() if one.readings or one.depths}


def _part(part: object, machine: Machine, name: str) -> Readings:
    if not isinstance(part, dict):
        raise UnreadableFile(f"{name}: {machine} is a part in brackets, with letters below.")
    by_letter = {one.letter: one for one in measured()}
    by_step = {one.letter: one for one in steps()} if machine is Machine.ROUTER else {}
    strange = [key for key in part if key != WELL and key not in by_letter and key not in by_step]
    if strange:
        raise UnreadableFile(f"{name}, [{machine}]: there is no distance {strange[0]}.")
    try:
        depths = tuple(_depths(part, by_step))
        return Readings(tuple(_readings(part, by_letter)), _deviation(part, machine), depths)
    except BadValue as error:
        raise UnreadableFile(f"{name}, [{machine}]: {error}") from error


def _deviation(part: dict[str, object], machine: Machine) -> float:
    deviation = _mm(part.get(WELL, USUALLY[machine]), WELL)
    if not deviation > 0.0:
        raise BadValue(f"{WELL}: how far a reading is off is a length above 0.")
    return deviation


def _readings(part: dict[str, object], by_letter: dict[str, Measured]) -> Iterator[Reading]:
    for letter, one in by_letter.items():
        said = part.get(letter, "")
        if said == "":
            continue
        read, meant = _mm(said, letter), one.feature.meant_mm
        if not abs(read - meant) <= FARTHEST_MM:
            raise BadValue(
                f"{letter} ({one.words}) is {read:g} mm where {meant:g} mm was meant; read it again."
            )
        yield Reading(letter, one.feature, read)


def _depths(part: dict[str, object], by_letter: dict[str, MeasuredStep]) -> Iterator[DepthReading]:
    for letter, one in by_letter.items():
        said = part.get(letter, "")
        if said != "":
            yield DepthReading(letter, one.depth_mm, _mm(said, letter))


def _mm(said: object, key: str) -> float:
    if isinstance(said, bool) or not isinstance(said, (str, int)):
        raise BadValue(f"{key}: write a length, like 129.85.")
    value = parsed(str(said), LENGTH).value
    if not isfinite(value):
        raise BadValue(f"{key}: write a length, like 129.85.")
    return value
