"""`samecut gauge make` and `samecut gauge read`: one plate on both machines, and what its readings say."""

import json
from collections.abc import Mapping
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Annotated, Any

import typer

from app import work
from app.asked import Asked
from app.opened import check_kit_place
from app.tables import own_folder, rows_of
from app.told import Told, progress
from core.errors import UnreadableFile, WrongCall
from core.files import mend, read_file, read_folder, write_file, write_folder
from core.findings import has_stop
from core.gauge.artwork import is_gauge
from core.gauge.form import Machine, Readings, form_text, read_form
from core.gauge.kept import with_row
from core.gauge.put_right import PutRight, put_right_by
from core.gauge.solve import solve
from core.gauge.told import lines_of
from core.job.job import Job
from core.job.tables import Table, row_named
from core.kit.older_kit import REPORT, is_older_kit
from core.sheet.correction import Correction

gauge = typer.Typer(help="A small plate cut on both machines, measured, that makes them agree.")

#: Bytes; a form filled in has a hundredth of it.
_LARGEST_FORM = 1 << 18
_TABLES = {Machine.ROUTER: Table.MACHINE, Machine.CUTTER: Table.CUTTER}


@gauge.command("make")
def make_gauge(
    out: Annotated[
        Path, typer.Option(metavar="FOLDER", help="Where the kit goes; the form to fill in lies beside it.")
    ],
    machine: Annotated[str | None, typer.Option(metavar="NAME", help="The router, from its table.")] = None,
    cutter: Annotated[str | None, typer.Option(metavar="NAME", help="The cutter, from its table.")] = None,
    sheet: Annotated[str | None, typer.Option(metavar="NAME", help="The sheet, from its table.")] = None,
    bit: Annotated[str | None, typer.Option(metavar="NAME", help="The bit, from its table.")] = None,
    settings: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="GROUP.CHOICE=VALUE", help="Any choice, by its name."),
    ] = None,
) -> int:
    """Make the kit of the gauge plate, and a form for its readings."""
    named = ((Table.MACHINE, machine), (Table.CUTTER, cutter), (Table.SHEET, sheet), (Table.BIT, bit))
    rows = tuple(row_named(rows_of(table), name, table) for table, name in named if name is not None)
    asked = Asked(settings=tuple(settings or ()), rows=rows)
    check_kit_place(out)
    with progress() as tell:
        kit = work.make_gauge(asked.job(Job()), tell)
    write_folder(out, kit.files, is_older_kit)
    told = Told(None)
    told.kit(out, kit.report, len(kit.files))
    form = form_of(out)
    if form.exists():
        told.say(f"note: {form} is there already and was left as it is.")
    else:
        write_file(form, form_text(out.name).encode())
        told.say(f"Write what you measure into {form}, then: samecut gauge read {out}")
    told.findings(kit.findings)
    return int(has_stop(kit.findings))


@gauge.command("read")
def read_gauge(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="The gauge's kit, as it was cut.")],
    form: Annotated[
        Path | None, typer.Option(metavar="FILE", help="The form, if not beside the kit.")
    ] = None,
    machine: Annotated[
        str | None, typer.Option(metavar="NAME", help="Keep the router's correction in your table, so named.")
    ] = None,
    cutter: Annotated[
        str | None, typer.Option(metavar="NAME", help="Keep the cutter's correction in your table, so named.")
    ] = None,
) -> int:
    """Say what the readings tell about router and cutter, and keep it where a name is given."""
    mend(folder)
    kit = read_folder(folder)
    cut_with, digest = cut_with_of(kit, folder)
    place = form or form_of(folder)
    found = read_form(read_file(place, _LARGEST_FORM).decode("utf-8", "replace"), str(place))
    if not found:
        raise WrongCall(f"{place} holds no reading yet; write what you measured into it.")
    told = Told(None)
    names = {Machine.ROUTER: machine, Machine.CUTTER: cutter}
    for which, readings in found.items():
        right = _say(which, readings, cut_with[which], told)
        name = names[which]
        if name is not None:
            _keep(_TABLES[which], name, right, digest, told)
    for which, name in names.items():
        if name is not None and which not in found:
            told.say(f"note: there are no readings of the {which}, so '{name}' stays as it was.")
    return 0


def today() -> str:
    """The maker's own day, as ISO 8601 writes it."""
    return datetime.now().astimezone().date().isoformat()


def form_of(folder: Path) -> Path:
    """The form lies beside its kit: what is written into it must not change the kit."""
    return folder.with_name(f"{folder.name}-readings.toml")


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


def _say(which: Machine, readings: Readings, cut_with: Correction, told: Told) -> PutRight:
    solved = solve(readings.readings, readings.deviation_mm)
    right = put_right_by(solved, cut_with)
    told.say(f"{which}, {len(readings.readings)} readings:")
    for line in lines_of(solved, readings.deviation_mm):
        told.say(f"  {line}")
    group = _TABLES[which].group
    told.say(
        "  to make it good: " + ", ".join(f"{group}.{key}={text}" for key, text in right.choices().items())
    )
    return right


def _keep(table: Table, name: str, right: PutRight, digest: str, told: Told) -> None:
    """The row of this name with its correction; a row of ours is taken over whole. Raises Unwritable."""
    place = own_folder() / table.file_name
    text = read_file(place).decode("utf-8", "replace") if place.is_file() else ""
    ours = next((row for row in rows_of(table) if row.name.casefold() == name.strip().casefold()), None)
    values = {key.partition(".")[2]: said for key, said in (ours.choices if ours else ())}
    values |= right.choices() | {"gauged": today(), "gauge": digest}
    place.parent.mkdir(parents=True, exist_ok=True)
    write_file(place, with_row(text, str(place), ours.name if ours else name.strip(), values).encode())
    told.say(f"  kept as '{name}' in {place}; it stands for this gauge, however often it is read.")
