"""What lies on the sheet, in the hand: clamps, the work zero and the hole to hang by; and how it is said."""

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from core.findings import Point
from core.sheet.clamp import Clamp
from core.sheet.zero import AT_POINT, OF_PART, OF_STOCK, zero_of

if TYPE_CHECKING:
    from core.shown import Shown

#: mm that a clamp's middle is rounded to while it is dragged, and the grid of the work zero.
CLAMP_MM, ZERO_MM = 0.5, 0.5
#: A clamp where there was none before: a small round one (common practice, no source).
NEW_CLAMP = Clamp((0.0, 0.0), (25.0, 25.0), 12.0, is_round=True)
#: Findings that tell where the hole to hang by is.
_HANGS = ("hangs", "hangs-in-pieces")


@dataclass(frozen=True)
class Thing:
    """kind is "clamp", "zero" or "hanger"; at its middle and half its sides, mm; clamp: what it is of."""

    kind: str
    at: Point
    half: Point = (0.0, 0.0)
    clamp: Clamp | None = None

    def gap_to(self, point: Point) -> float:
        """Mm from its outside to a point; 0 inside it."""
        dx, dy = (max(abs(p - a) - h, 0.0) for p, a, h in zip(point, self.at, self.half, strict=True))
        return math.hypot(dx, dy)


@dataclass(frozen=True)
class Put:
    """The choices that are wanted now, by key, and what was done, in words."""

    values: tuple[tuple[str, Any], ...]
    words: str


class SheetHand:
    """Things of one Shown; chosen is the one that keys act on, and that is dragged."""

    def __init__(self, shown: "Shown") -> None:
        self._shown = shown
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

    def near(self, point: Point, reach_mm: float) -> int | None:
        """The thing within reach of a point."""
        gaps = [thing.gap_to(point) for thing in self.things]
        return gaps.index(min(gaps)) if gaps and min(gaps) <= reach_mm else None

    def take(self, point: Point, reach_mm: float) -> bool:
        """Take what is within reach; False, and nothing is chosen any more, where there is nothing."""
        self.chosen = self.near(point, reach_mm)
        self._before = self.things
        self.is_dragged = self.chosen is not None
        if self.chosen is not None:
            at = self.things[self.chosen].at
            self.grip = (at[0] - point[0], at[1] - point[1])
        return self.is_dragged

    def drag(self, point: Point, reach_mm: float) -> None:
        """What was taken follows the point; the zero snaps on corners within reach."""
        if self.is_dragged:
            self._move_to((point[0] + self.grip[0], point[1] + self.grip[1]), reach_mm)

    def step(self, right_mm: float, up_mm: float) -> Put | None:
        """Move the chosen thing; the zero by its whole grid."""
        if self.chosen is None:
            return None
        thing = self.things[self.chosen]
        if thing.kind == "zero":
            right_mm, up_mm = (math.copysign(max(abs(way), ZERO_MM), way) if way else 0.0
                               for way in (right_mm, up_mm))  # fmt: skip
        at = (thing.at[0] + right_mm, thing.at[1] + up_mm)
        self._put(replace(thing, at=_rounded(at, ZERO_MM if thing.kind == "zero" else 0.1)))
        return self._wanted()

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
        like = next((one.clamp for one in reversed(self.things) if one.clamp is not None), NEW_CLAMP)
        clamp = replace(like, at=_rounded(point, CLAMP_MM))
        self.things = (*self.things, _of_clamp(clamp))
        self.chosen = len(self.things) - 1
        return Put((("stock.clamps", self._clamps()),), f"clamp added at {_said(clamp.at)}")

    def remove(self) -> Put | None:
        """Take the chosen thing away; the work zero stays."""
        if self.chosen is None or self.things[self.chosen].kind == "zero":
            return None
        gone = self.things[self.chosen]
        self.things = self.things[: self.chosen] + self.things[self.chosen + 1 :]
        self.chosen = None
        if gone.kind == "hanger":
            return Put((("part.hanger", ()),), "hole to hang by removed")
        return Put((("stock.clamps", self._clamps()),), f"clamp at {_said(gone.at)} removed")

    def choose_next(self) -> None:
        """Choose the next thing, none after the last."""
        following = 0 if self.chosen is None else self.chosen + 1
        self.chosen = following if following < len(self.things) else None

    def said_of(self, index: int) -> str:
        """What a thing is and where it lies, in words."""
        thing, at = self.things[index], _said(self.things[index].at)
        if thing.clamp is not None:
            wide, deep = thing.clamp.size_mm
            size = f"\u2300 {wide:g}" if thing.clamp.is_round else f"{wide:g} \u00d7 {deep:g}"
            return f"clamp {size}, {thing.clamp.height_mm:g} high \u00b7 {at}"
        if thing.kind == "zero":
            word = self._zero_word(thing.at)
            return f"work zero \u00b7 {at}" + (f" \u00b7 {word}" if word != AT_POINT else "")
        return f"hole to hang by \u00b7 {at}"

    def _move_to(self, at: Point, reach_mm: float) -> None:
        assert self.chosen is not None  # noqa: S101 - only what is dragged moves
        thing = self.things[self.chosen]
        if thing.kind == "zero":
            near = [spot for spot in self._zero_spots().values() if math.dist(spot, at) <= reach_mm]
            at = min(near, key=lambda spot: math.dist(spot, at), default=_rounded(at, ZERO_MM))
        else:
            at = _rounded(at, CLAMP_MM if thing.kind == "clamp" else 0.1)
        self._put(replace(thing, at=at))

    def _put(self, thing: Thing) -> None:
        assert self.chosen is not None  # noqa: S101 - see above
        if thing.clamp is not None:
            thing = _of_clamp(replace(thing.clamp, at=thing.at))
        self.things = (*self.things[: self.chosen], thing, *self.things[self.chosen + 1 :])

    def _wanted(self) -> Put | None:
        if self.chosen is None:
            return None
        thing = self.things[self.chosen]
        if thing.kind == "clamp":
            return Put((("stock.clamps", self._clamps()),), f"clamp moved to {_said(thing.at)}")
        if thing.kind == "zero":
            word = self._zero_word(thing.at)
            told = _said(thing.at) if word == AT_POINT else word
            return Put((("stock.zero_on", word), ("stock.zero_at", thing.at)), f"work zero moved to {told}")
        x, y = self._shown.place.back(thing.at)
        return Put(
            (("part.hanger", ((max(x, 0.0), max(y, 0.0)),)),), f"hole to hang by moved to {_said(thing.at)}"
        )

    def _clamps(self) -> tuple[Clamp, ...]:
        return tuple(thing.clamp for thing in self.things if thing.clamp is not None)

    def _zero_spots(self) -> dict[str, Point]:
        """Places of the stock and of the part that a zero stands on by name."""
        stock = self._shown.layout.stock
        x, y = self._shown.layout.shape_at
        wide, high = self._shown.size_mm
        box, sides = (x, y, x + wide, y + high), (stock.width_mm, stock.depth_mm)
        return {word: zero_of(word, (0.0, 0.0), box, sides) for word in (*OF_STOCK, *OF_PART)}

    def _zero_word(self, at: Point) -> str:
        return next((word for word, spot in self._zero_spots().items() if spot == at), AT_POINT)


def _things(shown: "Shown") -> tuple[Thing, ...]:
    clamps = tuple(_of_clamp(clamp) for clamp in shown.job.stock.clamps)
    half = shown.job.part.hanger_hole.value / 2.0
    places = [one.at for one in shown.findings if one.code in _HANGS and one.at is not None]
    hangers = tuple(Thing("hanger", at, (half, half)) for at in places)
    return (*clamps, *hangers, Thing("zero", shown.layout.zero_at))


def _of_clamp(clamp: Clamp) -> Thing:
    return Thing("clamp", clamp.at, (clamp.size_mm[0] / 2.0, clamp.size_mm[1] / 2.0), clamp)


def _rounded(at: Point, step: float) -> Point:
    x, y = (round(round(value / step) * step, 6) + 0.0 for value in at)
    return x, y


def _said(at: Point) -> str:
    return f"{at[0]:.1f}, {at[1]:.1f} mm".replace("-", "\u2212")
