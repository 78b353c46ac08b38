"""The levels on the depth strip: a grip for each at its right end, dragged, walked by keys, said in words."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from app.desk.label import paint_label
from app.desk.theme import Theme
from app.desk.walk import Walk

if TYPE_CHECKING:
    from app.desk.depth_strip import DepthStrip
    from app.desk.level_hand import Level, LevelHand
    from core.shown import Shown

#: mm of one press of an arrow key, and with Shift.
STEP_MM, LONG_STEP_MM = 0.1, 1.0
#: px: half a grip's height, its length, within which a level is taken, and beside a tab's mark.
GRIP_PX, LONG_PX, REACH_PX, BESIDE_PX = 5.0, 10.0, 7.0, 6.0


class StripLevels:
    """What the depth strip asks about its levels."""

    def __init__(self, strip: "DepthStrip") -> None:
        self._strip = strip
        self.hand: LevelHand | None = None
        self._walk = Walk(strip.desk, self._walked)
        self._waiting: Shown | None = None

    def take_up(self, shown: "Shown | None") -> None:
        """Another Shown; what was chosen stays so."""
        if self._walk.is_on:
            self._waiting = shown  # what walks stays in the hand until it has come to its end
            return
        before, self.hand = self.hand, None
        if shown is None:
            return
        from app.desk.level_hand import LevelHand  # noqa: PLC0415 - with the first Shown

        self.hand = LevelHand(shown)
        if before is not None:
            self.hand.go_on_from(before)

    def level_at(self, at: QPointF) -> int | None:
        """The level whose grip, or whose tab's top, lies there."""
        hand, (section, down) = self.hand, self._strip.section()
        if hand is None or not hand.levels or down <= 0.0:
            return None
        is_on_grip = section.right() - 2.0 <= at.x() <= section.right() + LONG_PX + 4.0
        if not (is_on_grip or self._strip.is_by_tab(at.x(), BESIDE_PX)):
            return None
        found = hand.near((section.top() - at.y()) / down, REACH_PX / down)
        is_tab = found is not None and hand.levels[found].key == "part.tab_height"
        return found if is_on_grip or is_tab else None

    def pressed(self, at: QPointF) -> bool:
        """Whether a level was taken."""
        self.end_walk()
        return self.hand is not None and self.hand.take(self.level_at(at))

    def dragged(self, at: QPointF) -> None:
        """What was taken follows."""
        section, down = self._strip.section()
        if self.hand is not None:
            self.hand.drag((section.top() - at.y()) / down)
            self._tell()

    def released(self) -> bool:
        """The level becomes the Job's; False where none was moved."""
        moved = self.hand.drop() if self.hand is not None and self.hand.is_dragged else None
        self._propose(moved)
        return moved is not None

    def leave(self) -> None:
        """None is chosen any more."""
        if self.hand is not None:
            self.hand.chosen = None

    @property
    def is_dragged(self) -> bool:
        """Whether one of them is in the hand."""
        return self.hand is not None and self.hand.is_dragged

    def keyed(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        """Return chooses the next level, up and down move it, Escape gives it up."""
        hand = self.hand
        if hand is None:
            return False
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.end_walk()
            hand.choose_next()
        elif hand.chosen is None:
            return False
        elif key is Qt.Key.Key_Escape:
            self._walk.give_up()
            hand.give_up()
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            if not self._walk.is_on:
                hand.begin_walk()
            step = LONG_STEP_MM if modifiers & Qt.KeyboardModifier.ShiftModifier else STEP_MM
            hand.step(step if key is Qt.Key.Key_Up else -step)
            self._walk.go_on()
        else:
            return False
        self._tell()
        return True

    def end_walk(self) -> None:
        """One step of undo for one walk by the arrow keys."""
        self._walk.end()

    def _walked(self) -> None:
        if self.hand is not None:
            self._propose(self.hand.drop())
        waiting, self._waiting = self._waiting, None
        if waiting is not None:
            self.take_up(waiting)

    def _propose(self, level: "Level | None") -> None:
        if level is not None:
            self._strip.desk.propose_value(level.key, level.wanted(), level.said())

    def _tell(self) -> None:
        if self.hand is not None and (level := self.hand.in_hand) is not None:
            self._strip.setAccessibleDescription(level.said())
        self._strip.update()

    # painting, in px

    def paint(self, painter: QPainter, theme: Theme, pointer: QPointF | None) -> None:
        """A grip for each level; a line across, and its number, for the one in the hand or pointed at."""
        hand, (section, down) = self.hand, self._strip.section()
        if hand is None:
            return
        near = self.level_at(pointer) if pointer is not None and not hand.is_dragged else None
        for index, level in enumerate(hand.levels):
            is_marked = index in (hand.chosen, near)
            at = QPointF(section.right(), section.top() - level.z * down)
            if is_marked:
                painter.setPen(QPen(theme.colour("accent"), 1.4, Qt.PenStyle.DashLine))
                painter.drawLine(QPointF(section.left(), at.y()), at)
            painter.setPen(QPen(theme.colour("accent" if is_marked else "quiet"), 1.2))
            painter.setBrush(theme.colour("accent" if is_marked else "card"))
            painter.drawPolygon(_grip(at))
        shown = hand.chosen if hand.chosen is not None else near
        if shown is not None:
            level = hand.levels[shown]
            at = QPointF(section.right() - 8.0, section.top() - level.z * down - 4.0)
            side = Qt.AlignmentFlag.AlignRight
            paint_label(painter, self._strip, at, level.said(), theme, side)


def _grip(at: QPointF) -> list[QPointF]:
    """A pointer that lies on the section's right side."""
    box = QRectF(at.x() + GRIP_PX, at.y() - GRIP_PX, LONG_PX - GRIP_PX, 2.0 * GRIP_PX)
    return [at, box.topLeft(), box.topRight(), box.bottomRight(), box.bottomLeft()]
