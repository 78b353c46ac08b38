"""The card under "Write the kit": where to, what to mind; and, when it is written, what lies there."""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QLineEdit, QPushButton, QScrollArea, QWidget

from app.desk.card import Popover, scrolled
from app.desk.desk import Desk
from app.desk.proof_words import files_told, proof_told, since_told
from core.findings import Level
from core.paper.hazards import Hazard, sentences

if TYPE_CHECKING:
    from core.kit.kit import Kit


#: What stands on the card beside what is to be minded: what is done, and whose word comes first.
WRITTEN = "Programs, films, drawings and papers are written; then every file is read back and measured."
FIRST = (
    "The makers of your machine, bit and sheet, your local rules and licensed practice come first; "
    "the job sheet says the rest at its step."
)
#: Said before anything is cut; the job sheet says each again at its step.
AT_THE_ROUTER = (
    Hazard.EYES,
    Hazard.HEARING,
    Hazard.CLAMPS,
    Hazard.STOP_KNOWN,
    Hazard.ATTENDANCE,
    Hazard.DISTANCE,
    Hazard.LOOSE_PARTS,
    Hazard.FIRE,
)
AT_THE_CUTTER = (Hazard.CUTTER_HEAD, Hazard.VINYL, Hazard.BLADES)
_TOLD = (Level.STOP, Level.CAUTION)


def _counted(count: int, what: str) -> str:
    return f"1 {what} stands" if count == 1 else f"{count} {what}s stand"


def _at(machine: str, hazards: Iterable[Hazard]) -> str:
    return f"<b>At the {machine}</b> \u2013 {sentences(hazards)}"


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
        if shown is None:
            return (WRITTEN, FIRST)
        stops, cautions = (sum(one.level is level for one in shown.findings) for level in _TOLD)
        if stops:
            reason = "one finding stops it" if stops == 1 else f"{stops} findings stop it"
            return (
                f"There will be no router program: {reason}.",
                WRITTEN,
                _at("cutter", AT_THE_CUTTER),
                FIRST,
            )
        mind = f"{_counted(cautions, 'caution')} in the column at the right: look first." if cautions else ""
        melts = shown.setup.cutting.material.melts
        router = (*AT_THE_ROUTER, Hazard.FUMES if melts else Hazard.WOOD_DUST)
        every = (WRITTEN, mind, _at("router", router), _at("cutter", AT_THE_CUTTER), FIRST)
        return tuple(words for words in every if words)


class KitCard(Popover):
    """What was written, what each file is for, and what reading back found.

    opened(folder) when the folder is asked for, bench_asked() when the work is.
    """

    opened = Signal(str)
    bench_asked = Signal()
    wide_px = 720

    def __init__(self, window: QWidget, opener: QWidget, folder: str, kit: "Kit") -> None:
        super().__init__(window, opener, "The kit is written")
        self._folder = folder
        self.proof = _label(proof_told(kit.report))
        self.body.addWidget(self.proof)
        self.since = since_told(kit.report)
        if self.since:
            self.body.addWidget(_label(self.since))
        self.body.addWidget(_label(folder, "quiet"))
        self.body.addWidget(self._files(kit))
        self.open = QPushButton("Open the folder")
        self.open.setObjectName("main")
        self.open.clicked.connect(lambda _checked=False: self._open())
        bench = QPushButton("To the bench, step by step")
        bench.setToolTip("Ctrl+B")
        bench.clicked.connect(lambda _checked=False: self.bench_asked.emit())
        row = QHBoxLayout()
        row.addWidget(self.open)
        row.addWidget(bench)
        row.addStretch(1)
        self.body.addLayout(row)

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
