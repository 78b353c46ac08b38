"""The gauge on the desk: which one was cut, what is read on it, what follows, and where that is kept.

What was typed lies in the form beside the gauge's kit, the same that the command line reads; each reading is
in it as soon as it is given.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from app.desk.desk import Desk
from app.gauged import TABLES, Cut, cut_in, form_in, keep, put_right_in, row_called, today
from core.files import write_file
from core.gauge.depths import depth_lines, depths_of
from core.gauge.form import (
    DAY,
    WELL,
    Machine,
    Readings,
    deviation_of,
    form_text,
    read_one,
    readings_of,
    said_in,
    with_said,
)
from core.gauge.put_right import PutRight, put_right_by
from core.gauge.solve import solve
from core.gauge.told import lines_of
from core.job.tables import Row, row_of

#: What was typed, by letter, for each machine.
Said = Mapping[Machine, Mapping[str, str]]


@dataclass(frozen=True)
class Verdict:
    """What the readings of one machine say: in lines, and which letters are off by how much, mm.

    right is None where nothing follows that can be kept.
    """

    lines: tuple[str, ...] = ()
    doubtful: Mapping[str, float] | None = None
    right: PutRight | None = None


class GaugeWork(QObject):
    """opened() with another gauge; read(machine) when a reading was given; told(sentence, is_bad)."""

    opened = Signal()
    read = Signal(object)
    told = Signal(str, bool)

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.cut: Cut | None = None
        self._said: dict[Machine, dict[str, str]] = {machine: {} for machine in Machine}

    def open(self, folder: Path) -> None:
        """Take up the gauge whose kit lies in this folder, with what was read on it; told() says why not."""
        self._desk.errands.run(lambda: _opened(folder), self._have, self._failed, self)

    def said(self, machine: Machine, key: str) -> str:
        """What was typed beside a letter, or beside WELL or DAY."""
        return self._said[machine].get(key, "")

    def say(self, machine: Machine, key: str, text: str) -> None:
        """Give a reading, "" for none. Raises BadValue, and then nothing changes."""
        if self.cut is None or text == self.said(machine, key):
            return
        _checked(machine, key, text)
        new = {key: text}
        if not self.said(machine, DAY) and key not in (WELL, DAY):
            new[DAY] = today()
        self._said[machine] |= new
        place, title = self.cut.form, self.cut.folder.name
        self._desk.errands.run(lambda: _write(place, title, machine, new), _nothing, self._failed, self)
        self.read.emit(machine)

    def readings(self, machine: Machine) -> Readings:
        """What was read on a machine's plate so far."""
        return readings_of(machine, {key: text for key, text in self._said[machine].items() if text})

    def verdict(self, machine: Machine) -> Verdict:
        """What that says about the machine; nothing where there is no gauge or no reading."""
        readings = self.readings(machine)
        depths = depths_of(readings.depths, readings.deviation_mm)
        lines = tuple(depth_lines(depths)) if depths else ()
        if self.cut is None or not readings.readings:
            return Verdict(lines, {}, None)
        solved = solve(readings.readings, readings.deviation_mm)
        doubtful = {one.name: one.off_mm for one in solved.doubtful}
        right = put_right_by(solved, self.cut.written_with[machine])
        return Verdict((*lines_of(solved, readings.deviation_mm), *lines), doubtful, right)

    def keep(self, machine: Machine, name: str, done: Callable[[], object]) -> None:
        """Keep the correction in the maker's table under this name, and take it into the Job as one step."""
        right, cut, table, job = self.verdict(machine).right, self.cut, TABLES[machine], self._desk.job
        if right is None or cut is None or not name.strip():
            return
        day = self.said(machine, DAY) or today()

        def work() -> Row:
            before = row_called(table, name) or row_of(job, table, name.strip())
            row = put_right_in(before, table, right, day)
            keep(table, row, cut.digest)
            return row

        def kept(row: Row) -> None:
            self._desk.propose_job(row.taken(self._desk.job), f"{machine} {row.name}, by its gauge of {day}")
            self.told.emit(f"kept as '{row.name}'; it stands for this gauge, however often it is kept", False)
            done()

        self._desk.errands.run(work, kept, self._failed, self)

    def _have(self, found: tuple[Cut, Said]) -> None:
        cut, said = found
        self.cut = cut
        self._said = {machine: dict(said.get(machine, {})) for machine in Machine}
        self.opened.emit()

    def _failed(self, sentence: str, _is_defect: bool) -> None:  # noqa: FBT001 - a callback's argument
        self.told.emit(sentence, True)


def _opened(folder: Path) -> tuple[Cut, Said]:
    cut = cut_in(folder)
    return cut, said_in(form_in(cut.form), str(cut.form)) if cut.form.exists() else {}


def _checked(machine: Machine, key: str, text: str) -> None:
    """Raises BadValue for what is no entry of the form."""
    if key == WELL:
        deviation_of(machine, text)
    elif key == DAY:
        readings_of(machine, {DAY: text})
    else:
        read_one(machine, key, text)


def _write(form: Path, title: str, machine: Machine, new: Mapping[str, str]) -> None:
    """Into the form as it lies there: what another hand wrote stays. Raises UnreadableFile, Unwritable."""
    before = form_in(form) if form.exists() else form_text(title)
    write_file(form, with_said(before, machine, new).encode())


def _nothing(_result: object) -> None:
    """Nothing follows."""
