"""The readings of the gauge as a table to type in: a letter, what it is, what was meant, a field a machine.

What is refused or in doubt is said under its own line, and its field has a border of that colour.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QWidget

from app.desk.gauge_work import GaugeWork, Verdict
from core.errors import SamecutError
from core.gauge.form import DAY, USUALLY, WELL, Machine
from core.gauge.plate import measured, steps
from core.units import LENGTH, printed

#: px of a field; of the column of what was meant.
FIELD_PX, MEANT_PX = 112, 72


class ReadingField(QLineEdit):
    """taken(letter) when the keyboard comes; next_asked() on Return."""

    taken = Signal(str)
    next_asked = Signal()

    def __init__(self, machine: Machine, key: str, words: str) -> None:
        super().__init__()
        self.machine, self.key = machine, key
        self.setFixedWidth(FIELD_PX)
        self.setAccessibleName(f"{machine}, {key}: {words}")
        self.setProperty("state", "")

    def mark(self, state: str) -> None:
        """Its border: "" plain, "refused" or "doubtful"."""
        if self.property("state") != state:
            self.setProperty("state", state)
            self.style().unpolish(self)
            self.style().polish(self)

    def focusInEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """The letter is in hand."""
        super().focusInEvent(event)
        self.taken.emit(self.key)

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Return, or the arrow down, goes on to the next."""
        super().keyPressEvent(event)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Down):
            self.next_asked.emit()


@dataclass
class _Row:
    fields: dict[Machine, ReadingField] = field(default_factory=dict)
    notes: dict[Machine, QLabel] = field(default_factory=dict)


class GaugeTable(QWidget):
    """taken(letter) when a field is taken in hand; letters are "" for what is no distance."""

    taken = Signal(str)

    def __init__(self, work: GaugeWork, in_inches: Callable[[], bool]) -> None:
        super().__init__()
        self.setObjectName("scrolled")
        self._work, self._in_inches = work, in_inches
        self._rows: dict[str, _Row] = {}
        self._meant: dict[str, tuple[QLabel, float]] = {}
        self._told: dict[str, str] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 8, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(3)
        self._grid.setColumnStretch(1, 1)
        self._head()
        for key, words, meant_mm, machines in _lines():
            self._add(key, words, meant_mm, machines)
        self._grid.setRowStretch(self._grid.rowCount(), 1)
        self._order()
        work.opened.connect(self.refresh)
        self.refresh()

    def field(self, machine: Machine, key: str) -> ReadingField:
        """The field of a machine beside a letter."""
        return self._rows[key].fields[machine]

    def note(self, machine: Machine, key: str) -> str:
        """What is said under it; "" for nothing."""
        note = self._rows[key].notes[machine]
        return "" if note.isHidden() else note.text()

    def words(self, letter: str) -> str:
        """What is read there, in words; "" where there is nothing."""
        row = self._told.get(letter)
        return f"{letter}: {row}" if row else ""

    def refresh(self) -> None:
        """Show what was typed, in the form that lies open."""
        is_open = self._work.cut is not None
        for row in self._rows.values():
            for machine, one in row.fields.items():
                one.setEnabled(is_open)
                one.setText(self._work.said(machine, one.key))
                self._say(one, "", "")
        self.refresh_meant()

    def show_day(self, machine: Machine) -> None:
        """Show the day, which the first reading sets."""
        self.field(machine, DAY).setText(self._work.said(machine, DAY))

    def refresh_meant(self) -> None:
        """Say what was meant in the unit that the maker thinks in."""
        inches = self._in_inches()
        for label, meant_mm in self._meant.values():
            mm, inch = printed(meant_mm, LENGTH, "mm", 2), printed(meant_mm, LENGTH, "in", 4)
            label.setText(inch if inches else mm)
            label.setToolTip(mm if inches else inch)

    def judge(self, machine: Machine, verdict: Verdict) -> None:
        """Mark the fields whose readings are in doubt."""
        doubtful = verdict.doubtful or {}
        for key, row in self._rows.items():
            one = row.fields.get(machine)
            if one is None or one.property("state") == "refused":
                continue
            off = doubtful.get(key)
            said = "" if off is None else f"{machine}: {off:+.2f} mm off what the others say; read it again"
            self._say(one, "doubtful" if said else "", said)

    def _head(self) -> None:
        for column, words in ((1, "read"), (2, "meant"), (3, "router"), (4, "cutter")):
            label = QLabel(words)
            label.setObjectName("quiet")
            self._grid.addWidget(label, 0, column)

    def _add(self, key: str, words: str, meant_mm: float | None, machines: tuple[Machine, ...]) -> None:
        at, row = self._grid.rowCount(), _Row()
        letter, told = QLabel(key if len(key) == 1 else ""), QLabel(words)
        letter.setMinimumWidth(16)
        told.setWordWrap(True)
        self._grid.addWidget(letter, at, 0)
        self._grid.addWidget(told, at, 1)
        if meant_mm is not None:
            meant = QLabel()
            meant.setFixedWidth(MEANT_PX)
            self._meant[key], self._told[key] = (meant, meant_mm), words
            self._grid.addWidget(meant, at, 2)
        for column, machine in enumerate(machines, 3):
            row.fields[machine] = self._field(machine, key, words)
            self._grid.addWidget(row.fields[machine], at, column)
            note = row.notes[machine] = QLabel()
            note.setWordWrap(True)
            note.hide()
            self._grid.addWidget(note, at + column - 2, 1, 1, 4)
        self._rows[key] = row

    def _field(self, machine: Machine, key: str, words: str) -> ReadingField:
        made = ReadingField(machine, key, words)
        if key == WELL:
            made.setPlaceholderText(USUALLY[machine])
        if key == DAY:
            made.setPlaceholderText("2026-05-31")
        made.editingFinished.connect(lambda: self._give(made))
        made.taken.connect(lambda letter: self.taken.emit(letter if letter in self._meant else ""))
        made.next_asked.connect(lambda: self._go_on(made))
        return made

    def _give(self, one: ReadingField) -> None:
        try:
            self._work.say(one.machine, one.key, one.text().strip())
        except SamecutError as error:
            self._say(one, "refused", f"{one.machine}: {error}")
            return
        if one.property("state") == "refused":
            self._say(one, "", "")

    def _say(self, one: ReadingField, state: str, words: str) -> None:
        one.mark(state)
        note = self._rows[one.key].notes[one.machine]
        name = "refused" if state == "refused" else "doubted"
        if note.objectName() != name:
            note.setObjectName(name)
            note.style().unpolish(note)
            note.style().polish(note)
        note.setText(words)
        note.setVisible(bool(words))

    def _order(self) -> None:
        """Down the column of one machine, then of the other, as a plate is measured after a plate."""
        before: QWidget | None = None
        for machine in Machine:
            for row in self._rows.values():
                one = row.fields.get(machine)
                if one is not None and before is not None:
                    QWidget.setTabOrder(before, one)
                before = one or before

    def _go_on(self, one: ReadingField) -> None:
        """To the next field of the same machine."""
        mine = [row.fields[one.machine] for row in self._rows.values() if one.machine in row.fields]
        at = mine.index(one) + 1
        if at < len(mine):
            mine[at].setFocus()
            mine[at].selectAll()


def _lines() -> Iterator[tuple[str, str, float | None, tuple[Machine, ...]]]:
    """Key, words, what was meant, mm, and the machines that have it."""
    both = tuple(Machine)
    yield WELL, "how far off a reading is, most times", None, both
    yield DAY, "the day it was read", None, both
    for one in measured():
        yield one.letter, one.words, one.feature.meant_mm, both
    for step in steps():
        yield step.letter, "depth of the step, in the waste", step.depth_mm, (Machine.ROUTER,)
