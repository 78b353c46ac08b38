"""Two hands on the ruler to measure between: levels right across both pages, and what lies between."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from app.desk.label import paint_label
from app.desk.theme import Theme

if TYPE_CHECKING:
    from app.desk.ruler import Ruler

#: px within which a hand is taken, and how far one must have been dragged to be left standing.
TAKE_PX, LEAST_PX = 8.0, 3.0
#: mm of one press of a key.
STEP_MM = 0.1
#: px of the pointer at each end of a hand.
TIP_PX = 7.0


class RulerHands:
    """The levels are mm above the shape's foot and kept in the view, since both pages draw them."""

    def __init__(self, ruler: "Ruler") -> None:
        self._ruler = ruler
        self._taken: int | None = None

    @property
    def levels(self) -> tuple[float, float] | None:
        """Where the hands stand."""
        return self._ruler.view.hands

    @property
    def is_dragged(self) -> bool:
        """Whether one of them is in the hand."""
        return self._taken is not None

    def near(self, y: float) -> int | None:
        """The hand within reach of a level of the ruler, px."""
        if self.levels is None:
            return None
        gaps = [abs(self._ruler.y_of(level) - y) for level in self.levels]
        return gaps.index(min(gaps)) if min(gaps) <= TAKE_PX else None

    def press(self, y: float) -> None:
        """Take a hand, or begin to measure from here."""
        self._taken = self.near(y)
        if self._taken is None:
            level = self._ruler.mm_at(y)
            self._taken = 1
            self._put((level, level))

    def drag(self, y: float) -> None:
        """The taken hand follows."""
        levels = self.levels
        if levels is None or self._taken is None:
            return
        level = round(self._ruler.mm_at(y), 2)
        self._put((level, levels[1]) if self._taken == 0 else (levels[0], level))

    def drop(self) -> None:
        """Let go; two hands in one place go away."""
        self._taken = None
        if self.levels is not None:
            low, high = (self._ruler.y_of(level) for level in self.levels)
            if abs(low - high) < LEAST_PX:
                self._put(None)

    def leave(self) -> bool:
        """Take both away; False where none stand."""
        had, self._taken = self.levels is not None, None
        self._put(None)
        return had

    def keyed(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        """H: foot and top, or none; Page Up and Down move the second hand, with Shift the first."""
        levels = self.levels
        if key is Qt.Key.Key_H:
            self._put((0.0, self._ruler.height_mm or 0.0) if levels is None else None)
        elif key is Qt.Key.Key_Escape:
            return self.leave()
        elif levels is not None and key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            step = STEP_MM if key is Qt.Key.Key_PageUp else -STEP_MM
            is_first = bool(modifiers & Qt.KeyboardModifier.ShiftModifier)
            low, high = levels
            self._put((round(low + step, 6), high) if is_first else (low, round(high + step, 6)))
        else:
            return False
        return True

    def said(self) -> str:
        """What lies between, in words."""
        if self.levels is None:
            return ""
        low, high = sorted(self.levels)
        return f"{high - low:.2f} mm from {low:.2f} to {high:.2f}"

    def paint(self, painter: QPainter, theme: Theme) -> None:
        """Both hands, a line between them and its length; the painter stands in the ruler's px."""
        if self.levels is None:
            return
        wide = float(self._ruler.width())
        first, second = (self._ruler.y_of(level) for level in self.levels)
        painter.setPen(QPen(theme.colour("ink"), 1))
        painter.setBrush(theme.colour("ink"))
        painter.drawLine(QPointF(wide / 2.0, first), QPointF(wide / 2.0, second))
        for y in (first, second):
            painter.drawLine(QPointF(0.0, y), QPointF(wide, y))
            for x, way in ((0.0, 1.0), (wide, -1.0)):
                tip = [QPointF(x + way * TIP_PX, y), QPointF(x, y - TIP_PX), QPointF(x, y + TIP_PX)]
                painter.drawPolygon(QPolygonF(tip))
        words = f"{abs(self.levels[1] - self.levels[0]):.2f}"
        long = painter.fontMetrics().horizontalAdvance(words) + 16.0
        at = QPointF((wide - long) / 2.0, (first + second) / 2.0 + 13.0)
        paint_label(painter, self._ruler, at, words, theme)

    def _put(self, levels: tuple[float, float] | None) -> None:
        self._ruler.view.measure(levels)
        self._ruler.view.told.emit(self.said())


def paint_levels(painter: QPainter, width: float, levels_y: tuple[float, float], theme: Theme) -> None:
    """The hands' levels right across a page, px, and what lies between them faintly tinted."""
    first, second = sorted(levels_y)
    between = theme.colour("accent")
    between.setAlpha(18)
    painter.fillRect(QRectF(0.0, first, width, second - first), between)
    painter.setPen(QPen(theme.colour("ink"), 1, Qt.PenStyle.DashLine))
    for y in (first, second):
        painter.drawLine(QPointF(0.0, y), QPointF(width, y))
