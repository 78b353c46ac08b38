"""The command line: `samecut make`, `limits`, `check`, `inspect`, `residual`, `choices`, `tables`, `gauge`.

Exit codes: 0 done; 1 a stop was found; 2 the command was written wrongly; 3 a file cannot be read or
written. Whatever goes wrong is one sentence on standard error.
"""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from app import work
from app.asked import Asked
from app.gauge import gauge
from app.ladder import Ladder, make_ladder
from app.limit_words import limit_lines
from app.listing import listing_named
from app.opened import check_kit_place, check_report_place, earlier_report, opened, with_face
from app.tables import own_folder, rows_of
from app.told import Told, progress
from core.cancel import NEVER
from core.files import mend, read_file, read_folder, write_folder
from core.findings import has_stop
from core.job.job import CHOICES, Job
from core.job.tables import Table, row_named
from core.kit.also import Also
from core.kit.older_kit import REPORT, is_older_kit
from core.kit.report_bytes import report_bytes

if TYPE_CHECKING:
    from core.kit.make import Checked

application = typer.Typer(
    name="samecut",
    help="One picture and one height in; a routed part and a vinyl decal out, from one outline.",
    epilog="samecut with nothing, a picture or a saved Job opens the window.",
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)

application.add_typer(gauge, name="gauge")

Report = Annotated[
    str | None,
    typer.Option("--report", metavar="FILE", help="Also write the report there; - is standard output."),
]
#: Bytes; a program of a whole sheet has a tenth of it.
_LARGEST_PROGRAM = 256 << 20


@application.command()
def make(  # noqa: PLR0913, PLR0917 - one argument for each option of the command
    picture: Annotated[Path, typer.Argument(metavar="PICTURE|JOB", help="A picture, or a saved Job.")],
    out: Annotated[
        Path, typer.Option(metavar="FOLDER", help="Where the kit goes: absent, empty, or an older kit.")
    ],
    height: Annotated[
        list[str] | None,
        typer.Option(
            metavar="LENGTH", help="Height of the shape, like 118mm or 4 5/8 in; several make a kit each."
        ),
    ] = None,
    thickness: Annotated[
        list[str] | None,
        typer.Option(metavar="LENGTH", help="The sheet as measured; once for each place measured."),
    ] = None,
    fit: Annotated[
        str | None,
        typer.Option(metavar="WAY", help="How film and part come together: frame, edge, nest or sheet."),
    ] = None,
    copies: Annotated[
        str | None, typer.Option(metavar="N", help="That many pieces on one sheet, with one set of marks.")
    ] = None,
    face: Annotated[
        Path | None,
        typer.Option(metavar="PICTURE2", help="A second, edited picture that gives the films instead."),
    ] = None,
    machine: Annotated[
        str | None, typer.Option(metavar="NAME", help="A router from the table of machines.")
    ] = None,
    sheet: Annotated[
        str | None, typer.Option(metavar="NAME", help="A sheet from the table of sheets.")
    ] = None,
    bit: Annotated[str | None, typer.Option(metavar="NAME", help="A bit from the table of bits.")] = None,
    cutter: Annotated[
        str | None, typer.Option(metavar="NAME", help="A cutter from the table of cutters.")
    ] = None,
    settings: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="GROUP.CHOICE=VALUE", help="Any choice, by its name."),
    ] = None,
    since: Annotated[
        Path | None,
        typer.Option(metavar="KIT", help="An earlier kit: the job sheet says what changed; else FOLDER's."),
    ] = None,
    limits: Annotated[  # noqa: FBT002 - the command line's own way to say it
        bool, typer.Option("--limits", help="Also seek the smallest and largest good height: takes longer.")
    ] = False,
    report: Report = None,
) -> int:
    """Make the whole cut kit from a picture or a saved Job."""
    named = ((Table.MACHINE, machine), (Table.SHEET, sheet), (Table.BIT, bit), (Table.CUTTER, cutter))
    rows = tuple(row_named(rows_of(table), name, table) for table, name in named if name is not None)
    one = height[0] if height else None
    asked = Asked(one, tuple(thickness or ()), fit, copies, tuple(settings or ()), rows)
    asked.job(Job())  # a wrong option is said before any file is looked at
    if height and len(height) > 1:
        opener = opened(picture) if face is None else with_face(opened(picture), face)
        return make_ladder(opener, asked, height, Ladder(out, report))
    for source in (picture, *((face,) if face else ())):
        check_report_place(report, out, source)
    check_kit_place(out)
    also = Also(earlier_report(since, out), with_limits=limits)
    source = opened(picture) if face is None else with_face(opened(picture), face)
    with progress() as tell:
        kit = work.make_kit(asked.job(source.job), source.source, NEVER, tell, also)
    write_folder(out, kit.files, is_older_kit)
    told = Told(report)
    told.report(kit.files[REPORT])
    told.kit(out, kit.report, len(kit.files))
    told.unknown(source.unknown)
    if source.has_moved:
        told.say(f"note: the Job's picture is now {source.picture}; save the Job again to keep that.")
    told.findings(kit.findings)
    told.old_gauges(asked.job(source.job))
    return int(has_stop(kit.findings))


@application.command("limits")
def find_limits(
    picture: Annotated[Path, typer.Argument(metavar="PICTURE|JOB", help="A picture, or a saved Job.")],
    height: Annotated[
        str | None, typer.Option(metavar="LENGTH", help="Height of the shape from which to look.")
    ] = None,
    settings: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="GROUP.CHOICE=VALUE", help="Any choice, by its name."),
    ] = None,
) -> int:
    """The smallest and the largest height that can be cut, and what breaks beyond."""
    asked = Asked(height, settings=tuple(settings or ()))
    source = opened(picture)
    with progress() as tell:
        found = work.find_limits(asked.job(source.job), source.source, NEVER, tell)
    told = Told(None)
    for line in limit_lines(found):
        told.say(line)
    return int(found.smallest is None)


@application.command()
def check(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="A cut kit.")], report: Report = None
) -> int:
    """Read a kit's files back and prove them again."""
    check_report_place(report, folder, folder)
    mend(folder)
    files = read_folder(folder)
    with progress() as tell:
        tell("proof")
        checked = work.check_kit(files)
    return _tell(checked, f"{folder}: {len(files)} files", report)


@application.command()
def inspect(
    program: Annotated[Path, typer.Argument(metavar="PROGRAM", help="Any RS-274 program.")],
    report: Report = None,
) -> int:
    """Read any RS-274 program: extents, depth, rules, time."""
    check_report_place(report, program, program)
    data = read_file(program, _LARGEST_PROGRAM)
    with progress() as tell:
        tell("proof")
        checked = work.inspect_program(data, program.name)
    return _tell(checked, str(program), report)


@application.command()
def residual(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="The cut kit whose marks were read.")],
    reading: Annotated[
        list[str],
        typer.Argument(
            metavar="X,Y[=X,Y]...", help="Over each mark in order, or over a place from the zero."
        ),
    ],
) -> int:
    """How well readings over the marks agree: best turn, shift, scale, and the error left at the edge."""
    mend(folder)
    files, told = read_folder(folder), Told(None)
    for line in work.residual(files, reading):
        told.say(line)
    return 0


@application.command()
def choices(
    form: Annotated[str, typer.Option("--format", metavar="toml|json", help="How they are listed.")] = "toml",
) -> int:
    """Every choice: name, default, unit, limits, one line of help."""
    listed = listing_named(form)
    sys.stdout.buffer.write(listed(CHOICES.values()).encode())
    return 0


@application.command()
def tables() -> int:
    """The tables of routers, cutters, sheets and bits, and where your own go."""
    for table in Table:
        print(f"{table}s, and your own in {own_folder() / table.file_name}:")  # noqa: T201 - asked for
        for row in rows_of(table):
            print(f"  {row.name}" + (f": {row.about}" if row.about else ""))  # noqa: T201 - asked for
    return 0


def _tell(checked: "Checked", what: str, report: str | None) -> int:
    told = Told(report)
    told.report(report_bytes(checked.report))
    verdict = "a stop was found" if has_stop(checked.findings) else "no stop was found"
    told.say(f"{what}: {verdict}.")
    told.proof(checked.report)
    told.findings(checked.findings)
    return int(has_stop(checked.findings))
