"""What lies on the sheet, in the hand: which thing is taken, where it stands until the Job has it there."""

from dataclasses import replace
from typing import TYPE_CHECKING

from app.desk.clamp_thing import ClampThing, another_clamp, clamps_of
from app.desk.entry_thing import entries_of_shown
from app.desk.hanger_thing import hanger_of_shown
from app.desk.mark_thing import another_mark, marks_of_shown, places_of
from app.desk.stock_thing import StockThing, stock_of_shown
from app.desk.thing import Put, Thing, said_place
from app.desk.zero_thing import zero_of_shown
from core.findings import Point

if TYPE_CHECKING:
    from core.shown import Shown


class SheetHand:
    """Things of one Shown; chosen is the one that keys act on, and that is dragged."""

    def __init__(self, shown: "Shown") -> None:
        self.things = _things(shown)
        self.chosen: int | None = None
        self.is_dragged = False
        self._before = self.things
        self.grip = (0.0, 0.0)

    def go_on_from(self, before: "SheetHand") -> None:
        """What was chosen or in the hand before stays so, where the same kind of thing has its place."""
        place = before.chosen
        if place is None or place >= len(self.things):
            return
        if self.things[place].kind == before.things[place].kind:
            self.chosen, self.is_dragged, self.grip = place, before.is_dragged, before.grip

    @property
    def in_hand(self) -> Thing | None:
        """The chosen thing."""
        return self.things[self.chosen] if self.chosen is not None else None

    def near(self, point: Point, reach_mm: float) -> int | None:
        """The thing within reach of a point; of several the nearest that does not yield to another."""
        gaps = [(thing.yields, thing.gap_to(point), at) for at, thing in enumerate(self.things)]
        return min((gap for gap in gaps if gap[1] <= reach_mm), default=(False, 0.0, None))[2]

    def take(self, point: Point, reach_mm: float) -> bool:
        """Take what is within reach; False, and nothing is chosen any more, where there is nothing."""
        self.chosen = self.near(point, reach_mm)
        self._before = self.things
        self.is_dragged = self.chosen is not None
        if (thing := self.in_hand) is not None:
            thing.taken()
            self.grip = (thing.at[0] - point[0], thing.at[1] - point[1])
        return self.is_dragged

    def drag(self, point: Point, reach_mm: float) -> None:
        """What was taken follows the point, and snaps within reach where it has something to snap on."""
        if self.is_dragged and (thing := self.in_hand) is not None:
            self._put(thing.dragged((point[0] + self.grip[0], point[1] + self.grip[1]), reach_mm))

    def step(self, right_mm: float, up_mm: float) -> None:
        """Move the chosen thing; by its whole grid where it has one."""
        if (thing := self.in_hand) is not None:
            self._put(thing.stepped(right_mm, up_mm))

    def walked(self) -> Put | None:
        """What the steps since begin_walk come to; None where that is nothing."""
        moved, self._before = self.things != self._before, self.things
        return self._wanted() if moved else None

    def drop(self) -> Put | None:
        """Let go; None where nothing was moved."""
        was_moved, self.is_dragged = self.is_dragged and self.things != self._before, False
        return self._wanted() if was_moved else None

    def give_up(self) -> None:
        """Everything as it was when it was taken."""
        self.things, self.is_dragged, self.chosen = self._before, False, None

    def begin_walk(self) -> None:
        """What is given up later goes back to here."""
        self._before = self.things

    def add_clamp(self, point: Point) -> Put:
        """Another clamp like the last one, with its middle at a point."""
        clamp = another_clamp(self.things, point)
        self._add(clamp)
        return Put((("stock.clamps", clamps_of(self.things)),), f"clamp added at {said_place(clamp.at)}")

    def add_mark(self, point: Point) -> Put | None:
        """A fourth mark at a point; None where it has no place."""
        mark = another_mark(self.things, point)
        if mark is None:
            return None
        self._add(mark)
        return Put((("fit.marks", places_of(self.things)),), f"mark added at {said_place(mark.at)}")

    def remove(self) -> Put | None:
        """Take the chosen thing away; None, and nothing is changed, where it cannot be."""
        if self.chosen is None:
            return None
        gone = self.things[self.chosen]
        rest = self.things[: self.chosen] + self.things[self.chosen + 1 :]
        put = gone.removed(rest)
        if put is not None:
            self.chosen = None
            self.things = rest if isinstance(gone, ClampThing) else self.things  # the others till it is built
        return put

    def choose_next(self) -> None:
        """Choose the next thing, none after the last."""
        following = 0 if self.chosen is None else self.chosen + 1
        self.chosen = following if following < len(self.things) else None

    def said_of(self, index: int) -> str:
        """What a thing is and where it lies, in words."""
        return self.things[index].said(self.things)

    def _add(self, thing: Thing) -> None:
        """After the last of its kind."""
        place = max((at for at, one in enumerate(self.things) if one.kind == thing.kind), default=-1) + 1
        self.things = (*self.things[:place], thing, *self.things[place:])
        self.chosen = place

    def _put(self, thing: Thing) -> None:
        assert self.chosen is not None  # noqa: S101 - only what is chosen moves
        self.things = (*self.things[: self.chosen], thing, *self.things[self.chosen + 1 :])
        if isinstance(thing, StockThing):  # the sheet is one: its other sides go with it
            self.things = tuple(
                replace(one, at=thing.at) if isinstance(one, StockThing) else one for one in self.things
            )

    def _wanted(self) -> Put | None:
        thing = self.in_hand
        return thing.wanted(self.things) if thing is not None else None


def _things(shown: "Shown") -> tuple[Thing, ...]:
    clamps = tuple(ClampThing(clamp.at, clamp) for clamp in shown.job.stock.clamps)
    on_part = (*hanger_of_shown(shown), *entries_of_shown(shown))
    return (*clamps, zero_of_shown(shown), *on_part, *marks_of_shown(shown), *stock_of_shown(shown))
