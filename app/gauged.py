"""A gauge as it was cut, and a machine's correction kept: what the command line and the window share."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from types import MappingProxyType
from typing import Any

from app import work
from app.tables import keep_row, rows_of
from core.errors import UnreadableFile
from core.files import mend, read_file, read_folder
from core.findings import has_stop
from core.gauge.artwork import is_gauge
from core.gauge.form import Machine
from core.gauge.put_right import PutRight
from core.job.tables import Row, Table
from core.kit.older_kit import REPORT
from core.sheet.correction import Correction

#: The table and the group of choices that each machine's correction is kept in.
TABLES: Mapping[Machine, Table] = MappingProxyType(
    {Machine.ROUTER: Table.MACHINE, Machine.CUTTER: Table.CUTTER}
)
#: Bytes; a form filled in has a hundredth of it.
_LARGEST_FORM = 1 << 18


@dataclass(frozen=True)
class Cut:
    """The kit of a gauge: its folder, what each machine's files were written with, and which gauge it is."""

    folder: Path
    written_with: Mapping[Machine, Correction]
    digest: str

    @property
    def form(self) -> Path:
        """The form lies beside its kit: what is written into it must not change the kit."""
        return self.folder.with_name(f"{self.folder.name}-readings.toml")


def cut_in(folder: Path) -> Cut:
    """The gauge whose kit this is, proved again. Raises UnreadableFile for anything else."""
    mend(folder)
    kit = read_folder(folder)
    if not any(is_gauge(data) for data in kit.values()):
        raise UnreadableFile(f"{folder} is no kit of a gauge; `samecut gauge make` makes one.")
    checked = work.check_kit(kit)
    if has_stop(checked.findings):
        worst = checked.findings[0].text
        raise UnreadableFile(f"{folder} is not as it was made: {worst} Read the gauge that was cut.")
    stated: Mapping[str, Any] = json.loads(kit[REPORT])["correction"]
    corrections = {which: Correction.as_reported(stated[str(which)]) for which in Machine}
    return Cut(folder, MappingProxyType(corrections), sha256(kit[REPORT]).hexdigest()[:16])


def form_in(place: Path) -> str:
    """The text of a form. Raises UnreadableFile."""
    return read_file(place, _LARGEST_FORM).decode("utf-8", "replace")


def today() -> str:
    """The maker's own day, as ISO 8601 writes it."""
    return datetime.now().astimezone().date().isoformat()


def put_right_in(row: Row, table: Table, right: PutRight, day: str) -> Row:
    """The row with this correction and its day in the place of the ones it had."""
    said = right.choices() | {"gauged": day}
    values = dict(row.choices) | {f"{table.group}.{key}": text for key, text in said.items()}
    return Row(row.name, row.about, tuple(values.items()))


def row_called(table: Table, name: str) -> Row | None:
    """The row of this name, the program's or the maker's. Raises UnreadableFile."""
    wanted = name.strip().casefold()
    return next((row for row in rows_of(table) if row.name.casefold() == wanted), None)


def keep(table: Table, row: Row, digest: str) -> Path:
    """Put the row into the maker's own table; the digest tells which gauge it was. Raises Unwritable."""
    return keep_row(table, row, notes={"gauge": digest})
