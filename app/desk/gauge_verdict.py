"""What the readings of one machine say, and the row that keeps it in the maker's table."""

from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from app.desk.gauge_work import GaugeWork, Verdict
from core.gauge.form import Machine

_NONE = "No reading yet."


class MachineVerdict(QWidget):
    """Of one machine of the gauge that is open."""

    def __init__(self, work: GaugeWork, machine: Machine) -> None:
        super().__init__()
        self.setObjectName("scrolled")
        self._work, self._machine = work, machine
        title = QLabel(f"The {machine}")
        title.setObjectName("title")
        self.lines = QLabel(_NONE)
        self.lines.setWordWrap(True)
        self.name = QLineEdit()
        self.name.setAccessibleName(f"name of the {machine} in your table")
        self.name.setPlaceholderText(f"a name for this {machine}")
        self.name.returnPressed.connect(self.keep)
        self.name.textChanged.connect(self._offer)
        self.go = QPushButton("Keep and use")
        self.go.setAccessibleName(f"keep the {machine}'s correction in your table and use it")
        self.go.setToolTip("Kept in your own table with its day, and taken into the job as one step of undo.")
        self.go.clicked.connect(lambda _checked=False: self.keep())
        self.kept = QLabel()
        self.kept.setObjectName("help")
        self.kept.setWordWrap(True)
        self._row = QWidget()
        self._row.setObjectName("scrolled")
        row = QHBoxLayout(self._row)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.name, 1)
        row.addWidget(self.go)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 8, 8)
        column.setSpacing(4)
        for widget in (title, self.lines, self._row, self.kept):
            column.addWidget(widget)
        self.kept.hide()
        self.show_verdict(Verdict())

    def show_verdict(self, verdict: Verdict) -> None:
        """Say it."""
        self.lines.setText("\n".join(verdict.lines) or _NONE)
        self._row.setVisible(verdict.right is not None)
        self.kept.hide()
        self._offer()

    def keep(self) -> None:
        """Keep it in the table, under the name that is written."""
        self._work.keep(self._machine, self.name.text(), self._was_kept)

    def _was_kept(self) -> None:
        day = self._work.said(self._machine, "day")
        self.kept.setText(
            f"Kept and in use, by the gauge of {day}. It stands for this gauge and is never added to itself."
        )
        self.kept.show()

    def _offer(self, _text: str = "") -> None:
        self.go.setEnabled(bool(self.name.text().strip()))
