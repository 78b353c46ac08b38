"""Fields made from a choice's declaration: text as people write it, or a row of words to press.

A field says what the hand did by said(text); shows() puts a value in without saying anything.
"""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from core.job.choice import Choice
from core.job.kinds import Name, Several, Word, YesNo
from core.job.seen import PicturePoints

#: px that a row of words may take in a card, and between two words.
ROW_PX, GAP_PX = 340, 4


class TextField(QLineEdit):
    """Takes text; Return or leaving it says it, Escape brings back what stood there."""

    said = Signal(str)

    def __init__(self, choice: Choice) -> None:
        super().__init__()
        self._shown = ""
        wide = isinstance(choice.kind, (Several, Name, PicturePoints)) and choice.key != "stock.thickness"
        self.setMinimumWidth(220 if wide else 96)
        self.setMaximumWidth(16_777_215 if wide else 120)
        self.setPlaceholderText("auto" if choice.may_be_auto else "none")
        self.editingFinished.connect(self._finished)

    def shows(self, text: str) -> None:
        """Put this text in, unless a hand is typing something else just now."""
        if self.isModified() and self.hasFocus():
            return
        self._shown = text
        self.setText(text)

    def keep(self) -> None:
        """What was typed has been taken."""
        self.setModified(False)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Escape gives up what was typed; a second Escape goes on to the card."""
        if event.key() == Qt.Key.Key_Escape and self.text() != self._shown:
            self.setText(self._shown)
            self.said.emit(self._shown)
            return
        super().keyPressEvent(event)

    def _finished(self) -> None:
        if self.text() != self._shown:
            self.said.emit(self.text().strip() or ("auto" if self.placeholderText() == "auto" else ""))


class WordRow(QWidget):
    """A few words in a row, or in a few rows, one of them down."""

    said = Signal(str)

    def __init__(self, words: Sequence[str], name: str) -> None:
        super().__init__()
        self._group = QButtonGroup(self)
        self._buttons: dict[str, QPushButton] = {}
        for word in words:
            button = QPushButton(word)
            button.setCheckable(True)
            button.setAccessibleName(f"{name}: {word}")
            self._group.addButton(button)
            self._buttons[word] = button
        self._lay_out()
        self._group.buttonClicked.connect(lambda button: self.said.emit(button.text()))
        self.setFocusProxy(next(iter(self._buttons.values())))

    def _lay_out(self) -> None:
        """As many rows as the words take."""
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(GAP_PX)
        row, left = QHBoxLayout(), 0
        lines: list[QHBoxLayout] = []
        for button in self._buttons.values():
            button.ensurePolished()
            left -= button.sizeHint().width() + GAP_PX
            if left < 0:
                row = QHBoxLayout()
                row.setSpacing(GAP_PX)
                rows.addLayout(row)
                lines.append(row)
                left = ROW_PX - button.sizeHint().width()
            row.addWidget(button, 0, Qt.AlignmentFlag.AlignLeft)
        for row in lines:
            row.addStretch(1)

    def shows(self, text: str) -> None:
        """Put this word down."""
        if text in self._buttons:
            self._buttons[text].setChecked(True)

    def keep(self) -> None:
        """What was pressed has been taken."""


Field = TextField | WordRow


def field_for(choice: Choice, name: str) -> Field:
    """The field that suits the kind of the choice."""
    if isinstance(choice.kind, Word):
        return WordRow(choice.kind.words, name)
    if isinstance(choice.kind, YesNo):
        return WordRow(("yes", "no"), name)
    return TextField(choice)
