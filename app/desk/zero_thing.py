"""The work zero in the hand: on its grid, or snapped on a place of stock or part that has a name."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, ClassVar, Self

from app.desk.thing import Put, Thing, on_grid, rounded, said_place
from core.findings import Point
from core.sheet.zero import AT_POINT, OF_PART, OF_STOCK, zero_of

if TYPE_CHECKING:
    from core.shown import Shown

#: mm: the grid of the work zero.
ZERO_MM = 0.5


@dataclass(frozen=True)
class ZeroThing(Thing):
    """spots: the places with a name."""

    kind: ClassVar[str] = "zero"
    spots: tuple[tuple[str, Point], ...] = field(default=(), compare=False)

    @property
    def word(self) -> str:
        """The name of the place where it stands."""
        return next((word for word, spot in self.spots if spot == self.at), AT_POINT)

    def dragged(self, to: Point, reach_mm: float) -> Self:
        """Onto a spot within reach, else by its grid."""
        near = [spot for _, spot in self.spots if math.dist(spot, to) <= reach_mm]
        at = min(near, key=lambda spot: math.dist(spot, to), default=rounded(to, ZERO_MM))
        return replace(self, at=at)

    def stepped(self, right_mm: float, up_mm: float) -> Self:
        """By its whole grid."""
        x, y = (on_grid(way, ZERO_MM) for way in (right_mm, up_mm))
        return replace(self, at=rounded((self.at[0] + x, self.at[1] + y), ZERO_MM))

    def said(self, among: Sequence[Thing]) -> str:
        """Its place, and the name of it."""
        del among
        named = f" \u00b7 {self.word}" if self.word != AT_POINT else ""
        return f"work zero \u00b7 {said_place(self.at)}{named}"

    def wanted(self, among: Sequence[Thing]) -> Put:
        """What it stands on."""
        del among
        told = said_place(self.at) if self.word == AT_POINT else self.word
        values = (("stock.zero_on", self.word), ("stock.zero_at", self.at))
        return Put(values, f"work zero moved to {told}")


def zero_of_shown(shown: "Shown") -> ZeroThing:
    """The work zero of what is shown."""
    stock = shown.layout.stock
    x, y = shown.layout.shape_at
    wide, high = shown.size_mm
    box, sides = (x, y, x + wide, y + high), (stock.width_mm, stock.depth_mm)
    spots = tuple((word, zero_of(word, (0.0, 0.0), box, sides)) for word in (*OF_STOCK, *OF_PART))
    return ZeroThing(shown.layout.zero_at, spots)
