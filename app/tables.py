"""The tables of bits, sheets and machines: the program's own, and the maker's beside them."""

from importlib.resources import files
from pathlib import Path

from core.files import read_file
from core.job.tables import Row, Table, read_rows

#: Bytes; a table of a thousand rows has a tenth of it.
_LARGEST_TABLE = 1 << 20


def own_folder() -> Path:
    """Where the maker's own tables are looked for."""
    from platformdirs import user_config_path  # noqa: PLC0415 - needed only where tables are

    return user_config_path("samecut", appauthor=False)


def rows_of(table: Table, folder: Path | None = None) -> tuple[Row, ...]:
    """The program's rows, then the maker's; of two with one name the maker's. Raises UnreadableFile."""
    given = (files("assets") / "tables" / table.file_name).read_text("utf-8")
    rows = {row.name.casefold(): row for row in read_rows(given, table, table.file_name)}
    mine = (folder or own_folder()) / table.file_name
    if mine.is_file():
        text = read_file(mine, _LARGEST_TABLE).decode("utf-8", "replace")
        rows |= {row.name.casefold(): row for row in read_rows(text, table, str(mine))}
    return tuple(rows.values())
