"""The line below: where the pointer is, what is being done, and what was done last."""

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from app.desk.desk import Desk
from app.desk.spoken import is_in_inches
from app.desk.view import INCH_MM

#: ms that something is being done before it is said: what is shorter would only flicker.
PATIENCE_MS = 300

#: ms that something is being done before it can be stopped here.
LONG_MS = 2000
#: A scale nearer to 1 than this is 1.
SAME = 1e-6
#: px; the same with and without buttons, so that the pages above stay where they are.
HIGH_PX = 36


class Status(QWidget):
    """Says and offers undo and redo by name; scale_asked() when the scale is pressed."""

    scale_asked = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.setObjectName("status")
        self._desk = desk
        self._pointer, self._under, self._doing = QLabel(), QLabel(), QLabel()
        self._pointer.setMinimumWidth(190)
        self._doing.setObjectName("quiet")
        self.scale = _button("T: true size; press to set it by a bank card", self.scale_asked.emit)
        self.scale.hide()
        self._undo = _button("Ctrl+Z", desk.undo)
        self._redo = _button("Ctrl+Shift+Z", desk.redo)
        self.stop = _button("stops what is being made; nothing that is written is touched", desk.give_up)
        self.stop.setText("stop")
        self.stop.setAccessibleName("stop what is being made")
        self.stop.hide()
        self._stage = ""
        self._long = QTimer(self, singleShot=True, interval=LONG_MS)
        self._long.timeout.connect(self._offer_stop)
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(PATIENCE_MS)
        self._patience.timeout.connect(self._say)
        self.setFixedHeight(HIGH_PX)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 2, 12, 4)
        row.addWidget(self._pointer)
        row.addWidget(self.scale)
        row.addWidget(self._under, 1)
        row.addWidget(self._doing, 1)
        row.addWidget(self.stop)
        row.addWidget(self._undo)
        row.addWidget(self._redo)
        desk.stage_changed.connect(self._begin)
        desk.history_changed.connect(self.refresh)
        self.refresh()

    @property
    def doing(self) -> str:
        """What is said to be done just now."""
        return self._doing.text()

    def refresh(self) -> None:
        """Name what undo and redo would do."""
        _offer(self._undo, "undo", self._desk.undo_words)
        _offer(self._redo, "redo", self._desk.redo_words)

    def point(self, at: tuple[float, float] | None) -> None:
        """Say where the pointer is, given in mm of the frame, in the unit of the height; None: on no page."""
        if at is None:
            self._pointer.clear()
        elif is_in_inches(self._desk.job):
            self._pointer.setText(f"x {at[0] / INCH_MM:.3f}   y {at[1] / INCH_MM:.3f} in")
        else:
            self._pointer.setText(f"x {at[0]:.2f}   y {at[1]:.2f} mm")

    def show_scale(self, times: float) -> None:
        """Say how many times larger than true size the pages are."""
        is_true = abs(times - 1.0) < SAME
        self.scale.setText("true size" if is_true else f"{times:.2g} \u00d7 true size")
        self.scale.show()

    def tell(self, words: str) -> None:
        """Say what is under the pointer."""
        self._under.setText(words)

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Nothing is waited for that is not seen."""
        self._patience.stop()
        self._long.stop()
        super().hideEvent(event)

    def _begin(self, stage: str) -> None:
        self._stage = stage
        if not stage:
            self._patience.stop()
            self._long.stop()
            self._doing.clear()
            self.stop.hide()
        elif self._doing.text():
            self._say()
        elif not self._patience.isActive():
            self._patience.start()
        if stage and not self._long.isActive() and self.stop.isHidden():
            self._long.start()

    def _offer_stop(self) -> None:
        self.stop.setVisible(bool(self._stage) and self._desk.can_be_given_up)

    def _say(self) -> None:
        self._doing.setText(f"{self._stage} …")


def _offer(button: QPushButton, verb: str, words: str) -> None:
    button.setVisible(bool(words))
    shorter = words if len(words) <= 40 else f"{words[:38]}…"
    button.setText(f"{verb}: {shorter}")


def _button(keys: str, pressed: object) -> QPushButton:
    button = QPushButton()
    button.setObjectName("plain")
    button.setToolTip(keys)
    button.clicked.connect(lambda _checked=False: pressed())  # type: ignore[operator]
    return button
