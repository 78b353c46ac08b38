"""Recent work in a row of pictures to press."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QIcon, QKeyEvent, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QLabel, QToolButton, QVBoxLayout, QWidget

from app.desk.recent import Recent

#: px of a picture, of a button, and how many stand in the row at the smallest window.
PICTURE_PX, WIDE_PX, HIGH_PX, MOST = QSize(144, 108), 172, 152, 5


class RecentButton(QToolButton):
    """One piece of work; forgotten(path) by Delete."""

    forgotten = Signal(object)

    def __init__(self, recent: Recent) -> None:
        super().__init__()
        self.recent = recent
        self.setObjectName("recent")
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
        self.setIconSize(PICTURE_PX)
        self.setFixedSize(WIDE_PX, HIGH_PX)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        picture = QPixmap(str(recent.picture)) if recent.picture.is_file() else QPixmap()
        if not picture.isNull():
            self.setIcon(QIcon(picture))
        self.setAccessibleName(f"Open {recent.words}, {recent.path}")
        self.setToolTip(f"{recent.path}\nDelete takes it off this list; the file stays.")
        self.ensurePolished()
        room = WIDE_PX - 20
        self.setText(self.fontMetrics().elidedText(recent.words, Qt.TextElideMode.ElideMiddle, room))

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Return opens; Delete takes it off the list."""
        key = Qt.Key(event.key())
        if key is Qt.Key.Key_Delete:
            self.forgotten.emit(self.recent.path)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)


class RecentRow(QWidget):
    """asked(path) when one is pressed, forgotten(path) when one is taken off."""

    asked = Signal(object)
    forgotten = Signal(object)

    def __init__(self, words: str = "or go on with") -> None:
        super().__init__()
        self.buttons: tuple[RecentButton, ...] = ()
        heading = QLabel(words)
        heading.setObjectName("quiet")
        heading.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        self._row = QHBoxLayout()
        self._row.setSpacing(10)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(heading)
        heading.setVisible(bool(words))
        column.addLayout(self._row)
        self.hide()

    def stand(self, recents: Sequence[Recent]) -> None:
        """Stand these in the row, the newest first."""
        while item := self._row.takeAt(0):
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        self.buttons = tuple(self._button(one) for one in recents[:MOST])
        self._row.addStretch(1)
        for button in self.buttons:
            self._row.addWidget(button)
        self._row.addStretch(1)
        self.setVisible(bool(self.buttons))

    def _button(self, recent: Recent) -> RecentButton:
        button = RecentButton(recent)
        button.clicked.connect(lambda _checked=False, path=recent.path: self.asked.emit(Path(path)))
        button.forgotten.connect(self.forgotten.emit)
        return button
