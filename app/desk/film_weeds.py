"""Weed lines on the film page: dragged up and down, walked, added, taken away, said in words."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPen

from app.desk.theme import Theme
from app.desk.view import Seen
from app.desk.walk import Walk

if TYPE_CHECKING:
    from app.desk.page import Page
    from app.desk.thing import Put
    from app.desk.weed_hand import WeedHand
    from core.findings import Point
    from core.shown import Shown

#: mm of one press of an arrow key, and with Shift.
STEP_MM, LONG_STEP_MM = 0.5, 1.0


class FilmWeeds:
    """What the film page asks about its weed lines."""

    def __init__(self, page: "Page") -> None:
        self._page = page
        self.hand: WeedHand | None = None
        self._walk = Walk(page.desk, self._walked)
        self._waiting: Shown | None = None

    def take_up(self, shown: "Shown | None") -> None:
        """Another Shown; what was chosen stays so."""
        if self._walk.is_on:
            self._waiting = shown  # what walks stays in the hand until it has come to its end
            return
        before, self.hand = self.hand, None
        if shown is None:
            return
        from app.desk.weed_hand import WeedHand  # noqa: PLC0415 - with the first Shown

        self.hand = WeedHand(shown)
        if before is not None:
            self.hand.go_on_from(before)

    @property
    def is_dragged(self) -> bool:
        """Whether one of them is in the hand."""
        return self.hand is not None and self.hand.is_dragged

    def at(self, point: "Point", reach_mm: float) -> int | None:
        """The line that lies there."""
        return self.hand.lines.near(point, reach_mm) if self.hand is not None else None

    def pressed(self, point: "Point", reach_mm: float) -> bool:
        """Whether a line was taken."""
        self.end_walk()
        return self.hand is not None and self.hand.take(self.at(point, reach_mm))

    def dragged(self, point: "Point") -> None:
        """What was taken follows."""
        if self.hand is not None:
            self.hand.drag(point[1])
            self._page.update()

    def released(self) -> None:
        """Its height becomes the Job's."""
        if self.hand is not None and self.hand.is_dragged:
            self._propose(self.hand.drop())

    def leave(self) -> None:
        """None is chosen any more."""
        self.end_walk()
        if self.hand is not None:
            self.hand.chosen = None

    def add(self, point: "Point") -> bool:
        """Another line there; False outside the sheet box."""
        self.end_walk()
        if self.hand is None:
            return False
        left, near, right, far = self.hand.lines.box
        is_inside = left <= point[0] <= right and near < point[1] < far
        if is_inside:
            self._propose(self.hand.add(point[1]))
        return is_inside

    def said_in_hand(self) -> tuple["Point", str] | None:
        """Where the one in the hand is, and what is said of it."""
        hand = self.hand
        if hand is None or hand.chosen is None or not (hand.is_dragged or self._walk.is_on):
            return None
        return (hand.lines.box[0], hand.lines.heights[hand.chosen]), hand.lines.said_of(hand.chosen)

    def keyed(self, key: Qt.Key, modifiers: Qt.KeyboardModifier, pointer: "Point | None") -> bool:
        """S chooses the next line, W adds one; up and down, Delete and Escape act on the chosen one."""
        hand = self.hand
        if hand is None:
            return False
        if key is Qt.Key.Key_S:
            self.end_walk()
            hand.choose_next()
        elif key is Qt.Key.Key_W:
            return self.add(pointer or self._page.view.centre)
        elif hand.chosen is None:
            return False
        elif key is Qt.Key.Key_Escape:
            self._walk.give_up()
            hand.give_up()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._walk.give_up()
            self._propose(hand.remove())
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._step(hand, key, modifiers)
        else:
            return False
        self._tell()
        self._page.update()
        return True

    def _step(self, hand: "WeedHand", key: Qt.Key, modifiers: Qt.KeyboardModifier) -> None:
        if not self._walk.is_on:
            hand.begin_walk()
        step = LONG_STEP_MM if modifiers & Qt.KeyboardModifier.ShiftModifier else STEP_MM
        hand.step(step if key is Qt.Key.Key_Up else -step)
        self._walk.go_on()

    def end_walk(self) -> None:
        """One step of undo for one walk by the arrow keys."""
        self._walk.end()

    def _walked(self) -> None:
        if self.hand is not None:
            self._propose(self.hand.drop())
        waiting, self._waiting = self._waiting, None
        if waiting is not None:
            self.take_up(waiting)

    def _tell(self) -> None:
        if self.hand is not None and self.hand.chosen is not None:
            words = self.hand.lines.said_of(self.hand.chosen)
            self._page.setAccessibleDescription(words)
            self._page.view.told.emit(words)

    def _propose(self, put: "Put | None") -> None:
        if put is not None:
            ((key, value),) = put.values
            self._page.desk.propose_value(key, value, put.words)

    def paint(self, painter: QPainter, seen: Seen, theme: Theme, hovered: int | None) -> None:
        """The line that is chosen or pointed at, across the sheet box; px."""
        hand = self.hand
        if hand is None:
            return
        marked = (hand.chosen, None if hand.is_dragged else hovered)
        for index in {index for index in marked if index is not None}:
            y, (left, _, right, _) = hand.lines.heights[index], hand.lines.box
            painter.setPen(QPen(theme.colour("accent"), 2, Qt.PenStyle.DashLine))
            painter.drawLine(seen.of(left, y), seen.of(right, y))
            painter.setBrush(theme.colour("accent"))
            painter.setPen(Qt.PenStyle.NoPen)
            for x in (left, right):
                painter.drawEllipse(seen.of(x, y), 4.0, 4.0)


def beside(at: QPointF) -> QPointF:
    """Where the words of a line in the hand begin: above its left end."""
    return at + QPointF(8.0, -8.0)
