"""What is read on a gauge, worked out and kept; it needs arrays, so it is imported when it is asked for."""

from pathlib import Path

from app.gauged import TABLES, Cut, cut_in, form_in, keep, put_right_in, row_called, today
from app.told import Told
from core.errors import WrongCall
from core.files import write_file
from core.gauge.depths import depth_lines, depths_of
from core.gauge.form import DAY, Machine, Readings, form_text, read_form, with_said
from core.gauge.put_right import PutRight, put_right_by
from core.gauge.solve import solve
from core.gauge.told import lines_of
from core.job.tables import Row, Table
from core.sheet.correction import Correction


def lay_form(folder: Path, told: Told) -> None:
    """An empty form beside a gauge's kit; one that is there already stays. Raises Unwritable."""
    form = folder.with_name(f"{folder.name}-readings.toml")
    if form.exists():
        told.say(f"note: {form} is there already and was left as it is.")
        return
    write_file(form, form_text(folder.name).encode())
    told.say(f"Write what you measure into {form}, then: samecut gauge read {folder}")


def tell_readings(folder: Path, form: Path | None, router: str | None, cutter: str | None) -> None:
    """Say what the readings tell, and keep it where a name is given. Raises errors of core/errors.py."""
    cut = cut_in(folder)
    place = form or cut.form
    found = read_form(form_in(place), str(place))
    if not found:
        raise WrongCall(f"{place} holds no reading yet; write what you measured into it.")
    told = Told(None)
    names = {Machine.ROUTER: router, Machine.CUTTER: cutter}
    for which, readings in found.items():
        right = _say(which, readings, cut.written_with[which], told)
        name = names[which]
        if name is not None and right is not None:
            day = readings.day or _dated(place, which)
            _keep(TABLES[which], name, right, day, cut, told)
    for which, name in names.items():
        if name is not None and which not in found:
            told.say(f"note: there are no readings of the {which}, so '{name}' stays as it was.")


def _say(which: Machine, readings: Readings, written_with: Correction, told: Told) -> PutRight | None:
    told.say(f"{which}, {len(readings.readings) + len(readings.depths)} readings:")
    depths = depths_of(readings.depths, readings.deviation_mm)
    for line in depth_lines(depths) if depths else ():
        told.say(f"  {line}")
    if not readings.readings:
        return None
    solved = solve(readings.readings, readings.deviation_mm)
    right = put_right_by(solved, written_with)
    for line in lines_of(solved, readings.deviation_mm):
        told.say(f"  {line}")
    group = TABLES[which].group
    told.say(
        "  to make it good: " + ", ".join(f"{group}.{key}={text}" for key, text in right.choices().items())
    )
    return right


def _dated(form: Path, which: Machine) -> str:
    """Today, and the form says so from now on: read again next year, the gauge is as old as it is."""
    day = today()
    write_file(form, with_said(form_in(form), which, {DAY: day}).encode())
    return day


def _keep(table: Table, name: str, right: PutRight, day: str, cut: Cut, told: Told) -> None:
    """The row of this name with its correction; a row of ours is taken over whole. Raises Unwritable."""
    row = put_right_in(row_called(table, name) or Row(name.strip(), "", ()), table, right, day)
    place = keep(table, row, cut.digest)
    told.say(f"  kept as '{row.name}' in {place}; it stands for this gauge, however often it is read.")
