"""A kit's report as JSON whose fields are asked for by name and kind.

A field that is missing or of another kind makes the report unreadable, with its name in the sentence.
"""

import json
from collections.abc import Mapping
from math import isfinite
from typing import Any

from core.errors import UnreadableFile
from core.findings import Point

REPORT_NAME = "report.json"


def report_values(data: bytes) -> Any:
    """What the bytes of a report.json hold. Raises UnreadableFile."""
    try:
        return json.loads(data)
    except (ValueError, RecursionError) as error:
        raise UnreadableFile(f"{REPORT_NAME} is not JSON: {error}.") from error


class Fields:
    """A JSON object whose fields are asked for by name and kind."""

    def __init__(self, values: Any, path: str) -> None:
        if not isinstance(values, Mapping):
            raise UnreadableFile(f"{REPORT_NAME} is not a kit's report: {path or 'it'} is not an object.")
        self.values, self.path = values, path

    def _wrong(self, name: str, kind: str) -> UnreadableFile:
        where = f"{self.path}.{name}".strip(".")
        return UnreadableFile(f"{REPORT_NAME} is not a kit's report: {where} is not {kind}.")

    def number(self, name: str) -> float:
        """A finite number. UnreadableFile when it is missing or none, as in all of these."""
        value = self.values.get(name)
        if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
            raise self._wrong(name, "a number")
        return float(value)

    def text(self, name: str) -> str:
        """A text."""
        value = self.values.get(name)
        if not isinstance(value, str):
            raise self._wrong(name, "a text")
        return value

    def word(self, name: str, known: tuple[str, ...]) -> str:
        """One of the words that are known."""
        value = self.text(name)
        if value not in known:
            raise self._wrong(name, f"one of {', '.join(known)}")
        return value

    def numbers(self, name: str, count: int) -> tuple[float, ...]:
        """A list of just so many numbers."""
        value = self.values.get(name)
        if not isinstance(value, list) or len(value) != count:
            raise self._wrong(name, f"a list of {count} numbers")
        inner = Fields({str(i): item for i, item in enumerate(value)}, f"{self.path}.{name}".strip("."))
        return tuple(inner.number(str(i)) for i in range(count))

    def pair(self, name: str) -> Point:
        """Two numbers."""
        x, y = self.numbers(name, 2)
        return x, y

    def inner(self, name: str) -> "Fields":
        """The object of this name."""
        return Fields(self.values.get(name), f"{self.path}.{name}".strip("."))

    def each(self, name: str) -> list["Fields"]:
        """The objects of a list, with their places as paths."""
        value = self.values.get(name)
        if not isinstance(value, list):
            raise self._wrong(name, "a list")
        return [Fields(item, f"{self.path}.{name}[{i}]".strip(".")) for i, item in enumerate(value)]
