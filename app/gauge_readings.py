"""What is read on a gauge, worked out and kept; it needs arrays, so it is imported when it is asked for."""

import json
from collections.abc import Mapping
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

from app import work
from app.tables import keep_row, rows_of
from app.told import Told
from core.errors import UnreadableFile, WrongCall
from core.files import mend, read_file, read_folder, write_file
from core.findings import has_stop
from core.gauge.artwork import is_gauge
from core.gauge.depths import depth_lines, depths_of
from core.gauge.form import Machine, Readings, form_text, read_form
from core.gauge.put_right import PutRight, put_right_by
from core.gauge.solve import solve
from core.gauge.told import lines_of
from core.job.tables import Row, Table
from core.kit.older_kit import REPORT
from core.sheet.correction import Correction

#: Bytes; a form filled in has a hundredth of it.
_LARGEST_FORM = 1 << 18
_TABLES = {Machine.ROUTER: Table.MACHINE, Machine.CUTTER: Table.CUTTER}


def lay_form(folder: Path, told: Told) -> None:
    """An empty form beside a gauge's kit; one that is there already stays. Raises Unwritable."""
    form = form_of(folder)
    if form.exists():
        told.say(f"note: {form} is there already and was left as it is.")
        return
    write_file(form, form_text(folder.name).encode())
    told.say(f"Write what you measure into {form}, then: samecut gauge read {folder}")


def tell_readings(folder: Path, form: Path | None, router: str | None, cutter: str | None) -> None:
    """Say what the readings tell, and keep it where a name is given. Raises errors of core/errors.py."""
    mend(folder)
    cut_with, digest = cut_with_of(read_folder(folder), folder)
    place = form or form_of(folder)
    found = read_form(read_file(place, _LARGEST_FORM).decode("utf-8", "replace"), str(place))
    if not found:
        raise WrongCall(f"{place} holds no reading yet; write what you measured into it.")
    told = Told(None)
    names = {Machine.ROUTER: router, Machine.CUTTER: cutter}
    for which, readings in found.items():
        right = _say(which, readings, cut_with[which], told)
        name = names[which]
        if name is not None and right is not None:
            _keep(_TABLES[which], name, right, digest, told)
    for which, name in names.items():
        if name is not None and which not in found:
            told.say(f"note: there are no readings of the {which}, so '{name}' stays as it was.")


def form_of(folder: Path) -> Path:
    """The form lies beside its kit: what is written into it must not change the kit."""
    return folder.with_name(f"{folder.name}-readings.toml")


def today() -> str:
    """The maker's own day, as ISO 8601 writes it."""
    return datetime.now().astimezone().date().isoformat()


def cut_with_of(kit: Mapping[str, bytes], folder: Path) -> tuple[dict[Machine, Correction], str]:
    """The correction that each machine's files were written with, and which gauge it was."""
    if not any(is_gauge(data) for data in kit.values()):
        raise UnreadableFile(f"{folder} is no kit of a gauge; `samecut gauge make` makes one.")
    checked = work.check_kit(kit)
    if has_stop(checked.findings):
        worst = checked.findings[0].text
        raise UnreadableFile(f"{folder} is not as it was made: {worst} Read the gauge that was cut.")
    stated: Mapping[str, Any] = json.loads(kit[REPORT])["correction"]
    corrections = {which: Correction.as_reported(stated[str(which)]) for which in Machine}
    return corrections, sha256(kit[REPORT]).hexdigest()[:16]


def _say(which: Machine, readings: Readings, cut_with: Correction, told: Told) -> PutRight | None:
    told.say(f"{which}, {len(readings.readings) + len(readings.depths)} readings:")
    depths = depths_of(readings.depths, readings.deviation_mm)
    for line in depth_lines(depths) if depths else ():
        told.say(f"  {line}")
    if not readings.readings:
        return None
    solved = solve(readings.readings, readings.deviation_mm)
    right = put_right_by(solved, cut_with)
    for line in lines_of(solved, readings.deviation_mm):
        told.say(f"  {line}")
    group = _TABLES[which].group
    told.say(
        "  to make it good: " + ", ".join(f"{group}.{key}={text}" for key, text in right.choices().items())
    )
    return right


def _keep(table: Table, name: str, right: PutRight, digest: str, told: Told) -> None:
    """The row of this name with its correction; a row of ours is taken over whole. Raises Unwritable."""
    ours = next((row for row in rows_of(table) if row.name.casefold() == name.strip().casefold()), None)
    values = dict(ours.choices if ours else ())
    values |= {f"{table.group}.{key}": said for key, said in (right.choices() | {"gauged": today()}).items()}
    row = Row(ours.name if ours else name.strip(), ours.about if ours else "", tuple(values.items()))
    # Which gauge it was: for the maker, who may find the kit again by the digest of its report.
    place = keep_row(table, row, notes={"gauge": digest})
    told.say(f"  kept as '{row.name}' in {place}; it stands for this gauge, however often it is read.")
