"""Whether the spindle has had its time to spin up before it cuts."""

import numpy as np
from numpy.typing import NDArray

from core.program.read.program import Event, EventKind, Program
from core.proof.limits import Broken, Limits
from core.proof.sweeps import lengths_of
from core.proof.verdict import Looked, in_stock

Floats = NDArray[np.float64]

SECONDS_PER_DWELL = {"s": 1.0, "ms": 0.001}
#: s; a dwell is written to a thousandth.
SAME_TIME = 2e-3


def spin_up_rule(program: Program, limits: Limits) -> Looked:
    """Between spindle on and the first cut lie spin_up_s, as a dwell or as a slow descent in air."""
    cut_rows = np.nonzero(in_stock(program, limits))[0]
    if limits.spindle_rpm == 0.0 or not cut_rows.size:
        return Looked(0, ())
    air = _air_seconds(program, limits)
    starts = [
        at
        for at, event in enumerate(program.events)
        if event.kind is EventKind.SPINDLE and event.value != 0.0
    ]
    broken = [found for at in starts if (found := _one_start(program, limits, at, cut_rows, air)) is not None]
    return Looked(len(starts), tuple(broken))


def _one_start(
    program: Program, limits: Limits, at: int, cut_rows: NDArray[np.int64], air: Floats
) -> Broken | None:
    event = program.events[at]
    later = np.searchsorted(cut_rows, event.before_move)
    if later == cut_rows.size:
        return None
    cut = int(cut_rows[later])
    waited = _dwelt(program.events[at + 1 :], cut, limits) + float(air[event.before_move : cut + 1].sum())
    if waited >= limits.spin_up_s - SAME_TIME:
        return None
    text = (
        f"the spindle has {waited:.1f} s to spin up before it cuts, where {limits.spin_up_s:g} s are needed"
    )
    return Broken("no-spin-up", int(program.lines[cut]), None, text)


def _dwelt(events: tuple[Event, ...], cut: int, limits: Limits) -> float:
    dwells = (each.value for each in events if each.kind is EventKind.DWELL and each.before_move <= cut)
    return sum(dwells) * SECONDS_PER_DWELL[limits.dwell_unit]


def _air_seconds(program: Program, limits: Limits) -> Floats:
    """(n,) s that each cutting move takes above the stock; rapids and unknown feeds count nothing."""
    z0, z1 = program.starts[:, 2], program.ends[:, 2]
    high, low = np.fmax(z0, z1), np.fmin(z0, z1)
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.clip((high - limits.stock_top_z_mm) / (high - low), 0.0, 1.0)
        level = np.where(low >= limits.stock_top_z_mm, 1.0, 0.0)
        seconds = lengths_of(program) / program.feeds * 60.0 * np.where(high > low, share, level)
    return np.nan_to_num(seconds, nan=0.0, posinf=0.0)
