"""The maker's own table with one machine's row brought up to date; what else it holds stays as it is."""

from collections.abc import Mapping

import tomlkit
from tomlkit.exceptions import TOMLKitError

from core.errors import UnreadableFile


def with_row(text: str, name: str, row: str, values: Mapping[str, str]) -> str:
    """The table's text with these values in a row, which comes last where it is new.

    Raises UnreadableFile.
    """
    try:
        table = tomlkit.parse(text)
    except TOMLKitError as error:
        raise UnreadableFile(f"{name} cannot be read as a table: {error}.") from error
    key = next((held for held in table if held.casefold() == row.casefold()), row)
    if key not in table:
        table[key] = tomlkit.table()
    held = table[key]
    if not isinstance(held, tomlkit.items.Table):
        raise UnreadableFile(f"{name}: '{row}' is no row; write its name in brackets and choices below.")
    for choice, value in values.items():
        held[choice] = value
    return tomlkit.dumps(table)
