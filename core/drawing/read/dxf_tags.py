"""DXF text as group codes and values (DXF Reference, "Group codes"), without any library.

A sheet of copies has hundreds of thousands of groups, so they are kept as two lists, not as so many objects.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import compress, pairwise
from math import isfinite

from core.errors import UnreadableFile

_BINARY = b"AutoCAD Binary DXF"
_REMARK = 999


@dataclass(frozen=True, slots=True)
class Tags:
    """Groups one after another: the code of each, and its value as text."""

    codes: list[int]
    values: list[str]

    def cut(self, start: int, end: int) -> "Tags":
        """Those from start up to end."""
        return Tags(self.codes[start:end], self.values[start:end])

    def only(self, wanted: Collection[int]) -> "Tags":
        """Those of the wanted codes."""
        return self._where([code in wanted for code in self.codes])

    def but(self, unwanted: Collection[int]) -> "Tags":
        """Those of all other codes."""
        return self._where([code not in unwanted for code in self.codes])

    def _where(self, kept: list[bool]) -> "Tags":
        return Tags(list(compress(self.codes, kept)), list(compress(self.values, kept)))

    def pairs(self) -> Iterator[tuple[int, str]]:
        """Code and value of each."""
        return zip(self.codes, self.values, strict=True)

    def first(self, code: int) -> str | None:
        """The first value of that code."""
        return self.values[self.codes.index(code)] if code in self.codes else None


def joined(parts: Sequence[Tags]) -> Tags:
    """All groups of the parts in their order."""
    codes, values = [], []
    for part in parts:
        codes += part.codes
        values += part.values
    return Tags(codes, values)


@dataclass(frozen=True, slots=True)
class Entity:
    """A thing in the file: its kind, and the tags up to the next one."""

    kind: str
    tags: Tags

    def text(self, code: int, default: str = "") -> str:
        """The first value of that code."""
        value = self.tags.first(code)
        return default if value is None else value

    def number(self, code: int, default: float | None = None) -> float:
        """The first value of that code as a number. UnreadableFile for one without a default that is lost."""
        text = self.text(code, "" if default is None else str(default))
        if not text:
            raise UnreadableFile(f"A {self.kind} of the DXF drawing has lost its group {code}.")
        return real(text)

    def whole(self, code: int, default: int = 0) -> int:
        """The first value of that code as a whole number."""
        value = self.tags.first(code)
        return default if value is None else int(real(value))


def real(text: str) -> float:
    """A number; UnreadableFile for anything else."""
    try:
        value = float(text)
    except ValueError:
        raise UnreadableFile(f"The DXF drawing has {text!r} where a number should stand.") from None
    if not isfinite(value):
        raise UnreadableFile(f"The DXF drawing has {text!r} where a number should stand.")
    return value


def read_tags(data: bytes) -> Tags:
    """Every group of the file, comments (999) left out. UnreadableFile for a binary or broken one."""
    if data.startswith(_BINARY):
        raise UnreadableFile("This DXF drawing is of the binary form; save it as text.")
    lines = data.decode("utf-8", "replace").replace("\r\n", "\n").split("\n")
    if not any(line.strip() for line in lines):
        raise UnreadableFile("The DXF drawing is empty.")
    values = list(map(str.strip, lines[1::2]))
    tags = Tags(_codes(lines[: 2 * len(values) : 2]), values)
    if tags.codes[-1:] != [0] or tags.values[-1:] != ["EOF"]:
        raise UnreadableFile("The DXF drawing breaks off before its end.")
    return tags.but((_REMARK,)) if _REMARK in tags.codes else tags


def _codes(lines: list[str]) -> list[int]:
    try:
        return list(map(int, lines))
    except ValueError:
        wrong = next(line for line in lines if not _is_whole(line)).strip()
        raise UnreadableFile(f"This is no DXF drawing: {wrong[:20]!r} is no group code.") from None


def _is_whole(text: str) -> bool:
    try:
        int(text)
    except ValueError:
        return False
    return True


def section(tags: Tags, name: str) -> Tags:
    """The tags between SECTION name and its ENDSEC; none where the file has no such section."""
    marks = [i for i in _starts(tags) if tags.values[i] in ("SECTION", "ENDSEC")]
    for start, end in pairwise([*marks, len(tags.codes)]):
        named = tags.codes[start + 1 : start + 2] == [2] and tags.values[start + 1] == name
        if tags.values[start] == "SECTION" and named:
            if end == len(tags.codes):
                raise UnreadableFile(f"The DXF drawing breaks off inside its section {name}.")
            return tags.cut(start + 2, end)
    return Tags([], [])


def _starts(tags: Tags) -> list[int]:
    """Where every thing begins: each code 0."""
    return [i for i, code in enumerate(tags.codes) if code == 0]


def entities(tags: Tags) -> Iterator[Entity]:
    """The tags cut at every code 0."""
    for start, end in pairwise([*_starts(tags), len(tags.codes)]):
        yield Entity(tags.values[start], tags.cut(start + 1, end))


def header_value(tags: Tags, name: str) -> str | None:
    """The first value of a header variable; None where it is not set."""
    header = section(tags, "HEADER")
    return next((value for one, (_, value) in pairwise(header.pairs()) if one == (9, name)), None)
