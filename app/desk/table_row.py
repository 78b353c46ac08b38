"""A table in the card of what it is about: rows to take, and the maker's own to keep, change and remove.

A row is taken as one step. The maker's own rows are changed in place: take one, change what it holds in the
fields below, keep it under the same name.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.desk.desk import Desk
from app.tables import drop_row, keep_row, own_rows, rows_of
from core.job.job import Job
from core.job.tables import Row, Table, row_of

#: Which card has which table, and what a row of it is called.
TABLES: Mapping[str, Table] = MappingProxyType(
    {"bit": Table.BIT, "sheet": Table.SHEET, "router": Table.MACHINE, "films": Table.CUTTER}
)
_CALLED = {Table.BIT: "bit", Table.SHEET: "sheet", Table.MACHINE: "router", Table.CUTTER: "cutter"}
#: Rows seen at once; px of one, and of the words in it.
SEEN, ROW_PX, LINE_PX = 6, 26, 490


@dataclass(frozen=True)
class _Rows:
    """All rows, and the names of those that are the maker's own, folded."""

    every: tuple[Row, ...] = ()
    own: frozenset[str] = frozenset()


class TableRow(QWidget):
    """folded() when it takes more or less room."""

    folded = Signal()

    def __init__(self, desk: Desk, table: Table) -> None:
        super().__init__()
        self.setObjectName("scrolled")
        self._desk, self._table, self._rows = desk, table, _Rows()
        self.opener = QPushButton()
        self.opener.setObjectName("plain")
        self.opener.setCheckable(True)
        self.opener.toggled.connect(self._unfold)
        self.list = QListWidget()
        self.list.setAccessibleName(f"table of {table}s")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setFixedHeight(SEEN * ROW_PX)
        self.list.itemActivated.connect(self._take)
        self.list.itemClicked.connect(self._take)
        self.name = QLineEdit()
        self.name.setAccessibleName(f"name of your own {_CALLED[table]}")
        self.name.setPlaceholderText("a name of your own")
        self.name.textChanged.connect(self._named)
        self.name.returnPressed.connect(self.keep)
        self._keep, self._remove = QPushButton("Keep"), QPushButton("Remove")
        self._keep.clicked.connect(lambda _checked=False: self.keep())
        self._remove.clicked.connect(lambda _checked=False: self.remove())
        self.said = QLabel()
        self.said.setObjectName("help")
        self.said.setWordWrap(True)
        self._lay_out()
        desk.job_changed.connect(self._refresh)
        self._refresh(desk.job)
        self.read()

    def read(self) -> None:
        """Read the tables anew."""
        table = self._table

        def work() -> _Rows:
            return _Rows(rows_of(table), frozenset(row.name.casefold() for row in own_rows(table)))

        self._desk.errands.run(work, self._have, self._fail, self)

    def keep(self) -> None:
        """Put what the fields hold into the maker's own table, under the name that is written there."""
        name = self.name.text().strip()
        if not name:
            return
        row, table = row_of(self._desk.job, self._table, name), self._table
        self._write(lambda: keep_row(table, row), f"{name} is kept in your own table")

    def remove(self) -> None:
        """Take the row of that name out of the maker's own table."""
        name, table = self.name.text().strip(), self._table
        self._write(lambda: drop_row(table, name), f"{name} is no longer in your own table")

    def _write(self, work: Callable[[], object], words: str) -> None:
        def done(_nothing: object) -> None:
            self.said.setText(words)
            self.read()

        self._desk.errands.run(work, done, self._fail, self)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 6)
        column.setSpacing(4)
        column.addWidget(self.opener, 0, Qt.AlignmentFlag.AlignLeft)
        self._inside = QWidget()
        self._inside.setObjectName("scrolled")
        inside = QVBoxLayout(self._inside)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(4)
        inside.addWidget(self.list)
        row = QHBoxLayout()
        row.addWidget(self.name, 1)
        row.addWidget(self._keep)
        row.addWidget(self._remove)
        inside.addLayout(row)
        inside.addWidget(self.said)
        column.addWidget(self._inside)
        self._inside.hide()

    def _unfold(self, is_open: bool) -> None:  # noqa: FBT001 - Qt hands it over
        self._inside.setVisible(is_open)
        self.folded.emit()
        if is_open:
            self.list.setFocus()

    def _have(self, rows: _Rows) -> None:
        self._rows = rows
        self.list.clear()
        for row in rows.every:
            mine = "yours \u00b7 " if row.name.casefold() in rows.own else ""
            told = f"{row.name}  \u00b7  {mine}{row.about}".rstrip(" \u00b7")
            item = QListWidgetItem(self._fitting(told))
            item.setData(Qt.ItemDataRole.AccessibleTextRole, told)
            held = ", ".join(f"{key.partition('.')[2]} {said}" for key, said in row.choices)
            item.setToolTip(f"{told}\n{held}")
            self.list.addItem(item)
        self._refresh(self._desk.job)

    def _fitting(self, words: str) -> str:
        return self.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, LINE_PX)

    def _refresh(self, job: Job) -> None:
        """Say which row the Job has; the choice of it stands in the list."""
        found = [index for index, row in enumerate(self._rows.every) if row.is_in(job)]
        called = _CALLED[self._table]
        name = self._rows.every[found[-1]].name if found else f"a {called} of no table"
        self.opener.setText(f"table of {called}s: {name}")
        self.list.setCurrentRow(found[-1] if found else -1)
        self._named()

    def _take(self, item: QListWidgetItem) -> None:
        row = self._rows.every[self.list.row(item)]
        is_own = row.name.casefold() in self._rows.own
        self.name.setText(row.name if is_own else "")
        self._desk.propose_job(row.taken(self._desk.job), f"{_CALLED[self._table]}: {row.name}")

    def _named(self, _text: str = "") -> None:
        """Keep and remove are offered where they do something, and say what."""
        name = self.name.text().strip()
        is_own = name.casefold() in self._rows.own
        called = _CALLED[self._table]
        self._keep.setEnabled(bool(name))
        self._remove.setVisible(is_own)
        verb = "changed" if is_own else "added"
        told = f"{name} is {verb} in your own table" if name else "write a name first"
        self._keep.setToolTip(told)
        self._keep.setAccessibleName(f"keep this {called} in your own table")
        self._remove.setAccessibleName(f"remove {name} from your own table")
        if not self.said.text():
            self.said.setText(f"Keep what the fields below hold as a {called} of your own.")

    def _fail(self, sentence: str, _is_defect: bool) -> None:  # noqa: FBT001 - a callback's argument
        self.said.setText(sentence)
