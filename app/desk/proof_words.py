"""What a kit's report says, in words: how far the files differ, and what each file is for."""

from collections.abc import Iterator, Mapping
from typing import Any

_FOR = {
    "part-program": "runs on the router and cuts the part",
    "clearance-lap": "a lap above the work, to run first",
    "air-cut": "the whole cut, held above the work",
    "nest-program": "mills a nest into a board, which the part lies in while films go on",
    "nest-lap": "a lap above the board, to run before its program",
    "part-drawing": "the part, to look at or cut elsewhere",
    "film-drawing": "for the knife",
    "film-plot": "for the knife, to be sent to the cutter as it is",
    "paper-proof": "to print and cut with scissors: the size, before anything is cut",
    "job-sheet": "to print and take to the bench",
    "gauge-page": "what to measure on the gauge",
    "picture": "how it will look",
    "job": "every choice, to drop here again",
    "source": "the picture it came from",
    "no-program": "why there is no router program",
}


def proof_told(report: Mapping[str, Any]) -> str:
    """One sentence: what reading back found."""
    found = report.get("readback") or {}
    films = [one.get("max") for one in (found.get("film_error_mm") or {}).values()]
    parts = (
        ("part", (found.get("edge_error_mm") or {}).get("max")),
        ("films", max((one for one in films if one is not None), default=None)),
        ("marks", found.get("mark_error_mm")),
    )
    told = [f"{what} by {value:.3f} mm" for what, value in parts if value is not None]
    if not told:
        return "The files were written; there was nothing to read back."
    return f"Read back from the files: {', '.join(told)} at most from what was asked."


def since_told(report: Mapping[str, Any]) -> str:
    """What is not as it was in the kit that lay there before; empty where none lay there."""
    since = report.get("since")
    if not since:
        return ""
    changed = [f"{one['name']} was {one['was']:g}, now {one['now']:g}" for one in since.get("changed") or ()]
    said = f"Since the last kit here: {'; '.join(changed) or 'no number has changed'}."
    is_unsafe = not since.get("earlier_cuts_through", True) or since.get("earlier_tabs_mm") is not None
    return f"{said} The earlier program does not fit this sheet: use the new one." if is_unsafe else said


def files_told(report: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Each file's name and what it is for."""
    for entry in report.get("files") or ():
        what = _FOR.get(str(entry.get("role")), "")
        film = f"film {entry['film']}, " if entry.get("film") else ""
        yield str(entry.get("path")), f"{film}{what}"
