"""Whether a folder is an older kit that a new one may replace."""

import json
from collections.abc import Iterator
from pathlib import Path

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


def _listed(data: bytes) -> Iterator[str]:
    """The names that a report lists; none when it is no report."""
    try:
        report = json.loads(data)
    except (ValueError, RecursionError):
        return
    if isinstance(report, dict) and report.get("report") and isinstance(report.get("files"), list):
        for entry in report["files"]:
            if isinstance(entry, dict) and isinstance(entry.get("path"), str):
                yield entry["path"]
