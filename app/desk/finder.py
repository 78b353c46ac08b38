"""Finds a choice by its name: a line to type in, the choices that fit, Return opens its card."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QPushButton, QWidget

from app.desk.card import CARD_PX, Popover
from app.desk.names import name_of
from core.job.job import CHOICES

#: Lines that are offered at once.
MOST = 8
#: px of a line's text.
ROW_PX = CARD_PX - 48


def found(wanted: str) -> tuple[str, ...]:
    """Keys of the choices whose name, key or reason has every word that was typed; names first."""
    words = wanted.casefold().split()
    by_name = [key for key in CHOICES if all(word in f"{name_of(key)} {key}".casefold() for word in words)]
    by_help = [
        key for key, choice in CHOICES.items() if all(word in choice.help.casefold() for word in words)
    ]
    return tuple(dict.fromkeys((*by_name, *by_help)))[:MOST]


class Finder(Popover):
    """choice_asked(key) when one is taken."""

    choice_asked = Signal(str)

    def __init__(self, window: QWidget, opener: QWidget) -> None:
        super().__init__(window, opener, "Find a choice by its name")
        self.line = QLineEdit()
        self.line.setAccessibleName("name of a choice")
        self.line.textEdited.connect(self._look)
        self.line.returnPressed.connect(lambda: self._take(0))
        self.body.addWidget(self.line)
        self._rows = [self._row(number) for number in range(MOST)]
        self._keys: tuple[str, ...] = ()
        self._look("")

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Down and up go through what was found."""
        steps = {Qt.Key.Key_Down: True, Qt.Key.Key_Up: False}
        key = Qt.Key(event.key())
        if key in steps:
            self.focusNextPrevChild(steps[key])
            return
        super().keyPressEvent(event)

    def _row(self, number: int) -> QPushButton:
        button = QPushButton()
        button.setObjectName("plain")
        button.clicked.connect(lambda _checked=False: self._take(number))
        self.body.addWidget(button)
        return button

    def _look(self, text: str) -> None:
        self._keys = found(text)
        for number, row in enumerate(self._rows):
            row.setVisible(number < len(self._keys))
            if number < len(self._keys):
                key = self._keys[number]
                told = f"{name_of(key)}  ·  {CHOICES[key].help}"
                row.setText(row.fontMetrics().elidedText(told, Qt.TextElideMode.ElideRight, ROW_PX))
                row.setToolTip(CHOICES[key].help)
        if self.isVisible():
            self.stand()

    def _take(self, number: int) -> None:
        if number < len(self._keys):
            key = self._keys[number]
            self.shut()
            self.choice_asked.emit(key)
