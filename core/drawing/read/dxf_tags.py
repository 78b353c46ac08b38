"""DXF text as group codes and values (DXF Reference, "Group codes"), without any library."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from core.errors import UnreadableFile

_BINARY = b"AutoCAD Binary DXF"


class Tag(NamedTuple):
    """One group: its code and its value as text. There are thousands, and a tuple is soon made."""

    code: int
    value: str


@dataclass(frozen=True)
class Entity:
    """A thing in the file: its kind, and the tags up to the next one."""

    kind: str
    tags: tuple[Tag, ...]

    def text(self, code: int, default: str = "") -> str:
        """The first value of that code."""
        return next((tag.value for tag in self.tags if tag.code == code), default)

    def number(self, code: int, default: float | None = None) -> float:
        """The first value of that code as a number. UnreadableFile for one without a default that is lost."""
        text = self.text(code, "" if default is None else str(default))
        if not text:
            raise UnreadableFile(f"A {self.kind} of the DXF drawing has lost its group {code}.")
        return real(text)

    def whole(self, code: int, default: int = 0) -> int:
        """The first value of that code as a whole number."""
        return int(real(self.text(code, str(default))))


def real(text: str) -> float:
    """A number; UnreadableFile for anything else."""
    try:
        value = float(text)
    except ValueError:
        raise UnreadableFile(f"The DXF drawing has {text!r} where a number should stand.") from None
    if not abs(value) < float("inf"):
        raise UnreadableFile(f"The DXF drawing has {text!r} where a number should stand.")
    return value


def read_tags(data: bytes) -> tuple[Tag, ...]:
    """Every group of the file, comments (999) left out. UnreadableFile for a binary or broken one."""
    if data.startswith(_BINARY):
        raise UnreadableFile("This DXF drawing is of the binary form; save it as text.")
    lines = data.decode("utf-8", "replace").replace("\r\n", "\n").split("\n")
    if not any(line.strip() for line in lines):
        raise UnreadableFile("The DXF drawing is empty.")
    tags = tuple(_tag(code, value) for code, value in zip(lines[::2], lines[1::2], strict=False))
    if Tag(0, "EOF") not in tags[-1:]:
        raise UnreadableFile("The DXF drawing breaks off before its end.")
    return tuple(tag for tag in tags if tag.code != 999)


def _tag(code: str, value: str) -> Tag:
    try:
        return Tag(int(code), value.strip())
    except ValueError:
        raise UnreadableFile(f"This is no DXF drawing: {code.strip()[:20]!r} is no group code.") from None


def section(tags: tuple[Tag, ...], name: str) -> tuple[Tag, ...]:
    """The tags between SECTION name and its ENDSEC; none where the file has no such section."""
    marks = [i for i, tag in enumerate(tags) if tag.code == 0 and tag.value in ("SECTION", "ENDSEC")]
    for start, end in pairwise([*marks, len(tags)]):
        if tags[start].value == "SECTION" and tags[start + 1 : start + 2] == (Tag(2, name),):
            if end == len(tags):
                raise UnreadableFile(f"The DXF drawing breaks off inside its section {name}.")
            return tags[start + 2 : end]
    return ()


def entities(tags: tuple[Tag, ...]) -> Iterator[Entity]:
    """The tags cut at every code 0."""
    starts = [i for i, tag in enumerate(tags) if tag.code == 0]
    for start, end in pairwise([*starts, len(tags)]):
        yield Entity(tags[start].value, tags[start + 1 : end])


def header_value(tags: tuple[Tag, ...], name: str) -> str | None:
    """The first value of a header variable; None where it is not set."""
    header = section(tags, "HEADER")
    return next((two.value for one, two in pairwise(header) if one == Tag(9, name)), None)
