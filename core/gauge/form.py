"""The form that the readings are written into: TOML, a letter for each distance, a part for each machine."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from math import isfinite
from typing import Any

from core.errors import BadValue, UnreadableFile
from core.gauge.depths import DepthReading
from core.gauge.plate import Measured, measured, steps
from core.gauge.solve import Reading
from core.units import LENGTH, parsed

#: Beside the letters: how far a reading is off, most times.
WELL = "well"
#: And the day it was read on, as ISO 8601 writes it.
DAY = "day"
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
    """What was read on one machine's plate, its standard deviation, mm, and the day, "" for none."""

    readings: tuple[Reading, ...]
    deviation_mm: float
    depths: tuple[DepthReading, ...] = ()
    day: str = ""


def form_text(title: str) -> str:
    """An empty form for the kit called title."""
    lines = [
        f"# Readings of {title}. Write each number in mm beside its letter; leave empty what was not read.",
        "# Plate and film have the room's temperature, and the calipers too. Close them without force.",
        "# well: how far one reading is off, most times; calipers on film do worse than on a plate.",
        "# day: when it was read, like 2026-05-31; empty: the day on which it is kept for the first time.",
    ]
    for machine in Machine:
        lines += ["", f"[{machine}]", f'{WELL} = "{USUALLY[machine]}"', f'{DAY} = ""']
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


def said_in(text: str, name: str) -> dict[Machine, dict[str, str]]:
    """What stands in the form, as it was typed, by machine and letter. Raises as read_form()."""
    read_form(text, name)
    tables = tomllib.loads(text, parse_float=str)
    return {
        machine: {key: str(said) for key, said in tables.get(str(machine), {}).items() if said != ""}
        for machine in Machine
    }


def with_said(text: str, machine: Machine, said: Mapping[str, str]) -> str:
    """The form with these entries of a machine, letters or WELL or DAY, put in; all else stays."""
    import tomlkit  # noqa: PLC0415 - slow to import, needed only here

    document = tomlkit.parse(text)
    part: Any = document.setdefault(str(machine), tomlkit.table())
    for key, words in said.items():
        part[key] = words
    return tomlkit.dumps(document)


def read_one(machine: Machine, letter: str, said: object) -> Reading | DepthReading | None:
    """One entry of the form; None where it is empty. Raises BadValue."""
    if said == "":
        return None
    for one in measured():
        if one.letter == letter:
            return _reading(one, said)
    for step in steps() if machine is Machine.ROUTER else ():
        if step.letter == letter:
            return DepthReading(letter, step.depth_mm, _mm(said, letter))
    raise BadValue(f"there is no distance {letter}.")


def deviation_of(machine: Machine, said: object) -> float:
    """How far a reading is off, mm, as it stands in the form. Raises BadValue."""
    deviation = _mm(USUALLY[machine] if said == "" else said, WELL)
    if not deviation > 0.0:
        raise BadValue(f"{WELL}: how far a reading is off is a length above 0.")
    return deviation


def readings_of(machine: Machine, part: Mapping[str, object]) -> Readings:
    """A machine's part of the form, read. Raises BadValue, which names the letter."""
    found = [read_one(machine, key, said) for key, said in part.items() if key not in (WELL, DAY)]
    distances = {one.name: one for one in found if isinstance(one, Reading)}
    depths = tuple(one for one in found if isinstance(one, DepthReading))
    in_order = tuple(distances[one.letter] for one in measured() if one.letter in distances)
    return Readings(in_order, deviation_of(machine, part.get(WELL, "")), depths, _day(part.get(DAY, "")))


def _part(part: object, machine: Machine, name: str) -> Readings:
    if not isinstance(part, dict):
        raise UnreadableFile(f"{name}: {machine} is a part in brackets, with letters below.")
    try:
        return readings_of(machine, part)
    except BadValue as error:
        raise UnreadableFile(f"{name}, [{machine}]: {error}") from error


def _reading(one: Measured, said: object) -> Reading:
    read, meant = _mm(said, one.letter), one.feature.meant_mm
    if not abs(read - meant) <= FARTHEST_MM:
        raise BadValue(
            f"{one.letter} ({one.words}) is {read:g} mm where {meant:g} mm was meant; read it again."
        )
    return Reading(one.letter, one.feature, read)


def _day(said: object) -> str:
    if said == "":
        return ""
    try:
        return date.fromisoformat(str(said)).isoformat()
    except ValueError:
        raise BadValue(f"{DAY}: a day is written like 2026-05-31.") from None


def _mm(said: object, key: str) -> float:
    if isinstance(said, bool) or not isinstance(said, (str, int)):
        raise BadValue(f"{key}: write a length, like 129.85.")
    value = parsed(str(said), LENGTH).value
    if not isfinite(value):
        raise BadValue(f"{key}: write a length, like 129.85.")
    return value
