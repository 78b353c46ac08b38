"""The stock in the hand: its right side, its far side, and the corner between them."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, ClassVar, Self

from app.desk.thing import Put, Thing, rounded
from core.findings import Point
from core.job.choice import AUTO
from core.units import LENGTH, parsed

if TYPE_CHECKING:
    from core.shown import Shown

#: mm that a dragged side is rounded to, and what a sheet measures at least and at most.
WHOLE_MM, LEAST_MM, MOST_MM = 1.0, 10.0, 3000.0
#: The choice that says how long the sheet is along x and along y.
KEYS = ("stock.width", "stock.depth")


@dataclass(frozen=True)
class StockThing(Thing):
    """at: the far right corner of the sheet; moves: whether its x, its y follow the hand."""

    kind: ClassVar[str] = "stock"
    moves: tuple[bool, bool] = (True, True)
    was: Point = field(default=(0.0, 0.0), compare=False)

    @property
    def yields(self) -> bool:
        """A side is long: its corner, and what lies on it, come first."""
        return not all(self.moves)

    @property
    def handle(self) -> Point:
        """Where a label stands: on the side that moves."""
        x, y = self.at
        if all(self.moves):
            return self.at
        return (x, y / 2.0) if self.moves[0] else (x / 2.0, y)

    def gap_to(self, point: Point) -> float:
        """To the corner, or to the side."""
        if all(self.moves):
            return math.dist(point, self.at)
        along = 1 if self.moves[0] else 0
        beyond = max(-point[along], point[along] - self.at[along], 0.0)
        return math.hypot(point[1 - along] - self.at[1 - along], beyond)

    def dragged(self, to: Point, reach_mm: float) -> Self:
        """By whole millimetres."""
        del reach_mm
        return self._put(rounded(to, WHOLE_MM))

    def stepped(self, right_mm: float, up_mm: float) -> Self:
        """By the step of the key."""
        return self._put(rounded((self.at[0] + right_mm, self.at[1] + up_mm), 0.1))

    def _put(self, to: Point) -> Self:
        x, y = (
            min(max(wanted, LEAST_MM), MOST_MM) if moves else here
            for wanted, here, moves in zip(to, self.at, self.moves, strict=True)
        )
        return replace(self, at=(x, y))

    def said(self, among: Sequence[Thing]) -> str:
        """How large the sheet is."""
        del among
        return f"sheet {self.at[0]:g} \u00d7 {self.at[1]:g} mm"

    def wanted(self, among: Sequence[Thing]) -> Put:
        """The sides that were moved."""
        del among
        sides = zip(KEYS, self.at, self.was, strict=True)
        values = tuple((key, parsed(f"{now:g} mm", LENGTH)) for key, now, was in sides if now != was)
        return Put(values, f"sheet made {self.at[0]:g} \u00d7 {self.at[1]:g} mm")

    def removed(self, rest: Sequence[Thing]) -> Put | None:
        """As small as does, again."""
        del rest
        values = tuple((key, AUTO) for key, moves in zip(KEYS, self.moves, strict=True) if moves)
        return Put(values, "sheet as small as does")


def stock_of_shown(shown: "Shown") -> tuple[StockThing, ...]:
    """The corner first: it lies on both sides."""
    at = (shown.layout.stock.width_mm, shown.layout.stock.depth_mm)
    return tuple(StockThing(at, moves, at) for moves in ((True, True), (True, False), (False, True)))
