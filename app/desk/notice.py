"""One sentence on the page about what could not be done, until it is put away."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QWidget

from app.desk.icons import icon, pixmap
from app.desk.theme import theme_of


class Notice(QFrame):
    """Hidden while there is nothing to say."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self._sign, self._text = QLabel(), QLabel()
        self._text.setWordWrap(True)
        self._text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._away = QPushButton()
        self._away.setObjectName("plain")
        self._away.setAccessibleName("put this sentence away")
        self._away.clicked.connect(self.hide)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 8, 8, 8)
        row.setSpacing(10)
        row.addWidget(self._sign, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._text, 1)
        row.addWidget(self._away, 0, Qt.AlignmentFlag.AlignTop)
        self.hide()

    @property
    def text(self) -> str:
        """What is said; empty when nothing is."""
        return "" if self.isHidden() else self._text.text()

    def say(self, sentence: str) -> None:
        """Show this sentence."""
        theme = theme_of(self)
        self._sign.setPixmap(pixmap("caution", theme.caution, theme.card, 18))
        self._away.setIcon(icon("shut", theme.quiet, theme.card))
        self._text.setText(sentence)
        self._text.setAccessibleName(sentence)
        self.show()
