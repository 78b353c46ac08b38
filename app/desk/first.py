"""The empty desk: what can be done first, and what was left when the window last went away."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from app.desk.icons import pixmap
from app.desk.recent_row import RecentRow
from app.desk.theme import theme_of


class FirstPage(QWidget):
    """open_asked(), paste_asked(), demo_asked(), gauge_asked(); kept_asked() for the work that was left."""

    open_asked = Signal()
    paste_asked = Signal()
    demo_asked = Signal()
    gauge_asked = Signal()
    kept_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._sign = QLabel()
        self._sign.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        self._big = _centred("Drop a picture anywhere", 1.7)
        self._small = _centred(
            "A part for the router and films for the knife come of it, from one outline.", 1.0
        )
        self._small.setObjectName("quiet")
        self._kept = QPushButton()
        self._kept.setObjectName("main")
        self._kept.clicked.connect(lambda _checked=False: self.kept_asked.emit())
        self._kept.hide()
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addStretch(1)
        for words, signal in (
            ("Open one…", self.open_asked),
            ("Paste one", self.paste_asked),
            ("Try the demo", self.demo_asked),
        ):
            button = QPushButton(words)
            button.clicked.connect(lambda _checked=False, signal=signal: signal.emit())
            row.addWidget(button)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setSpacing(14)
        column.addStretch(3)
        for widget in (self._sign, self._big, self._small):
            column.addWidget(widget)
        column.addSpacing(6)
        column.addLayout(row)
        column.addSpacing(12)
        column.addWidget(self._kept, 0, Qt.AlignmentFlag.AlignHCenter)
        self.recent = RecentRow()
        column.addWidget(self.recent)
        column.addStretch(4)
        gauge = QPushButton("Two machines never agree by themselves: cut a gauge once")
        gauge.setObjectName("plain")
        gauge.setToolTip("Ctrl+G")
        gauge.clicked.connect(lambda _checked=False: self.gauge_asked.emit())
        column.addWidget(gauge, 0, Qt.AlignmentFlag.AlignHCenter)
        keys = _centred("F1 lists the keys, F2 explains the words of the trade.", 1.0)
        keys.setObjectName("quiet")
        column.addWidget(keys)

    def offer(self, words: str) -> None:
        """Offer to go on with what was left; empty words offer nothing."""
        self._kept.setText(words)
        self._kept.setVisible(bool(words))

    @property
    def offered(self) -> str:
        """What is offered; empty for nothing."""
        return "" if self._kept.isHidden() else self._kept.text()

    def colour(self) -> None:
        """Take the colours of the present theme."""
        theme = theme_of(self)
        self._sign.setPixmap(pixmap("drop", theme.accent, theme.desk, 96))


def _centred(text: str, larger: float) -> QLabel:
    label = QLabel(text)
    label.setAlignment(Qt.AlignmentFlag.AlignHCenter)
    label.setWordWrap(True)
    font = label.font()
    font.setPointSizeF(font.pointSizeF() * larger)
    label.setFont(font)
    return label
