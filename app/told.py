"""What a command tells: its result on standard output, progress and errors on standard error."""

import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any, TextIO

from app.stages import doing
from core.files import write_file
from core.findings import Finding, Point
from core.grouped import grouped
from core.job.job import Job


class Told:
    """Results in words go to standard output, or to standard error when the report takes that place."""

    def __init__(self, report: str | None) -> None:
        self._report = report
        self._words = sys.stderr if report == "-" else sys.stdout

    def say(self, line: str) -> None:
        """One line in words."""
        say(self._words, line)

    def kit(self, folder: Path, report: Mapping[str, Any], count: int) -> None:
        """What was made, and what the proof found."""
        self.say(f"{folder}: {count} files, {_size(report)}.")
        self.proof(report)

    def proof(self, report: Mapping[str, Any]) -> None:
        """How far the files differ from what was asked."""
        found = report.get("readback") or {}
        edge = (found.get("edge_error_mm") or {}).get("max")
        parts = (
            ("edge", edge),
            ("height", found.get("height_error_mm")),
            ("marks", found.get("mark_error_mm")),
        )
        said = [f"{what} {abs(value):.3f} mm" for what, value in parts if value is not None]
        if said:
            self.say(f"Read back from the files, off by at most: {', '.join(said)}.")

    def unknown(self, keys: Sequence[str]) -> None:
        """What a saved Job held and nobody here understood."""
        for key in keys:
            self.say(f"note: {key} in the Job is not known here; it was kept and not followed.")

    def findings(self, findings: tuple[Finding, ...]) -> None:
        """Findings of one kind on a line, worst first, with the first of their places."""
        for group in grouped(findings):
            count = f"{len(group.findings)} x: " if len(group.findings) > 1 else ""
            self.say(f"{group.level}: {count}{group.text}{_where(group.places)} {group.remedy}")

    def old_gauges(self, job: Job) -> None:
        """Which corrections come from a gauge that should be cut again, by the maker's own day."""
        from core.job.old_gauge import old_gauges  # noqa: PLC0415 - it needs arrays, and words do not

        for sentence in old_gauges(job, datetime.now().astimezone().date()):
            self.say(f"note: {sentence}")

    def report(self, data: bytes) -> None:
        """The report where it was asked for. Raises Unwritable."""
        if self._report == "-":
            sys.stdout.flush()
            sys.stdout.buffer.write(data)
            sys.stdout.buffer.flush()
        elif self._report is not None:
            write_file(Path(self._report), data)


#: Places of one kind of finding that are told; the report has all of them.
MOST_PLACES = 3


def _where(places: Sequence[Point]) -> str:
    told = ", ".join(f"({x:.1f}, {y:.1f})" for x, y in places[:MOST_PLACES])
    more = ", …" if len(places) > MOST_PLACES else ""
    return f" At {told}{more} mm." if told else ""


def _size(report: Mapping[str, Any]) -> str:
    width, height = report.get("width_mm"), report.get("height_mm")
    return f"{width:g} x {height:g} mm" if width is not None and height is not None else "made"


def say(stream: TextIO, line: str) -> None:
    """The line, with question marks for what the stream cannot print."""
    encoding = stream.encoding or "utf-8"
    stream.write(line.encode(encoding, "replace").decode(encoding) + "\n")


def tell_error(sentence: str) -> None:
    """One sentence on standard error, whatever the line breaks in what it quotes."""
    say(sys.stderr, " ".join(sentence.split()))


@contextmanager
def progress() -> Iterator[Callable[[str], None]]:
    """Called with the name of each stage; shown while it lasts, when standard error is a terminal."""
    if not sys.stderr.isatty():
        yield _silent
        return
    from rich.console import Console  # noqa: PLC0415 - slow to import, needed only here

    with Console(stderr=True).status("starting") as status:
        yield lambda stage: status.update(doing(stage))


def _silent(_stage: str) -> None:
    """Nobody is watching."""
