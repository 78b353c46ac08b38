"""The handle under the ruler: slides the film over the part, and shows the misfit while it is held there."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEasingCurve, QPointF, QRectF, QSize, Qt, QVariantAnimation
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from app.desk.label import lettering
from app.desk.theme import theme_of
from app.desk.view import CommonView

if TYPE_CHECKING:
    from app.desk.desk import Desk

#: px of a drag that closes the book.
TRAVEL_PX = 160.0
#: ms from open to closed.
CLOSE_MS = 420
#: px; a shorter way is a press, not a drag.
PRESS_PX = 4.0
HIGH_PX = 74


class BookHandle(QWidget):
    """Drag to the left, or press, or the space bar: the book closes and opens. M: the misfit, enlarged."""

    def __init__(self, desk: "Desk", view: CommonView) -> None:
        super().__init__()
        self.desk, self.view = desk, view
        self._from: float | None = None
        self._closed_at_press = 0.0
        self._way = 0.0
        self._motion = QVariantAnimation(self)
        self._motion.setDuration(CLOSE_MS)
        self._motion.setEasingCurve(QEasingCurve.Type.InOutCubic)
        self._motion.valueChanged.connect(lambda share: view.close_book(float(share)))
        self.setAccessibleName("close the book: slide the film over the part")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.SizeHorCursor)
        self.setToolTip("Drag or press: lay the film on the part. Hold it there: misfit, 20 times as large.")
        for signal in (view.book_changed, view.layers_changed, desk.shown_changed):
            signal.connect(self.update)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Two lines of words and a grip."""
        return QSize(90, HIGH_PX)

    def slide_to(self, share: float) -> None:
        """Close (1) or open (0) the book by itself."""
        self._motion.stop()
        self._motion.setStartValue(self.view.closed)
        self._motion.setEndValue(share)
        self._motion.start()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """A grip with an arrow both ways, and what it does."""
        del event
        if self.desk.shown is None:
            return
        painter, theme = QPainter(self), theme_of(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), theme.colour("desk"))
        grip = QRectF(10.0, 8.0, self.width() - 20.0, 30.0)
        painter.setPen(
            QPen(theme.colour("accent" if self.hasFocus() else "line"), 2 if self.hasFocus() else 1)
        )
        painter.setBrush(theme.colour("card"))
        painter.drawRoundedRect(grip, 15.0, 15.0)
        self._paint_arrows(painter, grip)
        painter.setFont(lettering(self))
        painter.setPen(theme.colour("quiet"))
        words = "open" if self.view.closed >= 0.5 else "close"
        painter.drawText(QRectF(0.0, 42.0, self.width(), 24.0), Qt.AlignmentFlag.AlignCenter, words)
        painter.end()

    def _paint_arrows(self, painter: QPainter, grip: QRectF) -> None:
        middle, theme = grip.center(), theme_of(self)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.colour("accent"))
        for side in (-1.0, 1.0):
            tip = middle + QPointF(side * 20.0, 0.0)
            foot = middle + QPointF(side * 12.0, 0.0)
            up = QPointF(0.0, 5.5)
            painter.drawPolygon(QPolygonF([tip, foot + up, foot - up]))
        painter.drawRect(QRectF(middle.x() - 12.0, middle.y() - 1.0, 24.0, 2.0))

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take the handle."""
        if event.button() is Qt.MouseButton.LeftButton and self.desk.shown is not None:
            self._motion.stop()
            self._from = event.globalPosition().x()
            self._closed_at_press, self._way = self.view.closed, 0.0

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """The film follows; held at the end, the misfit shows."""
        if self._from is None:
            return
        way = event.globalPosition().x() - self._from
        self._way = max(self._way, abs(way))
        if self._way >= PRESS_PX:
            self.view.close_book(self._closed_at_press - way / TRAVEL_PX)
            self.view.show_misfit(self.view.closed >= 1.0)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Let go: the film falls to the nearer side; a mere press turns it over."""
        del event
        if self._from is None:
            return
        self._from = None
        self.view.show_misfit(False)
        was_pressed = self._way < PRESS_PX
        is_closing = self.view.closed < 0.5 if was_pressed else self.view.closed >= 0.5
        self.slide_to(1.0 if is_closing else 0.0)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Space: close or open; M: the misfit while the book is closed."""
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Space, Qt.Key.Key_Return):
            self.slide_to(0.0 if self.view.closed >= 0.5 else 1.0)
        elif key is Qt.Key.Key_M:
            self.view.show_misfit(not self.view.has_misfit)
        else:
            super().keyPressEvent(event)

    def hideEvent(self, event: object) -> None:  # noqa: N802 - Qt's name
        """Nothing moves that is not seen."""
        del event
        self._motion.stop()
