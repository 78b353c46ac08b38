"""A mark in the hand: on its grid, with the walls round it and how far a film laid wrong would miss."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, ClassVar, Self

from app.desk.thing import Put, Thing, on_grid, rounded, said_place
from core.findings import Point
from core.job.choice import AUTO
from core.job.resolve import bit_of, fit_rule
from core.sheet.mark_room import MarkRoom
from core.sheet.pattern import SOUGHT_MISS_MM
from core.sheet.rule import GRID_MM
from core.sheet.wrong_fit import worst_wrong_fit

if TYPE_CHECKING:
    import shapely

    from core.shown import Shown

#: A pattern has so many marks.
LEAST_MARKS, MOST_MARKS = 3, 4


class MarksRoom:
    """Where marks of one Shown may stand; made when a hand first asks, since it takes some ms."""

    def __init__(self, shown: "Shown") -> None:
        self._shown = shown
        self._areas: dict[bool, shapely.Geometry] = {}

    @cached_property
    def room(self) -> MarkRoom:
        """What marks keep clear of."""
        shown = self._shown
        return MarkRoom.on(shown.layout, shown.as_cut, fit_rule(shown.job), bit_of(shown.job).called_mm)

    def area(self, *, is_key: bool) -> "shapely.Geometry":
        """Where the middle of a mark may stand, in the frame."""
        if is_key not in self._areas:
            self._areas[is_key] = self.room.free_area(is_key=is_key)
        return self._areas[is_key]


@dataclass(frozen=True)
class MarkThing(Thing):
    """The first one is the key."""

    kind: ClassVar[str] = "mark"
    is_key: bool = False
    radius_mm: float = 0.0
    marks: MarksRoom | None = field(default=None, compare=False)

    @property
    def half(self) -> Point:
        """As wide as its hole."""
        return self.radius_mm, self.radius_mm

    def taken(self) -> None:
        """The ground it may stand on."""
        if self.marks is not None:
            self.marks.area(is_key=self.is_key)

    def dragged(self, to: Point, reach_mm: float) -> Self:
        """By the grid that every file can say."""
        del reach_mm
        return replace(self, at=rounded(to, GRID_MM))

    def stepped(self, right_mm: float, up_mm: float) -> Self:
        """By the whole grid."""
        x, y = (on_grid(way, GRID_MM) for way in (right_mm, up_mm))
        return replace(self, at=rounded((self.at[0] + x, self.at[1] + y), GRID_MM))

    def said(self, among: Sequence[Thing]) -> str:
        """Its place, what is amiss, else the walls round it; and what a film laid wrong would miss by."""
        name = f"{'key mark' if self.is_key else 'mark'} \u2300 {2.0 * self.radius_mm:g}"
        words = [name, said_place(self.at), self._walls(), self._miss(among)]
        return " \u00b7 ".join(word for word in words if word)

    def is_bad(self, among: Sequence[Thing]) -> bool:
        """Whether it could not be proposed where it stands, or the pattern with it."""
        walls = self.marks.room.walls(self.at, is_key=self.is_key) if self.marks else None
        return bool(walls and walls.short) or bool(self._miss(among))

    def _walls(self) -> str:
        if self.marks is None:
            return ""
        walls = self.marks.room.walls(self.at, is_key=self.is_key)
        if walls.is_open:
            return "in the slot" if walls.to_slot < walls.to_edge else "over the sheet's edge"
        if walls.short:
            return f"too near to {walls.short[0][0]}"
        return f"wall {walls.to_slot:.1f} mm to the slot, {walls.to_edge:.1f} to the edge"

    def _miss(self, among: Sequence[Thing]) -> str:
        places = places_of(among)
        miss = worst_wrong_fit(places) if len(places) >= LEAST_MARKS else 0.0
        return "" if miss >= SOUGHT_MISS_MM else f"a film laid wrong would miss by only {miss:.1f} mm"

    def wanted(self, among: Sequence[Thing]) -> Put:
        """All marks as they stand now."""
        name = "key mark" if self.is_key else "mark"
        return Put((("fit.marks", places_of(among)),), f"{name} moved to {said_place(self.at)}")

    def removed(self, rest: Sequence[Thing]) -> Put | None:
        """A fourth mark goes; three are proposed anew."""
        places = places_of(rest)
        if len(places) < LEAST_MARKS or self.is_key:
            return Put((("fit.marks", AUTO),), "marks as proposed")
        return Put((("fit.marks", places),), f"mark at {said_place(self.at)} removed")


def places_of(things: Sequence[Thing]) -> tuple[Point, ...]:
    """Where the marks among them stand, the key first."""
    return tuple(thing.at for thing in things if isinstance(thing, MarkThing))


def marks_of_shown(shown: "Shown") -> tuple[MarkThing, ...]:
    """The marks that lie on the sheet; none of those that stand in a board or beside the part."""
    ground = MarksRoom(shown)
    return tuple(
        MarkThing(mark.at, mark.is_key, mark.diameter_mm / 2.0, ground)
        for mark in shown.layout.marks_on_sheet
    )


def another_mark(things: Sequence[Thing], at: Point) -> MarkThing | None:
    """A fourth mark; None where there are none to add it to, or four already."""
    marks = [thing for thing in things if isinstance(thing, MarkThing)]
    if not LEAST_MARKS <= len(marks) < MOST_MARKS:
        return None
    return replace(marks[-1], at=rounded(at, GRID_MM), is_key=False)
