"""The row that takes a second picture, which gives the films, or lets it go again."""

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QPushButton, QWidget

from app.desk.desk import Desk
from app.desk.incoming import PICTURES

#: Width of the column of names, px: that of the controls below it.
NAME_PX = 168


class SecondRow(QWidget):
    """Says which picture gives the films; a button for another one, and one for the first again."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.setObjectName("second picture")
        self._desk = desk
        name = QLabel("films come from")
        name.setFixedWidth(NAME_PX)
        self.giver = QLabel()
        self.giver.setToolTip("Drop a picture with Shift held, and it gives the films.")
        self.take = QPushButton("Another picture…")
        self.take.setAccessibleName("Take the films from another picture")
        self.take.clicked.connect(lambda _checked=False: self._ask())
        self.leave = QPushButton("↺")
        self.leave.setObjectName("plain")
        self.leave.setAccessibleName("Films from the first picture again")
        self.leave.clicked.connect(lambda _checked=False: desk.take_face(None))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 6)
        row.setSpacing(8)
        for widget in (name, self.giver, self.take, self.leave):
            row.addWidget(widget)
        row.addStretch(1)
        desk.job_changed.connect(self._refresh)
        self._refresh()

    def _refresh(self, _job: object = None) -> None:
        source = self._desk.source
        face = source.face if source is not None else None
        self.giver.setText(face.name if face else "this picture")
        self.leave.setVisible(face is not None)

    def _ask(self) -> None:
        title, kinds = "A picture that gives the films", f"Pictures ({PICTURES})"
        path, _ = QFileDialog.getOpenFileName(self, title, "", kinds)
        if path:
            self._desk.open_face(Path(path))
