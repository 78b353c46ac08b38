"""A finding: something the maker should know about the work."""

from dataclasses import dataclass
from enum import StrEnum


class Level(StrEnum):
    """How much a finding matters; a stop keeps every router program from being written."""

    STOP = "stop"
    CAUTION = "caution"
    NOTE = "note"


Point = tuple[float, float]


@dataclass(frozen=True)
class Finding:
    """What, where (mm in the frame, or None), why it matters and what to do about it."""

    level: Level
    code: str
    text: str
    remedy: str
    at: Point | None = None


def worst_first(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The same findings, stops first and notes last, otherwise in their order."""
    order = list(Level)
    return tuple(sorted(findings, key=lambda finding: order.index(finding.level)))


def has_stop(findings: tuple[Finding, ...]) -> bool:
    """Whether any of them keeps the program from being written."""
    return any(finding.level is Level.STOP for finding in findings)
