"""A clamp in the hand."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import ClassVar, Self

from app.desk.thing import Put, Thing, rounded, said_place
from core.findings import Point
from core.sheet.clamp import Clamp

#: mm that a clamp's middle is rounded to while it is dragged.
CLAMP_MM = 0.5
#: A clamp where there was none before: a small round one (common practice, no source).
NEW_CLAMP = Clamp((0.0, 0.0), (25.0, 25.0), 12.0, is_round=True)


@dataclass(frozen=True)
class ClampThing(Thing):
    """of: the clamp, with its middle where the Job has it."""

    kind: ClassVar[str] = "clamp"
    of: Clamp = NEW_CLAMP

    @property
    def half(self) -> Point:
        """Half its sides."""
        return self.of.size_mm[0] / 2.0, self.of.size_mm[1] / 2.0

    @property
    def clamp(self) -> Clamp:
        """The clamp where it stands now."""
        return replace(self.of, at=self.at)

    def dragged(self, to: Point, reach_mm: float) -> Self:
        """By halves of a millimetre."""
        del reach_mm
        return replace(self, at=rounded(to, CLAMP_MM))

    def said(self, among: Sequence[Thing]) -> str:
        """Its size, its height, its place."""
        del among
        wide, deep = self.of.size_mm
        size = f"\u2300 {wide:g}" if self.of.is_round else f"{wide:g} \u00d7 {deep:g}"
        return f"clamp {size}, {self.of.height_mm:g} high \u00b7 {said_place(self.at)}"

    def wanted(self, among: Sequence[Thing]) -> Put:
        """All clamps as they lie now."""
        return Put((("stock.clamps", clamps_of(among)),), f"clamp moved to {said_place(self.at)}")

    def removed(self, rest: Sequence[Thing]) -> Put | None:
        """The others."""
        return Put((("stock.clamps", clamps_of(rest)),), f"clamp at {said_place(self.at)} removed")


def clamps_of(things: Sequence[Thing]) -> tuple[Clamp, ...]:
    """The clamps among them."""
    return tuple(thing.clamp for thing in things if isinstance(thing, ClampThing))


def another_clamp(things: Sequence[Thing], at: Point) -> ClampThing:
    """A clamp like the last one, with its middle at a place."""
    like = next((one.of for one in reversed(things) if isinstance(one, ClampThing)), NEW_CLAMP)
    return ClampThing(rounded(at, CLAMP_MM), like)
