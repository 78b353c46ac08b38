"""The hole to hang the part by, in the hand."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar

from app.desk.thing import Put, Thing, said_place
from core.findings import Point

if TYPE_CHECKING:
    from core.shown import Shown


@dataclass(frozen=True)
class HangerThing(Thing):
    """radius_mm of the hole; back: a place of the frame to that of the picture, px."""

    kind: ClassVar[str] = "hanger"
    radius_mm: float = 0.0
    back: Callable[[Point], Point] = field(default=lambda at: at, compare=False)

    @property
    def half(self) -> Point:
        """As wide as the hole."""
        return self.radius_mm, self.radius_mm

    def said(self, among: Sequence[Thing]) -> str:
        """Its place."""
        del among
        return f"hole to hang by \u00b7 {said_place(self.at)}"

    def wanted(self, among: Sequence[Thing]) -> Put:
        """A point of the picture."""
        del among
        x, y = self.back(self.at)
        point = (max(x, 0.0), max(y, 0.0))
        return Put((("part.hanger", (point,)),), f"hole to hang by moved to {said_place(self.at)}")

    def removed(self, rest: Sequence[Thing]) -> Put | None:
        """No hole."""
        del rest
        return Put((("part.hanger", ()),), "hole to hang by removed")


def hanger_of_shown(shown: "Shown") -> tuple[HangerThing, ...]:
    """The hole of the first copy; none where the part hangs by none."""
    if shown.hanger is None:
        return ()
    radius = shown.job.part.hanger_hole.value / 2.0
    return (HangerThing(shown.hanger, radius, shown.place.back),)
