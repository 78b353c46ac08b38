"""What any program says of itself, for `samecut inspect`: extents, depths, feeds, time, safe motion."""

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite, nan

import numpy as np
from numpy.typing import NDArray

from core.program.read.program import EventKind, Program
from core.proof.limits import Limits, Place, RulesReport
from core.proof.removal import corners_of, cuts_below
from core.proof.rules import judge
from core.proof.spin import SECONDS_PER_DWELL
from core.proof.sweeps import Motion, lengths_of, motion_of

Floats = NDArray[np.float64]
#: Seconds that a machine takes for the moves, dwells left out; the router's motion model is one.
MotionTime = Callable[[Motion], float]

#: mm; levels that differ by less are one.
SAME_LEVEL = 1e-3
#: mm/min and rpm that differ by less are one.
SAME_SPEED = 0.05


@dataclass(frozen=True)
class Box:
    """Lowest and highest x, y, z, mm, program; arcs with their bellies."""

    low: Place
    high: Place


@dataclass(frozen=True)
class Inspection:
    """What a program does, in mm, mm/min, rpm and s.

    every: where the bit's centre goes; cutting: where it goes by G1 to G3 (None: never); levels: heights of
    level cuts, highest first; cut_length_mm: the path of G1 to G3 below the stock's top; motion_s: None
    where nobody timed the moves, or a cut has no feed; dwell_s: by the stated unit.
    """

    every: Box | None
    cutting: Box | None
    levels: tuple[float, ...]
    feeds: tuple[float, ...]
    speeds: tuple[float, ...]
    cut_length_mm: float
    feed_time_s: float
    dwell_s: float
    motion_s: float | None
    move_count: int
    arc_count: int
    rules: RulesReport


def inspect(
    program: Program, motion_time: MotionTime | None = None, dwell_unit: str = "s", top_z_mm: float = 0.0
) -> Inspection:
    """The summary of a program; the stock's top is taken to be top_z_mm, since no program says it."""
    dwells = [event.value for event in program.events if event.kind is EventKind.DWELL]
    cuts = ~program.is_rapid
    lengths = np.nan_to_num(lengths_of(program))
    with np.errstate(invalid="ignore"):
        seconds = np.nan_to_num(lengths / program.feeds * 60.0)
    return Inspection(
        every=_box(program, np.ones(len(program), bool)),
        cutting=_box(program, cuts),
        levels=_levels(program),
        feeds=_distinct(program.feeds[cuts]),
        speeds=_distinct(program.rpm),
        cut_length_mm=_length_below(program, top_z_mm),
        feed_time_s=float(seconds[cuts].sum()),
        dwell_s=sum(dwells) * SECONDS_PER_DWELL[dwell_unit],
        motion_s=_timed(program, motion_time),
        move_count=len(program),
        arc_count=int(np.count_nonzero(program.turns)),
        rules=judge(program, assumed_limits(program, dwell_unit, top_z_mm)),
    )


def _timed(program: Program, motion_time: MotionTime | None) -> float | None:
    """Nothing where nobody times it, or a cut has no feed and so takes no time that can be told."""
    seconds = nan if motion_time is None else motion_time(motion_of(program))
    return seconds if isfinite(seconds) else None


def assumed_limits(program: Program, dwell_unit: str, top_z_mm: float) -> Limits:
    """What can be asked of a program without its job: rapids no lower than the stock's top, and no claims."""
    deepest = float(np.nanmin(program.ends[:, 2], initial=top_z_mm)) if len(program) else top_z_mm
    return Limits(top_z_mm, top_z_mm, deepest, dwell_unit=dwell_unit)


def _box(program: Program, which: NDArray[np.bool_]) -> Box | None:
    cuts = cuts_below(program, np.inf)
    picked = which[cuts.rows]
    corners, _ = corners_of(program, type(cuts)(cuts.rows[picked], cuts.first[picked], cuts.last[picked]))
    ends = program.ends[which]
    ends = ends[~np.isnan(ends).any(axis=1)]
    if not len(ends):
        return None
    flat = np.vstack((ends[:, :2], corners))
    low, high = flat.min(axis=0), flat.max(axis=0)
    return Box(
        (float(low[0]), float(low[1]), float(ends[:, 2].min())),
        (float(high[0]), float(high[1]), float(ends[:, 2].max())),
    )


def _levels(program: Program) -> tuple[float, ...]:
    level = ~program.is_rapid & (np.abs(program.ends[:, 2] - program.starts[:, 2]) < SAME_LEVEL)
    return _distinct(program.ends[level, 2], SAME_LEVEL)[::-1]


def _distinct(values: Floats, same: float = SAME_SPEED) -> tuple[float, ...]:
    """The values, lowest first, without those that differ from one before by less than same."""
    ordered = np.unique(values[~np.isnan(values)])
    keep = np.append(True, np.diff(ordered) >= same)[: ordered.size]
    return tuple(ordered[keep].tolist())


def _length_below(program: Program, z: float) -> float:
    cuts = cuts_below(program, z - SAME_LEVEL)
    lengths = lengths_of(program)[cuts.rows] * (cuts.last - cuts.first)
    return float(lengths[~program.is_rapid[cuts.rows]].sum())
