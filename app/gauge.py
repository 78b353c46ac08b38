"""`samecut gauge make` and `samecut gauge read`: one plate on both machines, and what its readings say."""

from pathlib import Path
from typing import Annotated

import typer

from app import work
from app.asked import Asked
from app.opened import check_kit_place
from app.tables import rows_of
from app.told import Told, progress
from core.files import write_folder
from core.findings import has_stop
from core.job.job import Job
from core.job.tables import Table, row_named
from core.kit.older_kit import is_older_kit

gauge = typer.Typer(help="A small plate cut on both machines, measured, that makes them agree.")


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
    from app import gauge_readings  # noqa: PLC0415 - it needs arrays

    named = ((Table.MACHINE, machine), (Table.CUTTER, cutter), (Table.SHEET, sheet), (Table.BIT, bit))
    rows = tuple(row_named(rows_of(table), name, table) for table, name in named if name is not None)
    asked = Asked(settings=tuple(settings or ()), rows=rows)
    check_kit_place(out)
    with progress() as tell:
        kit = work.make_gauge(asked.job(Job()), tell)
    write_folder(out, kit.files, is_older_kit)
    told = Told(None)
    told.kit(out, kit.report, len(kit.files))
    gauge_readings.lay_form(out, told)
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
    from app import gauge_readings  # noqa: PLC0415 - it needs arrays

    gauge_readings.tell_readings(folder, form, machine, cutter)
    return 0
