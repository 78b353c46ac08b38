"""Groups of a DXF file: a code and a value on two lines (DXF Reference, "About the DXF Format").

Handles number the objects of the year-2000 form; who owns whom is told by them.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import count

Value = str | int | float
Tag = tuple[int, Value]

#: Digits after the point: 1e-10 mm lost, and no noise of the last bit in the file.
DECIMALS = 10


def number(value: float) -> str:
    """A real number with its point, without exponent, needless zeros, and never -0."""
    text = f"{value:.{DECIMALS}f}".rstrip("0")
    text = text + "0" if text.endswith(".") else text
    return "0.0" if text == "-0.0" else text


def dxf_bytes(tags: Iterable[Tag]) -> bytes:
    """The file, in the code page that its header names. Raises UnicodeEncodeError for letters beyond it."""
    lines = (f"{code:>3}\n{_text(value)}\n" for code, value in tags)
    return "".join(lines).encode("cp1252", "strict")


def _text(value: Value) -> str:
    return number(value) if isinstance(value, float) else str(value)


def section(name: str, body: Iterable[Tag]) -> Iterator[Tag]:
    """A section of the file."""
    yield from ((0, "SECTION"), (2, name))
    yield from body
    yield (0, "ENDSEC")


def point(x: float, y: float, code: int = 10, z: float | None = 0.0) -> tuple[Tag, ...]:
    """A point under its codes: 10, 20 and 30, or those of another first code."""
    flat = ((code, float(x)), (code + 10, float(y)))
    return flat if z is None else (*flat, (code + 20, z))


@dataclass
class Handles:
    """Handles in hexadecimal, each once; 0 owns what has no owner."""

    numbers: Iterator[int] = field(default_factory=lambda: count(1))

    def new(self) -> str:
        """The next handle."""
        return f"{next(self.numbers):X}"
