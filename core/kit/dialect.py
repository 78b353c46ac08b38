"""What the Job's controller takes, and how long it needs for a path."""

from core.job.job import Job
from core.job.resolve import machine_of
from core.program.write.dialect import Dialect, SpindleBy
from core.router.motion import timed
from core.router.toolpath import Motion, Toolpath


def motion_seconds(toolpath: Toolpath, job: Job) -> float:
    """Seconds of motion by the machine's accelerations, spin-up left out."""
    rapid = toolpath.motions == Motion.RAPID
    return timed(
        toolpath.starts(), toolpath.ends, toolpath.bulges, toolpath.feeds, rapid, machine_of(job)
    ).total()


def dialect_of(job: Job) -> Dialect:
    """What the controller takes."""
    machine = job.machine
    return Dialect(
        takes_arcs=machine.arcs,
        ending=machine.ending,
        unit=machine.units,
        extension=f".{machine.extension}",
        dwell_unit=machine.dwell_unit,
        spindle=SpindleBy(machine.spindle),
        decimals=machine.decimals + (1 if machine.units == "inch" else 0),
        chord_tolerance_mm=machine.chords.value,
        line_limit=machine.line_length,
        newline="\r\n" if machine.line_ends == "CRLF" else "\n",
        has_line_numbers=machine.line_numbers,
        has_per_cent_signs=machine.per_cent,
        has_comments=machine.comments,
    )
