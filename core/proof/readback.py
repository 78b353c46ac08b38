"""What the read-back found: figures for the report, and findings where a promise is broken."""

from dataclasses import dataclass, field
from enum import StrEnum

from core.findings import Finding, Level, Point
from core.proof.edges import EdgeDistance

#: mm, promise 1: the height asked for, in every file.
HEIGHT_WITHIN = 0.005
#: mm, promise 2: part and films against the outline.
EDGE_WITHIN = 0.01
#: mm, promise 3: every mark in every file.
MARK_WITHIN = 0.001
#: mm by which a measured tab may differ from the stated one.
TAB_WITHIN = 0.02


class Why(StrEnum):
    """Why an edge differs from the outline on purpose; the words of the report."""

    TIP = "tip"
    ROUNDED = "rounded"
    UNREACHED = "unreached"
    OVERLAP = "overlap"
    DROPPED = "dropped"
    JOINED = "joined"
    FILLED = "filled"
    GROWN = "grown"
    MOVED = "moved"
    OPENED = "opened"
    RIM = "rim"
    BRIDGE = "bridge"
    RELIEF = "relief"


@dataclass(frozen=True)
class Excepted:
    """A stretch of edge that differs on purpose: where, why, and its length in mm."""

    at: Point
    why: Why
    size_mm: float


@dataclass(frozen=True)
class RuleCount:
    """How many rules of safe motion were looked at, and which were broken, in words."""

    checked: int = 0
    broken: tuple[str, ...] = ()


@dataclass(frozen=True)
class Readback:
    """height_error, mark_error mm; edge None where there is no program; films by name.

    plots: the same of the plots by film, whose unit is coarser; plot_mark_error_mm None without plots.
    """

    height_error_mm: float = 0.0
    edge: EdgeDistance | None = None
    films: dict[str, EdgeDistance] = field(default_factory=dict)
    mark_error_mm: float = 0.0
    excepted: tuple[Excepted, ...] = ()
    rules: RuleCount = field(default_factory=RuleCount)
    findings: tuple[Finding, ...] = ()
    plots: dict[str, EdgeDistance] = field(default_factory=dict)
    plot_mark_error_mm: float | None = None


def breach(code: str, text: str, at: Point | None = None) -> Finding:
    """A stop: the bytes do not say what the report claims."""
    remedy = "Do not use this kit: make it again from its Job, and report the fault if it returns."
    return Finding(Level.STOP, code, text, remedy, at)
