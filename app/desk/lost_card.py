"""The card that asks where a saved Job's picture has gone."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QPushButton, QWidget

from app.desk.card import Popover
from app.desk.incoming import PICTURES


class LostCard(Popover):
    """pointed(picture's file); a picture that is dropped meanwhile says it too. Escape leaves it."""

    pointed = Signal(object)

    def __init__(self, window: QWidget, opener: QWidget, job: Path, sentence: str) -> None:
        super().__init__(window, opener, "Where is the picture?")
        self.job = job
        words = QLabel(f"{sentence} Drop it here, or show where it is.")
        words.setWordWrap(True)
        self.body.addWidget(words)
        self.show_it = QPushButton("Show where it is…")
        self.show_it.setObjectName("main")
        self.show_it.clicked.connect(lambda _checked=False: self._ask())
        leave = QPushButton("Leave it")
        leave.clicked.connect(lambda _checked=False: self.shut())
        row = QHBoxLayout()
        row.addWidget(self.show_it)
        row.addWidget(leave)
        row.addStretch(1)
        self.body.addLayout(row)

    def _ask(self) -> None:
        title, kinds = "Where is the picture?", f"Pictures ({PICTURES})"
        path, _ = QFileDialog.getOpenFileName(self, title, str(self.job.parent), kinds)
        if path:
            self.point(Path(path))

    def point(self, picture: Path) -> None:
        """Tell that it is this one."""
        self.shut()
        self.pointed.emit(picture)
