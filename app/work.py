"""The long work behind the commands, imported only when a command needs it."""

from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any, Protocol, cast

from core.cancel import CancelToken
from core.findings import Finding
from core.job import Job, Source


class Made(Protocol):
    """A kit: every file by its name, the report among them; the report as an object; the findings."""

    @property
    def files(self) -> Mapping[str, bytes]:
        """Bytes by name, the report among them."""

    @property
    def report(self) -> Mapping[str, Any]:
        """The report as an object."""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings."""


class Checked(Protocol):
    """What reading back found."""

    @property
    def report(self) -> Mapping[str, Any]:
        """The report as an object."""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings."""


class Work(Protocol):
    """What core/make.py gives; each raises errors of core/errors.py and nothing else."""

    def make_kit(self, job: Job, source: Source, token: CancelToken, progress: Callable[[str], None]) -> Made:
        """Make the kit in memory, and prove it."""

    def check_kit(self, files: Mapping[str, bytes]) -> Checked:
        """Prove a kit's files again."""

    def inspect_program(self, data: bytes, name: str) -> Checked:
        """Read any RS-274 program."""


def work() -> Work:
    """The work; importing it takes as long as numpy, OpenCV and shapely take."""
    return cast("Work", import_module("core.make"))
