"""The tabs in the hand: which one is taken, where they stand until the Job has them, and how that is said."""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.desk.edge import Edge, OnEdge

if TYPE_CHECKING:
    from core.findings import Point
    from core.shown import Shown


@dataclass(frozen=True)
class Moved:
    """The tabs as they are wanted now, and what became of one of them, in words."""

    tabs: tuple[OnEdge, ...]
    words: str


class TabHand:
    """Tabs of one Shown. chosen is the one that keys act on; taken the one that is being dragged.

    They are those of the first piece; the others, which lie at others, have theirs in the same places.
    """

    def __init__(self, shown: "Shown", chosen_at: "Point | None" = None) -> None:
        self.edge = Edge.of(shown)
        copies = shown.layout.copies
        own = shown.path.tabs[: len(shown.path.tabs) // len(copies)]  # copy by copy, the first one first
        self.others = copies[1:]
        self.tabs = tuple(self.edge.nearest(tab.at) for tab in own)
        self.walls = tuple(tab.wall_mm for tab in own)
        self.chosen: int | None = None
        self.is_dragged = False
        self._before = self.tabs
        if chosen_at is not None and self.tabs:
            gaps = [math.dist(tab.at, chosen_at) for tab in self.tabs]
            self.chosen = gaps.index(min(gaps))

    @property
    def has_moved(self) -> bool:
        """Whether a tab stands elsewhere than the last Shown has it."""
        return self.tabs is not self._before

    def tab_near(self, point: "Point", reach_mm: float) -> int | None:
        """The tab within reach of a point."""
        gaps = [math.dist(_middle(tab, self.edge), point) for tab in self.tabs]
        return gaps.index(min(gaps)) if gaps and min(gaps) <= reach_mm else None

    def take(self, point: "Point", reach_mm: float) -> bool:
        """Take the tab within reach; False, and none is chosen any more, where there is none."""
        self.chosen = self.tab_near(point, reach_mm)
        self.is_dragged = self.chosen is not None
        self._before = self.tabs
        return self.is_dragged

    def drag(self, point: "Point") -> None:
        """The taken tab settles on the edge nearest to the point."""
        if self.is_dragged and self.chosen is not None:
            self._put(self.chosen, self.edge.settled(self.edge.nearest(point)))

    def give_up(self) -> None:
        """Everything as it was when the tab was taken."""
        self.tabs, self.is_dragged = self._before, False

    def drop(self) -> Moved | None:
        """Let go; None where nothing was moved."""
        was_moved = self.is_dragged and self.has_moved
        self.is_dragged = False
        return self._said("moved to") if was_moved else None

    def step(self, along_mm: float) -> Moved | None:
        """Move the chosen tab along the edge; None where none is chosen."""
        if self.chosen is None:
            return None
        tab = self.tabs[self.chosen]
        self._put(self.chosen, self.edge.place(tab.contour, tab.along_mm + along_mm))
        return self._said("moved to")

    def add(self, point: "Point") -> Moved:
        """Another tab on the edge nearest to the point."""
        self._before = self.tabs
        self.tabs = (*self.tabs, self.edge.settled(self.edge.nearest(point)))
        self.walls = (*self.walls, self.walls[-1] if self.walls else self.edge.setup.tab_rule.neck_mm)
        self.chosen = len(self.tabs) - 1
        return Moved(self.tabs, f"tab added at {self.tabs[-1].along_mm:.0f} mm")

    def remove(self) -> Moved | None:
        """Take the chosen tab away; None where none is chosen."""
        if self.chosen is None:
            return None
        words = f"tab at {self.tabs[self.chosen].along_mm:.0f} mm removed"
        self.tabs = self.tabs[: self.chosen] + self.tabs[self.chosen + 1 :]
        self.walls = self.walls[: self.chosen] + self.walls[self.chosen + 1 :]
        self.chosen = None
        return Moved(self.tabs, words)

    def choose_next(self, step: int = 1) -> None:
        """Choose the next tab round the edge."""
        if self.tabs:
            order = sorted(range(len(self.tabs)), key=self._place_of)
            at = order.index(self.chosen) + step if self.chosen is not None else 0
            self.chosen = order[at % len(order)]

    def said_of(self, index: int) -> str:
        """Where a tab stands, in words."""
        tab = self.tabs[index]
        beside = [self._gap(tab, other) for other in self.tabs if other is not tab]
        gaps = [gap for gap in beside if gap is not None]
        next_to = f" · {min(gaps):.1f} mm to the next" if gaps else ""
        fault = self.edge.fault(tab)
        return f"{tab.along_mm:.1f} mm along{next_to}" + (f" · {fault}" if fault else "")

    def _gap(self, one: OnEdge, other: OnEdge) -> float | None:
        if one.contour != other.contour:
            return None
        length = self.edge.contours[one.contour].length
        apart = abs(one.along_mm - other.along_mm)
        return min(apart, length - apart)

    def _place_of(self, index: int) -> tuple[int, float]:
        return self.tabs[index].contour, self.tabs[index].along_mm

    def _put(self, index: int, on: OnEdge) -> None:
        self.tabs = (*self.tabs[:index], on, *self.tabs[index + 1 :])

    def _said(self, became: str) -> Moved | None:
        if self.chosen is None:
            return None
        return Moved(self.tabs, f"tab {became} {self.tabs[self.chosen].along_mm:.0f} mm")


def _middle(tab: OnEdge, edge: Edge) -> "Point":
    """The middle of the bridge that a tab is: half a bit out from the wall."""
    half = edge.setup.bit.radius_mm
    return tab.at[0] + half * math.cos(tab.outward), tab.at[1] + half * math.sin(tab.outward)
