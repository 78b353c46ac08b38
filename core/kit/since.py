"""What is not as it was in an earlier kit of the same picture, and what that does to the earlier program.

An earlier report comes from a folder that anybody may have changed, so nothing in it is taken on trust: what
is no number is not compared.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from core.kit.programs import STOCK_TOP

Report = Mapping[str, Any]
Path = tuple[str, ...]

MINUS = "\u2212"
#: A sheet measured this much otherwise, mm, is another sheet.
SAME_SHEET_MM = 5e-3


@dataclass(frozen=True)
class Since:
    """A number by its name, as it was and as it is now, its unit, and the digits that are said of it."""

    name: str
    was: float
    now: float
    unit: str
    digits: int


@dataclass(frozen=True)
class Earlier:
    """changes of the earlier kit; tabs_mm: (as meant, as they come out) when its program met this sheet.

    is_through: whether the earlier program would cut this sheet through.
    """

    changes: tuple[Since, ...]
    tabs_mm: tuple[float, float] | None = None
    is_through: bool = True


#: Beyond it a number is no length, speed or count of ours.
LARGEST = 1e9
#: Name, unit, digits, and where the report has it; those that matter most at the bench come first.
_NUMBERS: tuple[tuple[str, str, int, Path], ...] = (
    ("sheet", "mm", 2, ("stock", "thickness_mm")),
    ("height", "mm", 2, ("height_mm",)),
    ("pieces", "", 0, ("pieces",)),
    ("bit", "mm", 3, ("program", "bit_mm")),
    ("spindle", "rpm", 0, ("program", "spindle_rpm")),
    ("feed", "mm/min", 0, ("program", "feed_mm_min")),
    ("plunge", "mm/min", 0, ("program", "plunge_mm_min")),
    ("depth each pass", "mm", 2, ("program", "depth_per_pass_mm")),
    ("set Z to", "mm", 2, ("bench", "set_z_mm")),
    ("lowest cut Z", "mm", 2, ("program", "bottom_z_mm")),
    ("stock width", "mm", 1, ("stock", "width_mm")),
    ("stock depth", "mm", 1, ("stock", "depth_mm")),
)


def since(earlier: Report | None, now: Report) -> Earlier | None:
    """What changed since an earlier report of the same picture; None without one, or where nothing did.

    now needs no more of its files than the picture that it came from.
    """
    if earlier is None or not _is_same_picture(earlier, now):
        return None
    changes = (*_changed(earlier, now), *_tabs_changed(earlier, now), *_films_changed(earlier, now))
    if not changes:
        return None
    return Earlier(changes, *_old_program_here(earlier, now))


def _is_same_picture(earlier: Report, now: Report) -> bool:
    one, other = _source(earlier), _source(now)
    return one is not None and one == other


def _source(report: Report) -> str | None:
    files = report.get("files")
    rows = [row for row in files if isinstance(row, Mapping)] if isinstance(files, list) else []
    return next((str(row.get("sha256")) for row in rows if row.get("role") == "source"), None)


def _number(report: Any, path: Path) -> float | None:
    for name in path:
        report = report.get(name) if isinstance(report, Mapping) else None
    is_number = isinstance(report, int | float) and not isinstance(report, bool)
    return float(report) if is_number and abs(report) < LARGEST else None


def _changed(earlier: Report, now: Report) -> Iterator[Since]:
    for name, unit, digits, path in _NUMBERS:
        yield from _one(name, unit, digits, (_number(earlier, path), _number(now, path)))


def _one(name: str, unit: str, digits: int, values: tuple[float | None, float | None]) -> Iterator[Since]:
    was, is_now = values
    if was is not None and is_now is not None and round(was, digits) != round(is_now, digits):
        yield Since(name, was, is_now, unit, digits)


def _tabs(report: Report, field: str) -> list[float]:
    program = report.get("program")
    tabs = program.get("tabs") if isinstance(program, Mapping) else None
    found = [_number(tab, (field,)) for tab in tabs] if isinstance(tabs, list) else []
    return [value for value in found if value is not None]


def _tabs_changed(earlier: Report, now: Report) -> Iterator[Since]:
    for name, field in (("lowest tab", "height_mm"), ("narrowest tab", "neck_mm")):
        values = [min(tabs) if tabs else None for tabs in (_tabs(earlier, field), _tabs(now, field))]
        yield from _one(name, "mm", 2, (values[0], values[1]))
    counts = [float(len(_tabs(report, "height_mm"))) for report in (earlier, now)]
    yield from _one("tabs", "", 0, (counts[0], counts[1]))


def _films_changed(earlier: Report, now: Report) -> Iterator[Since]:
    """Insets and sheet boxes of films that both have."""
    before = {str(film.get("name")): film for film in _films(earlier)}
    for film in _films(now):
        name = str(film.get("name"))
        other = before.get(name, {})
        yield from _one(
            f"{name} inset", "mm", 2, (_number(other, ("inset_mm",)), _number(film, ("inset_mm",)))
        )


def _films(report: Report) -> list[Report]:
    films = report.get("films")
    return [film for film in films if isinstance(film, Mapping)] if isinstance(films, list) else []


def _old_program_here(earlier: Report, now: Report) -> tuple[tuple[float, float] | None, bool]:
    """Tabs as the earlier program would leave them in this sheet, and whether it would cut it through.

    Its cut ends a fixed depth below its zero: on the stock's top a thinner sheet takes the difference off
    the tabs, and a thicker one is not reached through; zeroed on the board both come out as meant.
    """
    was, is_now = (_number(report, ("stock", "thickness_mm")) for report in (earlier, now))
    on_top = isinstance(frame := earlier.get("frame"), Mapping) and frame.get("z_zero") == STOCK_TOP
    bottom, tabs = _number(earlier, ("program", "bottom_z_mm")), _tabs(earlier, "height_mm")
    if was is None or is_now is None or abs(was - is_now) < SAME_SHEET_MM or not on_top or bottom is None:
        return None, True
    if -bottom <= was:  # it was not meant to cut through: a skin holds the part
        return None, True
    lower = was - is_now
    comes_out = (min(tabs), max(min(tabs) - lower, 0.0)) if tabs else None
    return comes_out, -bottom > is_now


def reported_since(earlier: Earlier | None) -> dict[str, Any] | None:
    """The report's entry."""
    if earlier is None:
        return None
    return {
        "changed": [{"name": one.name, "was": one.was, "now": one.now} for one in earlier.changes],
        "earlier_tabs_mm": None if earlier.tabs_mm is None else list(earlier.tabs_mm),
        "earlier_cuts_through": earlier.is_through,
    }


def said_since(earlier: Earlier | None) -> tuple[str, str]:
    """What changed, in one line, and what the earlier program would do here ("" where nothing to fear)."""
    if earlier is None:
        return "", ""
    parts = [_said(one) for one in earlier.changes]
    return "; ".join(parts), _warned(earlier)


def _said(one: Since) -> str:
    unit = f" {one.unit}" if one.unit else ""
    was, now = (f"{value:.{one.digits}f}".replace("-", MINUS) for value in (one.was, one.now))
    return f"{one.name} was {was}, now {now}{unit}"


def _warned(earlier: Earlier) -> str:
    if not earlier.is_through:
        return "The earlier program would not cut this sheet through: use the new one."
    if earlier.tabs_mm is None:
        return ""
    meant, here = earlier.tabs_mm
    what = f"tabs {here:.2f} mm tall, not {meant:.2f}" if here > 0.0 else f"no tab at all, not {meant:.2f} mm"
    return f"The earlier program would leave {what}: use the new one."
