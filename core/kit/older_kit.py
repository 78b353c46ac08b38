"""Whether a folder is an older kit that a new one may replace, and what its report says."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

REPORT = "report.json"
#: Bytes; the report of a sheet full of copies has a hundredth of it.
_LARGEST_REPORT = 16 << 20


def is_older_kit(folder: Path) -> bool:
    """Whether the folder holds a report and plain files that it lists, and nothing else. Raises OSError."""
    report = folder / REPORT
    if report.is_symlink() or not report.is_file() or report.stat().st_size > _LARGEST_REPORT:
        return False
    listed = {REPORT, *_listed(report.read_bytes())}
    entries = list(folder.iterdir())
    return all(entry.name in listed and entry.is_file() and not entry.is_symlink() for entry in entries)


def report_in(folder: Path) -> Mapping[str, Any] | None:
    """The report of the kit in a folder; None where there is none that can be read. Raises OSError."""
    report = folder / REPORT
    if report.is_symlink() or not report.is_file() or report.stat().st_size > _LARGEST_REPORT:
        return None
    return _read(report.read_bytes())


def _read(data: bytes) -> Mapping[str, Any] | None:
    try:
        report = json.loads(data)
    except (ValueError, RecursionError):
        return None
    return report if isinstance(report, dict) and report.get("report") else None


def _listed(data: bytes) -> Iterator[str]:
    """The names that a report lists; none when it is no report."""
    report = _read(data)
    if report is not None and isinstance(report.get("files"), list):
        for entry in report["files"]:
            if isinstance(entry, dict) and isinstance(entry.get("path"), str):
                yield entry["path"]
