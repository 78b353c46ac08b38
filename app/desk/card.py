"""A card: a popover under a bracket of the sentence, with the choices that bracket is about."""

from collections.abc import Sequence

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QFrame, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.desk.cards import Card
from app.desk.control import Control
from app.desk.desk import Desk
from app.desk.second_row import SecondRow
from app.desk.table_row import TABLES, TableRow

#: px: room for a name, a field and both units.
CARD_PX = 620
MARGIN_PX = 12
#: px that a card comes nearer to the words than the strip's own edge.
CLOSER_PX = 6


class Popover(QFrame):
    """Stands in the window under what opened it; closes by Escape or a press elsewhere."""

    closed = Signal()
    wide_px = CARD_PX

    def __init__(self, window: QWidget, opener: QWidget, title: str) -> None:
        super().__init__(window)
        self.setObjectName("card")
        self.setAutoFillBackground(True)
        self.setAccessibleName(title)
        self._window, self._opener = window, opener
        self._is_shut = self._is_listening = False
        self.body = QVBoxLayout(self)
        self.body.setContentsMargins(16, 12, 16, 12)
        self.heading = QLabel(title)
        self.heading.setObjectName("title")
        self.body.addWidget(self.heading)

    def stand(self) -> None:
        """Take the room that is needed, under the opener and inside the window."""
        window = self._window
        row = self._opener.parentWidget() or self._opener
        below = QPoint(self._opener.mapTo(window, QPoint(0, 0)).x(), row.mapTo(window, QPoint(0, 0)).y())
        below.setY(below.y() + row.height() - CLOSER_PX)
        width = min(self.wide_px, window.width() - 2 * MARGIN_PX)
        self.setFixedWidth(width)
        room = window.height() - below.y() - MARGIN_PX
        height = min(self._wanted_height(width), room)
        left = max(MARGIN_PX, min(below.x(), window.width() - width - MARGIN_PX))
        self.setGeometry(left, below.y(), width, height)
        self.show()
        self.raise_()
        if not self._is_listening:  # not before: the card that makes room gives the keyboard back first
            self._is_listening = True
            _application().focusChanged.connect(self._focus_went)

    def _wanted_height(self, width: int) -> int:
        return max(self.sizeHint().height(), self.heightForWidth(width))

    def shut(self) -> None:
        """Go away."""
        if self._is_shut:
            return
        self._is_shut = True
        if self._is_listening:
            _application().focusChanged.disconnect(self._focus_went)
        if self.isAncestorOf(QApplication.focusWidget() or self._opener):
            self._opener.setFocus()
        self.hide()
        self.deleteLater()
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Escape closes."""
        if event.key() == Qt.Key.Key_Escape:
            self.shut()
            return
        super().keyPressEvent(event)

    def _focus_went(self, _old: QWidget | None, now: QWidget | None) -> None:
        """The keyboard went elsewhere in this window: the maker has turned to something else."""
        if now is None or now is self or self.isAncestorOf(now) or now is self._opener:
            return
        if now.window() is self.window():
            self.shut()


#: Cards of machines that a gauge makes agree.
GAUGED = ("router", "films")


class CardView(Popover):
    """The controls of one card, the rest of its choices behind "more"; gauge_asked() on a machine's."""

    gauge_asked = Signal()

    def __init__(self, window: QWidget, opener: QWidget, card: Card, desk: Desk) -> None:
        super().__init__(window, opener, card.title)
        self._card = card
        self.controls: dict[str, Control] = {}
        self._inside = QWidget()
        self._inside.setObjectName("scrolled")
        self._column = QVBoxLayout(self._inside)
        self._column.setContentsMargins(0, 0, 8, 0)
        self._scroll = scrolled(self._inside)
        self.body.addWidget(self._scroll)
        if card.name == "films":
            self._column.addWidget(SecondRow(desk))
        self.table: TableRow | None = None
        if card.name in TABLES:
            self.table = TableRow(desk, TABLES[card.name])
            self.table.folded.connect(self.stand)
            self._column.addWidget(self.table)
        if card.name in GAUGED:
            self._column.addWidget(self._gauge_button(), 0, Qt.AlignmentFlag.AlignLeft)
        self._add(card.few, desk)
        self._fold = self._fold_button(len(card.more))
        self._more = QWidget()
        self._more.setObjectName("scrolled")
        self._column.addWidget(self._more)
        column, self._column = self._column, QVBoxLayout(self._more)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._add(card.more, desk)
        self._more.hide()
        column.addStretch(1)

    def show_choice(self, key: str) -> None:
        """Unfold if need be, bring the control in sight and give it the keyboard."""
        if key in self._card.more:
            self._fold.setChecked(True)
        control = self.controls[key]
        self._scroll.ensureWidgetVisible(control)
        control.field.setFocus()
        if hasattr(control.field, "selectAll"):
            control.field.selectAll()

    def unfold(self, is_open: bool) -> None:  # noqa: FBT001 - Qt hands it over
        """Show the rest of the choices, or fold them away."""
        self._more.setVisible(is_open)
        self._fold.setText("fewer" if is_open else f"{len(self._card.more)} more")
        self.stand()

    def _add(self, keys: Sequence[str], desk: Desk) -> None:
        for key in keys:
            control = Control(desk, key)
            self.controls[key] = control
            self._column.addWidget(control)

    def _gauge_button(self) -> QPushButton:
        button = QPushButton("gauge: measure what router and cutter do, and make them agree…")
        button.setObjectName("plain")
        button.clicked.connect(lambda _checked=False: self.gauge_asked.emit())
        return button

    def _fold_button(self, count: int) -> QPushButton:
        button = QPushButton(f"{count} more")
        button.setObjectName("plain")
        button.setCheckable(True)
        button.toggled.connect(self.unfold)
        self._column.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        button.setVisible(count > 0)
        return button

    def _wanted_height(self, width: int) -> int:
        inside = width - 16 - 16 - 10
        asked = max(self._inside.heightForWidth(inside), self._inside.sizeHint().height())
        return asked + self.heading.sizeHint().height() + 12 + 12 + self.body.spacing() + 6


def scrolled(inside: QWidget) -> QScrollArea:
    """The widget in an area that scrolls up and down, without a frame."""
    scroll = QScrollArea()
    scroll.setWidgetResizable(True)
    scroll.setFrameShape(QFrame.Shape.NoFrame)
    scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    scroll.setWidget(inside)
    return scroll


def _application() -> QApplication:
    application = QApplication.instance()
    assert isinstance(application, QApplication)  # noqa: S101 - there is a widget, so there is one
    return application
