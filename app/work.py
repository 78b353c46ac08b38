"""The long work behind the commands; importing it takes a second, so that happens when a command needs it."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from core.cancel import NEVER, CancelToken
from core.job.job import Job, Source
from core.kit.also import NOTHING, Also

if TYPE_CHECKING:
    from core.kit.kit import Kit
    from core.kit.make import Checked
    from core.limits import Limits


def make_kit(
    job: Job, source: Source, token: CancelToken, progress: Callable[[str], None], also: Also = NOTHING
) -> "Kit":
    """Make the kit in memory, and prove it. Raises errors of core/errors.py."""
    from core.kit import make  # noqa: PLC0415 - slow to import, needed only here

    return make.make_kit(job, source, token, progress, also)


def make_kits(
    jobs: Iterable[Job], source: Source, token: CancelToken, progress: Callable[[str], None]
) -> "Iterator[Kit]":
    """The kits of several Jobs of one picture, one after the other. Raises errors of core/errors.py."""
    from core.kit import make  # noqa: PLC0415 - slow to import, needed only here

    return make.make_kits(jobs, source, token, progress)


def make_gauge(job: Job, progress: Callable[[str], None]) -> "Kit":
    """The kit of the gauge on the machines, sheet and bit of this Job. Raises errors of core/errors.py."""
    from core.kit import gauge, make  # noqa: PLC0415 - slow to import, needed only here

    return make.make_kit(*gauge.gauge_job(job), NEVER, progress)


def find_limits(job: Job, source: Source, token: CancelToken, progress: Callable[[str], None]) -> "Limits":
    """How small and how large the shape may be made. Raises errors of core/errors.py."""
    from core import build, limits  # noqa: PLC0415 - slow to import, needed only here

    return limits.limits_of(build.build(job, source, None, token, progress), token, progress)


def check_kit(files: Mapping[str, bytes]) -> "Checked":
    """Prove a kit's files again. Raises UnreadableFile."""
    from core.kit import make  # noqa: PLC0415 - slow to import, needed only here

    return make.check_kit(files)


def residual(files: Mapping[str, bytes], readings: Iterable[str]) -> tuple[str, ...]:
    """How well readings agree with a kit's marks, in words. Raises errors of core/errors.py."""
    from core.kit import agree  # noqa: PLC0415 - slow to import, needed only here

    return agree.agreement_lines(agree.agreed(files, tuple(map(agree.reading_of, readings))))


def inspect_program(data: bytes, name: str) -> "Checked":
    """Read any RS-274 program. Raises UnreadableFile."""
    from core.kit import make  # noqa: PLC0415 - slow to import, needed only here

    return make.inspect_program(data, name)
