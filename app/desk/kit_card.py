"""The card under "Write the kit": where to, what to mind; and, when it is written, what lies there."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QLineEdit, QPushButton, QScrollArea, QWidget

from app.desk.card import Popover, scrolled
from app.desk.desk import Desk
from app.desk.proof_words import files_told, proof_told
from core.findings import Level

if TYPE_CHECKING:
    from core.kit.kit import Kit


class WriteCard(Popover):
    """Asks where the kit is to go; folder is proposed beside the picture."""

    def __init__(self, window: QWidget, opener: QWidget, desk: Desk, folder: Path) -> None:
        super().__init__(window, opener, "Write the kit")
        self._desk = desk
        self._place = QLineEdit(str(folder))
        self._place.setAccessibleName("folder for the kit")
        self._place.returnPressed.connect(self.write)
        choose = QPushButton("choose…")
        choose.clicked.connect(lambda _checked=False: self._choose())
        self.go = QPushButton("Write")
        self.go.setObjectName("main")
        self.go.clicked.connect(lambda _checked=False: self.write())
        row = QHBoxLayout()
        row.addWidget(self._place, 1)
        row.addWidget(choose)
        row.addWidget(self.go)
        self.body.addLayout(row)
        for words in self._cautions():
            label = QLabel(words)
            label.setWordWrap(True)
            label.setObjectName("quiet")
            self.body.addWidget(label)

    def write(self) -> None:
        """Write it there."""
        place = self._place.text().strip()
        if place:
            self._desk.write_kit(Path(place).expanduser())
            self.shut()

    def _choose(self) -> None:
        found = QFileDialog.getExistingDirectory(self, "A folder for the kit", self._place.text())
        if found:
            self._place.setText(found)

    def _cautions(self) -> tuple[str, ...]:
        shown = self._desk.shown
        stops = sum(one.level is Level.STOP for one in shown.findings) if shown is not None else 0
        written = "Films, drawings and papers are written, and then every file is read back and measured."
        if not stops:
            return (written,)
        reason = "one finding stops it" if stops == 1 else f"{stops} findings stop it"
        return (f"There will be no router program: {reason}.", written)


class KitCard(Popover):
    """What was written, what each file is for, and what reading back found; opened(folder) when asked."""

    opened = Signal(str)
    wide_px = 720

    def __init__(self, window: QWidget, opener: QWidget, folder: str, kit: "Kit") -> None:
        super().__init__(window, opener, "The kit is written")
        self._folder = folder
        self.proof = _label(proof_told(kit.report))
        self.body.addWidget(self.proof)
        self.body.addWidget(_label(folder, "quiet"))
        self.body.addWidget(self._files(kit))
        self.open = QPushButton("Open the folder")
        self.open.setObjectName("main")
        self.open.clicked.connect(lambda _checked=False: self._open())
        self.body.addWidget(self.open, 0, Qt.AlignmentFlag.AlignLeft)

    def _open(self) -> None:
        self.opened.emit(self._folder)
        QDesktopServices.openUrl(QUrl.fromLocalFile(self._folder))

    def _files(self, kit: "Kit") -> QScrollArea:
        lines = "".join(
            f"<tr><td style='padding: 2px 14px 2px 0'>{name}</td><td style='padding: 2px 0'>{what}</td></tr>"
            for name, what in files_told(kit.report)
        )
        table = _label(f"<table>{lines}</table>")
        table.setObjectName("scrolled")
        table.setTextFormat(Qt.TextFormat.RichText)
        return scrolled(table)


def _label(text: str, name: str = "") -> QLabel:
    label = QLabel(text)
    label.setObjectName(name)
    label.setWordWrap(True)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label
