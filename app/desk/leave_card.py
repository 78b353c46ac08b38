"""The card that asks, once, what becomes of work that is saved nowhere and is about to go."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from app.desk.card import Popover


class LeaveCard(Popover):
    """save_asked() or leave_asked(); Escape stays."""

    save_asked = Signal()
    leave_asked = Signal()

    def __init__(self, window: QWidget, opener: QWidget, name: str, goes: str = "Close") -> None:
        super().__init__(window, opener, "Before you go")
        words = QLabel(f"What was changed about {name} is in no saved Job and in no kit.")
        words.setWordWrap(True)
        self.body.addWidget(words)
        self.save = _button("Save the Job", "main")
        self.save.clicked.connect(lambda _checked=False: self._ask(self.save_asked))
        self.leave = _button(f"{goes} without saving")
        self.leave.clicked.connect(lambda _checked=False: self._ask(self.leave_asked))
        self.stay = _button("Stay")
        self.stay.clicked.connect(lambda _checked=False: self.shut())
        row = QHBoxLayout()
        for button in (self.save, self.leave, self.stay):
            row.addWidget(button)
        row.addStretch(1)
        self.body.addLayout(row)

    def _ask(self, signal: object) -> None:
        self.shut()
        signal.emit()  # type: ignore[attr-defined] # a bound signal; its type has no name here


def _button(words: str, name: str = "") -> QPushButton:
    button = QPushButton(words)
    button.setObjectName(name)
    return button
