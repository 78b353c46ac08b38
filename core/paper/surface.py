"""The one small surface that papers and pictures are drawn on: mm, y up, origin at the lower left.

A path is moved, drawn and then painted; painting ends it. Solid is what runs counter-clockwise and
openings run clockwise, so one filling rule (nonzero) serves every surface.
"""

from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from core.findings import Point

#: The colour of ink on every paper: near black, softer than black.
INK = "#1f2326"


@dataclass(frozen=True)
class Pen:
    """colour "#rrggbb", width mm, opacity 0 to 1; dash: mm drawn and mm left out, in turn, or nothing."""

    colour: str = INK
    width_mm: float = 0.25
    opacity: float = 1.0
    dash: tuple[float, ...] = ()


@dataclass(frozen=True)
class Fill:
    """colour "#rrggbb", opacity 0 to 1."""

    colour: str
    opacity: float = 1.0


class Anchor(Enum):
    """Which end of the words stands at the place given."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True)
class Letters:
    """How words look: size_mm is the height of the type (an em)."""

    size_mm: float
    colour: str = INK
    is_bold: bool = False
    anchor: Anchor = Anchor.START


class Surface(Protocol):
    """What anything drawn needs; mm, y up."""

    def move(self, x: float, y: float) -> None:
        """Begin a contour at (x, y)."""

    def line(self, x: float, y: float) -> None:
        """A straight line to (x, y)."""

    def arc(self, x: float, y: float, bulge: float) -> None:
        """A circular arc to (x, y); bulge as in core/outline/loop.py."""

    def close(self) -> None:
        """Close the contour with a straight line."""

    def paint(self, fill: Fill | None, pen: Pen | None) -> None:
        """Fill and stroke what was drawn since the last painting."""

    def text(self, words: str, at: Point, letters: Letters) -> None:
        """One line of words, their base line at the height of at."""
