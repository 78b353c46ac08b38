"""One thing on the sheet that a hand takes: where it is dragged to, what is said of it, what it asks for."""

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, ClassVar, Self

from core.findings import Point

if TYPE_CHECKING:
    from collections.abc import Sequence


@dataclass(frozen=True)
class Put:
    """The choices that are wanted now, by key, and what was done, in words."""

    values: tuple[tuple[str, Any], ...]
    words: str


@dataclass(frozen=True)
class Thing:
    """One thing with its middle at a place of the frame, mm. Subclasses say what it is.

    among: all things that lie there, this one with them; rest: all but this one.
    """

    kind: ClassVar[str]
    at: Point

    @property
    def half(self) -> Point:
        """Half its sides, mm."""
        return 0.0, 0.0

    @property
    def yields(self) -> bool:
        """Whether anything else within reach is taken before it."""
        return False

    @property
    def handle(self) -> Point:
        """Where a label stands."""
        return self.at

    def gap_to(self, point: Point) -> float:
        """Mm from its outside to a point; 0 inside it."""
        dx, dy = (max(abs(p - a) - h, 0.0) for p, a, h in zip(point, self.at, self.half, strict=True))
        return math.hypot(dx, dy)

    def taken(self) -> None:
        """A hand has it: what its first step would wait for is made now."""

    def dragged(self, to: Point, reach_mm: float) -> Self:
        """The same, as near to a place as it may stand; reach_mm: within which it snaps."""
        del reach_mm
        return replace(self, at=rounded(to, 0.1))

    def stepped(self, right_mm: float, up_mm: float) -> Self:
        """The same, moved by an arrow key."""
        return replace(self, at=rounded((self.at[0] + right_mm, self.at[1] + up_mm), 0.1))

    def said(self, among: "Sequence[Thing]") -> str:
        """What it is and where it lies, in words."""
        raise NotImplementedError

    def wanted(self, among: "Sequence[Thing]") -> Put:
        """What it asks for where it stands now."""
        raise NotImplementedError

    def removed(self, rest: "Sequence[Thing]") -> Put | None:
        """What takes it away; None where it stays, as the work zero does."""
        del rest
        return None


def rounded(at: Point, step: float) -> Point:
    """The nearest place of a grid."""
    x, y = (round(round(value / step) * step, 6) + 0.0 for value in at)
    return x, y


def on_grid(way_mm: float, grid_mm: float) -> float:
    """A step of at least one grid."""
    return math.copysign(max(abs(way_mm), grid_mm), way_mm) if way_mm else 0.0


def said_place(at: Point) -> str:
    """A place in words."""
    return f"{at[0]:.1f}, {at[1]:.1f} mm".replace("-", "\u2212")
