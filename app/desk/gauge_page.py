"""The gauge's page: the plate to measure, the readings to type, and what they say about both machines."""

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.desk.card import scrolled
from app.desk.desk import Desk
from app.desk.gauge_figure import GaugeFigure
from app.desk.gauge_table import GaugeTable
from app.desk.gauge_verdict import MachineVerdict
from app.desk.gauge_work import GaugeWork
from app.desk.spoken import is_in_inches
from app.gauged import TABLES
from app.tables import rows_of
from core.gauge.form import Machine

#: px that the table asks for, and that it takes at most: words and fields stay near each other.
TABLE_PX, WIDEST_PX = 600, 760
#: px that the plate and what is said beside it take at most.
LEFT_PX = 1000
TITLE = "The gauge: two machines that agree"
HOW = (
    "Write its kit, cut the plate on the router and the same figure on the cutter, let both lie in the "
    "room, and type what the calipers say: 129.85, 129,85 or 5 1/8 in. A plate is 130 by 102 mm."
)


class GaugePage(QWidget):
    """leave_asked() when the desk is wanted again; write_asked(folder) for the kit of a gauge."""

    leave_asked = Signal()
    write_asked = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.work = GaugeWork(desk, self)
        self.figure = GaugeFigure()
        self.table = GaugeTable(self.work, lambda: is_in_inches(desk.job))
        self.verdicts = {machine: MachineVerdict(self.work, machine) for machine in Machine}
        self.write = _button("Write its kit…", self._ask_where)
        self.open = _button("Open one…", self._ask_which)
        self.back = _button("Back to the desk", self.leave_asked.emit)
        self.which, self._words = QLabel(), QLabel()
        self._lay_out()
        self._connect()
        self._opened()

    def begin(self) -> None:
        """Give the keyboard to what comes first."""
        first = self.table.field(Machine.ROUTER, "A")
        (first if first.isEnabled() else self.write).setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Escape goes back to the desk."""
        if event.key() == Qt.Key.Key_Escape:
            self.leave_asked.emit()
            return
        super().keyPressEvent(event)

    def _lay_out(self) -> None:
        title = QLabel(TITLE)
        font = title.font()
        font.setPointSizeF(1.3 * font.pointSizeF())
        title.setFont(font)
        how = QLabel(HOW)
        for label in (how, self.which):
            label.setWordWrap(True)
            label.setObjectName("quiet")
        self._words.setObjectName("title")
        self._words.setWordWrap(True)
        buttons = QHBoxLayout()
        for button in (self.write, self.open, self.back):
            buttons.addWidget(button)
        buttons.addStretch(1)
        said = QWidget()
        said.setObjectName("scrolled")
        column = QVBoxLayout(said)
        column.setContentsMargins(0, 0, 0, 0)
        for verdict in self.verdicts.values():
            column.addWidget(verdict)
        column.addStretch(1)
        aside = QWidget()
        aside.setMaximumWidth(LEFT_PX)
        left = QVBoxLayout(aside)
        left.setContentsMargins(0, 0, 0, 0)
        left.addWidget(title)
        left.addWidget(how)
        left.addLayout(buttons)
        left.addWidget(self.which)
        left.addWidget(self.figure, 3)
        left.addWidget(self._words)
        left.addWidget(scrolled(said), 3)
        self._scroll: QScrollArea = scrolled(self.table)
        self._scroll.setMinimumWidth(TABLE_PX)
        self._scroll.setMaximumWidth(WIDEST_PX)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 8, 0)
        row.setSpacing(16)
        row.addWidget(aside, 2)
        row.addWidget(self._scroll, 3)
        row.addStretch(0)

    def _connect(self) -> None:
        self.table.taken.connect(self._take)
        self.work.opened.connect(self._opened)
        self.work.read.connect(self._judge)
        self._desk.job_changed.connect(lambda _job: self.table.refresh_meant())

    def _take(self, letter: str) -> None:
        self.figure.point_at(letter)
        self._words.setText(self.table.words(letter))
        focused = self.focusWidget()
        if focused is not None:
            self._scroll.ensureWidgetVisible(focused)

    def _opened(self) -> None:
        cut = self.work.cut
        self.which.setText(
            f"{cut.folder}; readings beside it, in {cut.form.name}" if cut else "No gauge is open yet."
        )
        for machine in Machine:
            self._judge(machine)
        if cut is not None:
            self._name()
            if self.isVisible():
                self.begin()

    def _judge(self, machine: Machine) -> None:
        self.table.show_day(machine)
        verdict = self.work.verdict(machine)
        self.table.judge(machine, verdict)
        self.verdicts[machine].show_verdict(verdict)

    def _name(self) -> None:
        """Propose the name of the machine that the Job has."""
        job = self._desk.job

        def work() -> dict[Machine, str]:
            return {
                machine: next((row.name for row in reversed(rows_of(table)) if row.is_in(job)), "")
                for machine, table in TABLES.items()
            }

        def have(names: dict[Machine, str]) -> None:
            for machine, name in names.items():
                if not self.verdicts[machine].name.text():
                    self.verdicts[machine].name.setText(name or f"my {machine}")

        self._desk.errands.run(work, have, self._fail, self)

    def _fail(self, sentence: str, _is_defect: bool) -> None:  # noqa: FBT001 - a callback's argument
        self.work.told.emit(sentence, True)

    def _ask_where(self) -> None:
        from platformdirs import user_documents_path  # noqa: PLC0415 - needed only here

        proposed = str(user_documents_path() / "gauge")
        found, _ = QFileDialog.getSaveFileName(self, "A new folder for the gauge's kit", proposed)
        if found:
            self.write_asked.emit(Path(found))

    def _ask_which(self) -> None:
        found = QFileDialog.getExistingDirectory(self, "The kit of the gauge that was cut")
        if found:
            self.work.open(Path(found))


def _button(text: str, pressed: object) -> QPushButton:
    button = QPushButton(text)
    button.clicked.connect(lambda _checked=False: pressed())  # type: ignore[operator]
    return button
