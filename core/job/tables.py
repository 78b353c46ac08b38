"""Tables of bits, sheets and machines: rows of choices that are taken together, by one name.

A row gives the Job plain values and is then forgotten, so that a kit can be made again anywhere, whatever
tables are there. TOML: a table for each row, its keys the choices of one group, `about` a line for people.
"""

import tomllib
from collections.abc import Iterable, Mapping, MutableMapping
from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum
from typing import Any

from core.errors import BadValue, UnreadableFile, WrongCall
from core.job.choice import AUTO
from core.job.job import CHOICES, Job
from core.job.typed import typed

ABOUT = "about"
#: Choices of the stock that a sheet is bought with.
_OF_SHEET = ("material", "thickness", "width", "depth", "masking_top", "masking_bottom")
#: Keys of a row that are no choices: a line for people, and which gauge its correction was read from.
NOTES = (ABOUT, "gauge")


class Table(StrEnum):
    """A kind of row, named as its file and its option are; the group of choices that it fills."""

    BIT = "bit"
    SHEET = "sheet"
    MACHINE = "machine"
    CUTTER = "cutter"

    @property
    def group(self) -> str:
        """The group of choices that its rows are of."""
        return {Table.SHEET: "stock", Table.CUTTER: "knife"}.get(self, str(self))

    @property
    def file_name(self) -> str:
        """The file of such a table, in the program's own folder or the maker's."""
        return f"{self}s.toml"


@dataclass(frozen=True)
class Row:
    """Choices by key as text, checked already, with the row's name and what is said about it."""

    name: str
    about: str
    choices: tuple[tuple[str, str], ...]

    def taken(self, job: Job) -> Job:
        """The Job with these choices."""
        for key, text in self.choices:
            job = job.with_choice(key, text)
        return job

    def is_in(self, job: Job) -> bool:
        """Whether the Job means all of it already."""
        return all(
            CHOICES[key].is_same(job.value(key), CHOICES[key].read(text)) for key, text in self.choices
        )


def read_rows(text: str, table: Table, name: str) -> tuple[Row, ...]:
    """The rows in the text of the file called name. Raises UnreadableFile, which names row and choice."""
    try:
        tables = tomllib.loads(text, parse_float=str)
    except (ValueError, RecursionError) as error:
        raise UnreadableFile(f"{name} cannot be read as a table: {error}.") from error
    return tuple(_row(row, held, table, name) for row, held in tables.items())


def _row(row: str, held: object, table: Table, name: str) -> Row:
    if not isinstance(held, dict):
        raise UnreadableFile(f"{name}: '{row}' is no row; write its name in brackets and choices below.")
    about = held.get(ABOUT, "")
    if not isinstance(about, str):
        raise UnreadableFile(f"{name}, '{row}': {ABOUT} is a line of words.")
    try:
        choices = tuple(_choice(key, said, table) for key, said in held.items() if key not in NOTES)
    except BadValue as error:
        raise UnreadableFile(f"{name}, '{row}': {error}") from error
    return Row(row, about, choices)


def _choice(name: str, said: object, table: Table) -> tuple[str, str]:
    key = f"{table.group}.{name}"
    if key not in CHOICES:
        raise BadValue(f"there is no choice {key}; `samecut choices` lists them all.")
    text = typed(said, key)
    CHOICES[key].read(text)
    return key, text


def row_of(job: Job, table: Table, name: str, about: str = "") -> Row:
    """The Job's choices as a row of this table; those left to be found are not part of it."""
    keys = [key for key in _kept(table) if job.value(key) is not AUTO]
    return Row(name, about, tuple((key, job.text(key)) for key in keys))


def _kept(table: Table) -> tuple[str, ...]:
    """What a maker's own row holds: of the stock only what is bought, not how it lies on the table."""
    if table is Table.SHEET:
        return tuple(f"stock.{name}" for name in _OF_SHEET)
    return tuple(key for key in CHOICES if key.startswith(f"{table.group}."))


def with_row(text: str, row: Row, notes: Mapping[str, str] | None = None) -> str:
    """The text of a table with this row put in, last, or in the place of the one of its name.

    All else stays, comments and the row's own line for people too; notes are keys that are no choices.
    """
    import tomlkit  # noqa: PLC0415 - slow to import, needed only here

    document = tomlkit.parse(text)
    name = next((key for key in document if key.casefold() == row.name.casefold()), row.name)
    held: MutableMapping[str, Any] = document.setdefault(name, tomlkit.table())
    said = {key.partition(".")[2]: text for key, text in row.choices}
    said |= {ABOUT: row.about} if row.about else {}
    for key in [key for key in held if key not in said and key not in NOTES]:
        del held[key]
    for key, value in (said | dict(notes or {})).items():
        held[key] = value
    return tomlkit.dumps(document)


def without_row(text: str, name: str) -> str:
    """The text of a table without the row of this name; all else stays."""
    import tomlkit  # noqa: PLC0415 - see above

    document = tomlkit.parse(text)
    _remove(document, name)
    return tomlkit.dumps(document)


def _remove(document: MutableMapping[str, Any], name: str) -> None:
    for other in [key for key in document if key.casefold() == name.casefold()]:
        del document[other]


def row_named(rows: Iterable[Row], name: str, table: Table) -> Row:
    """The row of this name, the last where there are several. Raises WrongCall, which names the nearest."""
    by_name = {row.name.casefold(): row for row in rows}
    wanted = name.strip().casefold()
    if wanted in by_name:
        return by_name[wanted]
    near = get_close_matches(wanted, by_name, 1, 0.4)
    hint = f"the nearest is '{by_name[near[0]].name}'" if near else "`samecut tables` lists them all"
    raise WrongCall(f"There is no {table} called '{name}'; {hint}.")
