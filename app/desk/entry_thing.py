"""Where the bit enters a contour, in the hand: it runs along that contour, as tabs do."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, ClassVar, Self

from app.desk.edge import Edge, OnEdge
from app.desk.thing import Put, Thing
from core.findings import Point

if TYPE_CHECKING:
    from core.shown import Shown

#: What an edge says of a place where an entry should not be either.
BEND = "on a bend"


class EntryGround:
    """The edges of one Shown, made when a hand first asks."""

    def __init__(self, shown: "Shown") -> None:
        self.shown = shown

    @cached_property
    def edge(self) -> Edge:
        """The contours of the first piece."""
        return Edge.of(self.shown)

    def beside(self, on: OnEdge) -> Point:
        """Where the bit's middle is when it touches the wall there."""
        radius = self.shown.setup.bit.radius_mm
        return on.at[0] + radius * math.cos(on.outward), on.at[1] + radius * math.sin(on.outward)


@dataclass(frozen=True)
class EntryThing(Thing):
    """named: the contour in words; is_by_hand: whether the Job has it here."""

    kind: ClassVar[str] = "entry"
    named: str = ""
    is_by_hand: bool = False
    ground: EntryGround | None = field(default=None, compare=False)

    @property
    def half(self) -> Point:
        """As wide as the bit."""
        radius = self.ground.shown.setup.bit.radius_mm if self.ground is not None else 0.0
        return radius, radius

    @property
    def on(self) -> OnEdge:
        """Its place on the wall."""
        assert self.ground is not None  # noqa: S101 - only a thing without a page has none
        return self.ground.edge.nearest(self.at)

    def taken(self) -> None:
        """Bends are looked for once."""
        if self.ground is not None:
            self.ground.edge.fault(self.on)

    def dragged(self, to: Point, reach_mm: float) -> Self:
        """To the nearest place of its own contour."""
        del reach_mm
        assert self.ground is not None  # noqa: S101 - see above
        edge, contour = self.ground.edge, self.on.contour
        return self._put(edge.place(contour, edge.contours[contour].nearest(to)))

    def stepped(self, right_mm: float, up_mm: float) -> Self:
        """Along the contour, right and up the way that it runs."""
        assert self.ground is not None  # noqa: S101 - see above
        on = self.on
        return self._put(self.ground.edge.place(on.contour, on.along_mm + right_mm + up_mm))

    def _put(self, on: OnEdge) -> Self:
        assert self.ground is not None  # noqa: S101 - see above
        return replace(self, at=self.ground.beside(on), is_by_hand=True)

    def said(self, among: Sequence[Thing]) -> str:
        """How far along, how far from the next tab, and what is amiss."""
        del among
        assert self.ground is not None  # noqa: S101 - see above
        on, tabs = self.on, self.ground.shown.path.tabs
        words = [f"entry of the {self.named}", f"{on.along_mm:.1f} mm along"]
        if tabs:
            words.append(f"{min(math.dist(tab.at, on.at) for tab in tabs):.1f} mm to the next tab")
        words.append(BEND if self.ground.edge.fault(on) == BEND else "")
        words.append("" if self.is_by_hand else "as proposed")
        return " \u00b7 ".join(word for word in words if word)

    def wanted(self, among: Sequence[Thing]) -> Put:
        """All entries that are placed by hand."""
        words = f"entry of the {self.named} moved to {self.on.along_mm:.0f} mm"
        return Put((("part.entries", self._points(among)),), words)

    def removed(self, rest: Sequence[Thing]) -> Put | None:
        """Where it is proposed again."""
        return Put((("part.entries", self._points(rest)),), f"entry of the {self.named} as proposed")

    def _points(self, things: Sequence[Thing]) -> tuple[Point, ...]:
        assert self.ground is not None  # noqa: S101 - see above
        placed = [one.at for one in things if isinstance(one, EntryThing) and one.is_by_hand]
        back = map(self.ground.shown.place.back, placed)
        return tuple((max(x, 0.0), max(y, 0.0)) for x, y in back)


def entries_of_shown(shown: "Shown") -> tuple[EntryThing, ...]:
    """One for each contour of the first piece."""
    ground = EntryGround(shown)
    return tuple(EntryThing(one.at, one.name, one.is_by_hand, ground) for one in shown.path.entered)
