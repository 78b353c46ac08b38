"""What lies on the sheet of the part page, in the hand: drawn, dragged, walked, said in words.

Clamps, the work zero, the hole to hang by, entries, marks, and the sides of the sheet itself.
"""

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPainterPath

from app.desk.theme import Theme
from app.desk.thing_paint import (
    ground_path,
    paint_clamp,
    paint_entry,
    paint_ground,
    paint_mark,
    paint_round,
    paint_stock,
    paint_zero,
)
from app.desk.view import Seen
from app.desk.walk import Walk

if TYPE_CHECKING:
    from app.desk.page import Page
    from app.desk.sheet_hand import SheetHand
    from app.desk.thing import Put, Thing
    from core.findings import Point
    from core.shown import Shown

#: mm of one press of an arrow key, and with Shift.
STEP_MM, LONG_STEP_MM = 0.1, 1.0


class SheetThings:
    """What the part page asks about things on its sheet."""

    def __init__(self, page: "Page") -> None:
        self._page = page
        self.hand: SheetHand | None = None
        self._walk = Walk(page.desk, self._walked)
        self._waiting: Shown | None = None
        self._ground: QPainterPath | None = None

    def take_up(self, shown: "Shown | None") -> None:
        """Another Shown; what was chosen stays so where it is still there, and what is in the hand too."""
        if self._walk.is_on:
            self._waiting = shown  # what walks stays in the hand until it has come to its end
            return
        before, self.hand, self._ground = self.hand, None, None
        if shown is None:
            return
        from app.desk.sheet_hand import SheetHand  # noqa: PLC0415 - brings numpy; something is shown by now

        self.hand = SheetHand(shown)
        if before is not None:
            self.hand.go_on_from(before)
            self._light_up()

    @property
    def is_dragged(self) -> bool:
        """Whether one of them is in the hand."""
        return self.hand is not None and self.hand.is_dragged

    def said_in_hand(self) -> tuple["Point", str] | None:
        """Where the one in the hand is, and what is said of it."""
        hand = self.hand
        if hand is None or hand.chosen is None or not (hand.is_dragged or self._walk.is_on):
            return None
        thing = hand.things[hand.chosen]
        return thing.handle, hand.said_of(hand.chosen)

    def named_at(self, point: "Point", reach_mm: float) -> str:
        """What lies there, in words."""
        found = self.hand.near(point, reach_mm) if self.hand is not None else None
        return self.hand.said_of(found) if self.hand is not None and found is not None else ""

    def pressed(self, point: "Point", reach_mm: float) -> bool:
        """Whether something was taken."""
        self.end_walk()
        was_taken = self.hand is not None and self.hand.take(point, reach_mm)
        self._light_up()
        return was_taken

    def _light_up(self) -> None:
        """Where the mark in the hand may stand; nothing for anything else."""
        thing: Any = self.hand.in_hand if self.hand is not None and self.hand.is_dragged else None
        is_mark = thing is not None and thing.kind == "mark" and thing.marks is not None
        self._ground = ground_path(thing.marks.area(is_key=thing.is_key)) if is_mark else None

    def dragged(self, point: "Point", reach_mm: float) -> None:
        """What was taken is moved to here."""
        if self.hand is not None:
            self.hand.drag(point, reach_mm)

    def released(self) -> None:
        """Its place becomes the Job's."""
        if self.hand is not None:
            self._propose(self.hand.drop())

    def leave(self) -> None:
        """None is chosen any more."""
        self.end_walk()
        if self.hand is not None:
            self.hand.chosen = None

    def keyed(self, key: Qt.Key, modifiers: Qt.KeyboardModifier, pointer: "Point | None") -> bool:
        """S chooses the next one, C adds a clamp, M a mark; arrows, Delete and Escape act on the chosen."""
        hand = self.hand
        if hand is None:
            return False
        if key is Qt.Key.Key_S:
            self.end_walk()
            hand.choose_next()
        elif key is Qt.Key.Key_C:
            self.end_walk()
            self._propose(hand.add_clamp(pointer or self._page.view.centre))
        elif key is Qt.Key.Key_M:
            self.end_walk()
            self._propose(hand.add_mark(pointer or self._page.view.centre))
        elif hand.chosen is None:
            return False
        elif key is Qt.Key.Key_Escape:
            self._give_up(hand)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._walk.give_up()
            self._propose(hand.remove())
        else:
            return self._walk_by(hand, key, modifiers)
        self._tell()
        return True

    def end_walk(self) -> None:
        """One step of undo for one walk by the arrow keys."""
        self._walk.end()

    def _walked(self) -> None:
        if self.hand is not None:
            self._propose(self.hand.walked())
        waiting, self._waiting = self._waiting, None
        if waiting is not None:
            self.take_up(waiting)

    def _walk_by(self, hand: "SheetHand", key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        ways = {
            Qt.Key.Key_Left: (-1.0, 0.0),
            Qt.Key.Key_Right: (1.0, 0.0),
            Qt.Key.Key_Up: (0.0, 1.0),
            Qt.Key.Key_Down: (0.0, -1.0),
        }
        if key not in ways:
            return False
        step = LONG_STEP_MM if modifiers & Qt.KeyboardModifier.ShiftModifier else STEP_MM
        if not self._walk.is_on:
            hand.begin_walk()
        hand.step(step * ways[key][0], step * ways[key][1])
        self._walk.go_on()
        self._tell()
        return True

    def _give_up(self, hand: "SheetHand") -> None:
        if hand.is_dragged or self._walk.is_on:
            self._walk.give_up()
            hand.give_up()
        hand.chosen = None

    def _tell(self) -> None:
        if self.hand is not None and self.hand.chosen is not None:
            words = self.hand.said_of(self.hand.chosen)
            self._page.setAccessibleDescription(words)
            self._page.view.told.emit(words)

    def _propose(self, put: "Put | None") -> None:
        if put is None:
            return
        job = self._page.desk.job
        for key, value in put.values:
            job = job.with_value(key, value)
        self._page.desk.propose_job(job, put.words)

    # painting, in px

    def paint(
        self, painter: QPainter, seen: Seen, theme: Theme, hovered: "Point | None", reach_mm: float
    ) -> None:
        """Clamps and entries always; the others where they are chosen or pointed at."""
        hand = self.hand
        if hand is None:
            return
        near = hand.near(hovered, reach_mm) if hovered is not None and not hand.is_dragged else None
        if hand.is_dragged and self._ground is not None:
            paint_ground(painter, self._ground, seen, theme)
        for index, thing in enumerate(hand.things):
            self._paint_one(painter, thing, seen, theme, is_marked=index in (hand.chosen, near))

    def _paint_one(
        self, painter: QPainter, thing: "Thing", seen: Seen, theme: Theme, *, is_marked: bool
    ) -> None:
        assert self.hand is not None  # noqa: S101 - paint asks so
        kind: Any = thing
        if thing.kind == "clamp":
            paint_clamp(painter, self._page, kind, seen, theme, is_marked=is_marked)
        elif thing.kind == "entry":
            paint_entry(painter, kind, seen, theme, is_marked=is_marked)
        elif not is_marked:
            return
        elif thing.kind == "zero":
            paint_zero(painter, seen.of(*thing.at), theme)
        elif thing.kind == "mark":
            paint_mark(painter, kind, self.hand.things, seen, theme)
        elif thing.kind == "stock":
            paint_stock(painter, kind, seen, theme)
        else:
            paint_round(painter, thing, seen, theme)
