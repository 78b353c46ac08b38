"""Weed lines in the hand: which one is taken, how high it lies until the Job has it, and how that is said."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.desk.thing import Put, on_grid
from core.decal.weed_lines import GRID_MM, LEAST_STRIP_MM
from core.job.choice import AUTO
from core.units import LENGTH, parsed

if TYPE_CHECKING:
    from core.findings import Point
    from core.outline.loop import Bounds
    from core.shown import Shown


@dataclass(frozen=True)
class Lines:
    """Heights of weed lines in the frame, mm, and the sheet box that they cross."""

    heights: tuple[float, ...]
    box: "Bounds"

    def near(self, point: "Point", reach_mm: float) -> int | None:
        """The line within reach of a point in the box; the nearest."""
        if not self.box[0] <= point[0] <= self.box[2]:
            return None
        gaps = [(abs(y - point[1]), at) for at, y in enumerate(self.heights)]
        return min((gap for gap in gaps if gap[0] <= reach_mm), default=(0.0, None))[1]

    def moved(self, index: int, y: float) -> "Lines":
        """With one of them at another height, on the grid and within the box."""
        placed = min(max(_rounded(y), self.box[1]), self.box[3])
        return Lines((*self.heights[:index], placed, *self.heights[index + 1 :]), self.box)

    def without(self, index: int) -> "Lines":
        """Without one of them."""
        return Lines(self.heights[:index] + self.heights[index + 1 :], self.box)

    def with_one(self, y: float) -> "Lines":
        """With another one at this height."""
        return Lines((*self.heights, _rounded(y)), self.box)

    def said_of(self, index: int) -> str:
        """How high, and how wide the strips on both sides are."""
        y = self.heights[index]
        others = [*self.box[1::2], *(one for at, one in enumerate(self.heights) if at != index)]
        below = y - max((one for one in others if one <= y), default=y)
        above = min((one for one in others if one >= y), default=y) - y
        words = f"weed line \u00b7 {y:.1f} mm up \u00b7 strips of {below:.1f} and {above:.1f} mm"
        return words + (" \u00b7 so narrow that it tears" if min(below, above) < LEAST_STRIP_MM else "")

    def put(self, words: str) -> Put:
        """What the Job is to have."""
        heights = tuple(parsed(f"{y:g} mm", LENGTH) for y in sorted(set(self.heights)))
        return Put((("film.weed_lines", heights),), words)


class WeedHand:
    """The lines of one Shown; chosen is the one that keys act on, and that is dragged."""

    def __init__(self, shown: "Shown") -> None:
        self.lines = Lines(shown.weed_heights, shown.sheet_box.loop.bounds())
        self._before = self.lines
        self.is_by_hand = shown.job.film.weed_lines is not AUTO
        self.chosen: int | None = None
        self.is_dragged = False

    def go_on_from(self, before: "WeedHand") -> None:
        """What was chosen or in the hand before stays so, at the height where it is now."""
        if before.chosen is not None:
            y = before.lines.heights[before.chosen]
            self.chosen = self.lines.near((self.lines.box[0], y), GRID_MM)
            self.is_dragged = before.is_dragged and self.chosen is not None

    def take(self, index: int | None) -> bool:
        """Take this one; False where it is none."""
        self.chosen, self._before = index, self.lines
        self.is_dragged = index is not None
        return self.is_dragged

    def drag(self, y: float) -> None:
        """What was taken follows."""
        if self.is_dragged and self.chosen is not None:
            self.lines = self.lines.moved(self.chosen, y)

    def begin_walk(self) -> None:
        """What is given up later goes back to here."""
        self._before = self.lines

    def step(self, up_mm: float) -> None:
        """Move the chosen one by at least the grid."""
        if self.chosen is not None:
            self.lines = self.lines.moved(
                self.chosen, self.lines.heights[self.chosen] + on_grid(up_mm, GRID_MM)
            )

    def drop(self) -> Put | None:
        """Let go; None where nothing was moved."""
        self.is_dragged = False
        moved, self._before = self.lines != self._before, self.lines
        if self.chosen is None or not moved:
            return None
        return self.lines.put(f"weed line moved to {self.lines.heights[self.chosen]:g} mm")

    def give_up(self) -> None:
        """Everything as it was."""
        self.lines, self.is_dragged, self.chosen = self._before, False, None

    def add(self, y: float) -> Put:
        """Another line."""
        self.lines = self._before = self.lines.with_one(y)
        self.chosen = len(self.lines.heights) - 1
        return self.lines.put(f"weed line added at {self.lines.heights[-1]:g} mm")

    def remove(self) -> Put | None:
        """Without the chosen one."""
        if self.chosen is None:
            return None
        y = self.lines.heights[self.chosen]
        self.lines = self._before = self.lines.without(self.chosen)
        self.chosen = None
        return self.lines.put(f"weed line at {y:g} mm removed")

    def choose_next(self) -> None:
        """The next line, from the near side to the far one; none after the last."""
        order = sorted(range(len(self.lines.heights)), key=lambda at: self.lines.heights[at])
        following = 0 if self.chosen is None else order.index(self.chosen) + 1
        self.chosen = order[following] if following < len(order) else None
        self._before = self.lines


def _rounded(y: float) -> float:
    return round(y / GRID_MM) * GRID_MM + 0.0
