"""The tables of bits, sheets and machines: the program's own, and the maker's beside them."""

from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path

from core.files import read_file, write_file
from core.job.job import CHOICES, Job
from core.job.tables import Row, Table, read_rows, with_row, without_row

#: Bytes; a table of a thousand rows has a tenth of it.
_LARGEST_TABLE = 1 << 20
#: The choice that tells which bits are at hand, and how many it holds.
AT_HAND, MOST_BITS = "cutting.bits", 40


def own_folder() -> Path:
    """Where the maker's own tables are looked for."""
    from platformdirs import user_config_path  # noqa: PLC0415 - needed only where tables are

    return user_config_path("samecut", appauthor=False)


def own_rows(table: Table, folder: Path | None = None) -> tuple[Row, ...]:
    """The maker's own rows alone. Raises UnreadableFile."""
    mine = (folder or own_folder()) / table.file_name
    return read_rows(_text(mine), table, str(mine)) if mine.is_file() else ()


def keep_row(
    table: Table, row: Row, folder: Path | None = None, *, notes: Mapping[str, str] | None = None
) -> Path:
    """Put the row into the maker's own table, and say where that is. Raises UnreadableFile or Unwritable."""
    own_rows(table, folder)  # what cannot be read must not be written over
    mine = (folder or own_folder()) / table.file_name
    mine.parent.mkdir(parents=True, exist_ok=True)
    write_file(mine, with_row(_text(mine) if mine.is_file() else "", row, notes).encode())
    return mine


def drop_row(table: Table, name: str, folder: Path | None = None) -> None:
    """Take the row out of the maker's own table. Raises UnreadableFile or Unwritable."""
    own_rows(table, folder)
    mine = (folder or own_folder()) / table.file_name
    if mine.is_file():
        write_file(mine, without_row(_text(mine), name).encode())


def _text(path: Path) -> str:
    return read_file(path, _LARGEST_TABLE).decode("utf-8", "replace")


def rows_of(table: Table, folder: Path | None = None) -> tuple[Row, ...]:
    """The program's rows, then the maker's; of two with one name the maker's. Raises UnreadableFile."""
    given = (files("assets") / "tables" / table.file_name).read_text("utf-8")
    rows = {row.name.casefold(): row for row in read_rows(given, table, table.file_name)}
    rows |= {row.name.casefold(): row for row in own_rows(table, folder)}
    return tuple(rows.values())


def with_own_bits(job: Job, folder: Path | None = None) -> Job:
    """The Job with the bits of the maker's own table at hand, where it says nothing else of them.

    The Job keeps them, so that it can be made again anywhere. Raises UnreadableFile.
    """
    if not job.is_default(AT_HAND):
        return job
    bits = {bit.value: bit for bit in job.value(AT_HAND)}
    for row in own_rows(Table.BIT, folder):
        for key, text in row.choices:
            if key == "bit.diameter":
                bit = CHOICES[key].read(text)
                bits.setdefault(bit.value, bit)
    own = tuple(bits[width] for width in sorted(bits, reverse=True))
    return job.with_value(AT_HAND, own[:MOST_BITS])
