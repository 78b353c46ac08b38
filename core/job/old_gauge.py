"""Whether a gauge is so old that it should be cut again; the caller says the day, since no kit knows one."""

from datetime import date

from core.findings import Finding, Level
from core.job.job import Job
from core.job.kinds import NEVER
from core.job.resolve import cutter_correction, router_correction

#: Days; belts stretch and rails are knocked, so a year is long enough (common practice, no source).
LASTS = 365


def old_gauges(job: Job, today: date) -> tuple[str, ...]:
    """A sentence for each machine whose correction comes from a gauge that is old, or of no known day."""
    machines = (
        ("router", router_correction(job), job.machine.gauged),
        ("cutter", cutter_correction(job), job.knife.gauged),
    )
    return tuple(
        _sentence(machine, day)
        for machine, correction, day in machines
        if not correction.is_none and (day == NEVER or (today - date.fromisoformat(day)).days > LASTS)
    )


def old_gauge_findings(job: Job, today: date) -> tuple[Finding, ...]:
    """The same as cautions, for who shows findings."""
    remedy = "Cut the gauge again, type its readings, and keep what they say."
    return tuple(Finding(Level.CAUTION, "gauge-old", text, remedy) for text in old_gauges(job, today))


def _sentence(machine: str, day: str) -> str:
    if day == NEVER:
        return f"The {machine} is corrected by numbers of no known day; a gauge tells whether they hold."
    return f"The {machine} is corrected by a gauge of {day}, more than a year old; cut it again."
