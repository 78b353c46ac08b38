"""The one ruler of the book: mm above the shape's foot, and the height, which a hand can drag or type."""

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF, QRegion
from PySide6.QtWidgets import QLineEdit, QSizePolicy, QWidget

from app.desk.label import lettering, paint_label
from app.desk.layer import Layer
from app.desk.ruler_hands import RulerHands
from app.desk.theme import Theme, theme_of
from app.desk.view import CommonView, Seen
from core.errors import SamecutError

if TYPE_CHECKING:
    from app.desk.desk import Desk
    from core.shown import Shown

#: px between two numbered ticks, at least: two lines of lettering.
LEAST_GAP_PX = 44.0
#: mm between numbered ticks, of which the first that is wide enough is taken.
STEPS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)
#: A dragged height settles on whole mm; with Shift on tenths.
SETTLE_MM, FINE_MM = 1.0, 0.1
#: mm; the least and largest height that a drag gives, as the choice's own limits.
LEAST_MM, MOST_MM = 5.0, 2000.0
#: px within which the top tick is taken.
TAKE_PX = 14.0
#: px above and below the level of the hand within which its line and number lie.
LEVEL_PX = 48
KEY = "shape.height"


class Ruler(QWidget):
    """Drag the top tick, or type a height on it; arrow keys move it by 1 mm, with Shift by 0.1 mm.

    A drag anywhere else measures between two hands.
    """

    def __init__(self, desk: "Desk", view: CommonView) -> None:
        super().__init__()
        self.desk, self.view = desk, view
        self._dragged_mm: float | None = None
        self._seen_at_press: Seen | None = None
        self._refused = ""
        self._field = _HeightField(self)
        self.hands = RulerHands(self)
        self.setAccessibleName("ruler, height of the shape")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        self._still, self._level = Layer(), QRegion()
        for signal in (view.changed, desk.preview_changed, desk.shown_changed):
            signal.connect(self.update)
        view.hair_moved.connect(self._hair_moved)
        view.layers_changed.connect(self.update)

    @property
    def height_mm(self) -> float | None:
        """The height as it is drawn now; None when nothing is shown."""
        if self.desk.shown is None:
            return None
        return self._dragged_mm or self.desk.shown.size_mm[1] * self.desk.scale

    def y_of(self, above_foot_mm: float) -> float:
        """The px of a height above the shape's foot."""
        assert self.desk.shown is not None  # noqa: S101 - asked only when something is shown
        return self._seen().of(0.0, self.desk.shown.layout.shape_at[1] + above_foot_mm).y()

    def _seen(self) -> Seen:
        return self._seen_at_press or self.view.seen_on(self.size().toSizeF())

    # painting

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Ticks, numbers, the level of the hand, and the height."""
        del event
        painter, theme = QPainter(self), theme_of(self)
        self._still.ground = theme.colour("desk")
        what = (theme.name, self.height_mm, self.desk.shown is None or self.desk.shown.layout.shape_at)
        self._still.draw(painter, self, self._seen(), what, self._paint_still, is_hurried=False)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.desk.shown is not None:
            self.hands.paint(painter, theme)
            self._paint_hand(painter, theme, self.desk.shown)
            self._paint_height(painter, theme)
        painter.end()

    def _paint_still(self, painter: QPainter) -> None:
        if self.desk.shown is not None:
            self._paint_scale(painter, theme_of(self))
            self._paint_shape(painter, theme_of(self))

    def _hair_moved(self) -> None:
        """Paint only what lies about the level of the hand anew, and about that of the last time."""
        before, self._level = self._level, QRegion()
        if self.view.hair is not None:
            y = round(self.view.seen_on(self.size().toSizeF()).of(*self.view.hair).y())
            self._level = QRegion(0, y - LEVEL_PX, self.width(), 2 * LEVEL_PX)
        self.update(self._level.united(before))

    def _paint_scale(self, painter: QPainter, theme: Theme) -> None:
        px_per_mm = 1.0 / self.view.mm_per_px
        numbered = next((step for step in STEPS if step * px_per_mm >= LEAST_GAP_PX), STEPS[-1])
        small = numbered / 10.0 if numbered / 10.0 * px_per_mm >= 4.0 else numbered / 5.0
        foot = self.y_of(0.0)
        first = math.ceil((foot - self.height()) / px_per_mm / small)
        last = math.floor(foot / px_per_mm / small)
        painter.setFont(lettering(self))
        per_number = round(numbered / small)
        ticks: list[QLineF] = []
        for index in range(first, last + 1):
            y = foot - index * small * px_per_mm
            is_numbered = index % per_number == 0
            is_half = per_number == 10 and index % 5 == 0
            ticks += self._tick(y, 16.0 if is_numbered else 10.0 if is_half else 6.0)
            box = QRectF(0.0, y - 12.0, self.width(), 24.0)
            is_whole = QRectF(self.rect()).contains(box)  # a number cut by the ruler's end reads as another
            if is_numbered and is_whole and not self._is_by_height(y):
                painter.setPen(theme.colour("quiet"))
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, f"{index * small:g}")
        painter.setPen(QPen(theme.colour("quiet"), 0))
        painter.drawLines(ticks)

    def _is_by_height(self, y: float) -> bool:
        assert self.height_mm is not None  # noqa: S101 - painted only when something is shown
        return abs(y - self.y_of(self.height_mm)) < 26.0

    def _tick(self, y: float, length: float) -> tuple[QLineF, QLineF]:
        return QLineF(0.0, y, length, y), QLineF(self.width() - length, y, self.width(), y)

    def _paint_shape(self, painter: QPainter, theme: Theme) -> None:
        """The shape's own extent along both edges, in the accent."""
        assert self.height_mm is not None  # noqa: S101 - painted only when something is shown
        foot, top = self.y_of(0.0), self.y_of(self.height_mm)
        painter.setPen(QPen(theme.colour("accent"), 3))
        for x in (1.5, self.width() - 1.5):
            painter.drawLine(QPointF(x, foot), QPointF(x, top))
        painter.setPen(QPen(theme.colour("accent"), 1))
        painter.drawLine(QPointF(0.0, foot), QPointF(self.width(), foot))

    def _paint_hand(self, painter: QPainter, theme: Theme, shown: "Shown") -> None:
        """The level of the pointer, with its number."""
        if self.view.hair is None or self._dragged_mm is not None:
            return
        above = self.view.hair[1] - shown.layout.shape_at[1]
        y = self.y_of(above)
        painter.setPen(QPen(theme.colour("accent"), 0))
        painter.drawLine(QPointF(0.0, y), QPointF(self.width(), y))
        words = f"{above:.1f}"
        wide = painter.fontMetrics().horizontalAdvance(words) + 16.0
        paint_label(painter, self, QPointF((self.width() - wide) / 2.0, y + 13.0), words, theme)

    def _paint_height(self, painter: QPainter, theme: Theme) -> None:
        """The top tick as a flag with the height on it."""
        assert self.height_mm is not None  # noqa: S101 - painted only when something is shown
        y, wide = self.y_of(self.height_mm), float(self.width())
        flag = QPolygonF(
            [
                QPointF(0.0, y),
                QPointF(9.0, y - 13.0),
                QPointF(wide - 9.0, y - 13.0),
                QPointF(wide, y),
                QPointF(wide - 9.0, y + 13.0),
                QPointF(9.0, y + 13.0),
            ]
        )
        painter.setPen(
            QPen(theme.colour("ink" if self.hasFocus() else "accent"), 2 if self.hasFocus() else 1)
        )
        painter.setBrush(theme.colour("accent"))
        painter.drawPolygon(flag)
        painter.setFont(lettering(self, QFont.Weight.DemiBold))
        painter.setPen(theme.colour("on_accent"))
        number = _told(self.height_mm)
        has_room = painter.fontMetrics().horizontalAdvance(f"{number} mm") < wide - 12.0
        words = f"{number} mm" if has_room else number
        painter.drawText(flag.boundingRect(), Qt.AlignmentFlag.AlignCenter, words)
        if self._refused:
            paint_label(painter, self, QPointF(0.0, y + 48.0), self._refused, theme)

    # the hand

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take the top tick, a hand, or begin to measure."""
        if self.height_mm is None or event.button() is not Qt.MouseButton.LeftButton:
            return
        if abs(event.position().y() - self.y_of(self.height_mm)) <= TAKE_PX:
            self._seen_at_press, self.view.is_held = self._seen(), True
            self._dragged_mm = self.height_mm
        else:
            self.hands.press(event.position().y())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """The height follows the hand, and both pages follow the height."""
        y = event.position().y()
        if self.hands.is_dragged:
            self.hands.drag(y)
            return
        if self._dragged_mm is None:
            self._tell(y)
            return
        fine = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        self._preview(self.mm_at(y), FINE_MM if fine else SETTLE_MM)

    def _tell(self, y: float) -> None:
        """What a press here would take, in words and by the pointer."""
        if self.height_mm is None:
            return
        is_near = abs(y - self.y_of(self.height_mm)) <= TAKE_PX
        is_hand = self.hands.near(y) is not None
        self.setCursor(Qt.CursorShape.SizeVerCursor if is_near or is_hand else Qt.CursorShape.ArrowCursor)
        height = f"height {_told(self.height_mm)} mm · drag or type"
        self.view.told.emit(height if is_near else self.hands.said() or "drag to measure")

    def mm_at(self, y: float) -> float:
        """Mm above the shape's foot of a px of the ruler."""
        assert self.desk.shown is not None  # noqa: S101 - dragged only when something is shown
        return self._seen().back(QPointF(0.0, y))[1] - self.desk.shown.layout.shape_at[1]

    def _preview(self, height_mm: float, step_mm: float) -> None:
        settled = round(round(height_mm / step_mm) * step_mm, 6)
        self._dragged_mm = min(max(settled, LEAST_MM), MOST_MM)
        self.desk.height_preview(self._dragged_mm)
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """The height becomes the Job's."""
        del event
        self.hands.drop()
        wanted, self._dragged_mm, self._seen_at_press = self._dragged_mm, None, None
        self.view.is_held = False
        if wanted is not None:
            self._propose(f"{_told(wanted)} mm")

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Type the height."""
        del event
        self.hands.leave()
        self.type_height("")

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Digits and Enter type a height; arrows move it; Escape gives a drag up."""
        key, height = Qt.Key(event.key()), self.height_mm
        fine = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        if height is None:
            super().keyPressEvent(event)
        elif key is Qt.Key.Key_Escape and self._dragged_mm is not None:
            self._dragged_mm = self._seen_at_press = None
            self.view.is_held = False
            self.desk.height_preview(None)
        elif self.hands.keyed(key, event.modifiers()):
            self.update()
        elif event.text().isdigit() or key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.type_height(event.text().strip())
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            step = FINE_MM if fine else SETTLE_MM
            self._propose(f"{_told(height + (step if key is Qt.Key.Key_Up else -step))} mm")
        else:
            super().keyPressEvent(event)

    def type_height(self, begun: str) -> None:
        """Open the field on the top tick."""
        if self.height_mm is None:
            return
        y = min(max(self.y_of(self.height_mm), 20.0), self.height() - 20.0)
        self._field.setGeometry(0, round(y) - 17, self.width(), 34)
        self._field.begin(begun or f"{_told(self.height_mm)} mm", is_whole=not begun)

    def typed(self, text: str) -> None:
        """The height as it was typed; refused in words where it is none."""
        self._propose(text)
        self.setFocus()

    def _propose(self, text: str) -> None:
        self._refused = ""
        try:
            self.desk.propose(KEY, text)
        except SamecutError as error:
            self.desk.height_preview(None)
            self._refused = "no height"
            self.setToolTip(str(error))
            self.view.told.emit(str(error))
        self.update()


class _HeightField(QLineEdit):
    """Stands on the top tick while a height is typed."""

    def __init__(self, ruler: Ruler) -> None:
        super().__init__(ruler)
        self._ruler = ruler
        self.setAccessibleName("height")
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.hide()
        self.editingFinished.connect(self._finished)

    def begin(self, text: str, *, is_whole: bool) -> None:
        """Begin with this text, all of it chosen or the hand behind it."""
        self.setText(text)
        self.show()
        self.setFocus()
        if is_whole:
            self.selectAll()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Escape gives the text up; Enter ends here and does not open the field again."""
        key = Qt.Key(event.key())
        if key is Qt.Key.Key_Escape:
            self.setText("")
            self._finished()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._finished()
        else:
            super().keyPressEvent(event)

    def _finished(self) -> None:
        if self.isHidden():
            return
        text = self.text().strip()
        self.hide()
        if text:
            self._ruler.typed(text)
        else:
            self._ruler.setFocus()


def _told(height_mm: float | None) -> str:
    return "" if height_mm is None else f"{height_mm:.2f}".rstrip("0").rstrip(".")
