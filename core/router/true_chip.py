"""The chip that the bit really cuts: where the machine slows down, each tooth takes less.

A controller brakes for corners and for tight arcs, the spindle does not; so the chip thins there, and below
the floor a plastic rubs, melts and welds to the bit. Speeds are those of core/router/motion.py, along each
move v^2 = v0^2 + 2 a s.
"""

from dataclasses import dataclass

import numpy as np

from core.findings import Finding, Level, Point
from core.outline.segments import Floats
from core.router.break_cut import BREAK_CUT
from core.router.feeds import CHIP_FLOOR_MM
from core.router.motion import SECONDS_PER_MINUTE, Timing, timed
from core.router.setup import Setup
from core.router.toolpath import Motion, Toolpath

#: Share of the cut length that may rub before a note becomes a caution: corners alone do no harm.
MUCH = 0.1


@dataclass(frozen=True, eq=False)
class TrueChip:
    """Of every move (n,): mm of it where braking brings the chip below the floor; mm of path in the stock.

    A move that is asked to be slow, such as a ramp, is not counted: no corner makes it so.
    """

    thin_mm: Floats
    cut_mm: float


def true_chip(toolpath: Toolpath, setup: Setup) -> TrueChip:
    """Chips along the fed moves below the stock's top; elsewhere nothing is thin."""
    rapid = toolpath.motions == Motion.RAPID
    path = (toolpath.starts(), toolpath.ends, toolpath.bulges, toolpath.feeds, rapid)
    timing = timed(*path, setup.machine)
    in_stock = ~rapid & (np.minimum(path[0][:, 2], path[1][:, 2]) < setup.top_z)
    floor = CHIP_FLOOR_MM * setup.cutting.spindle_rpm * setup.bit.flutes / SECONDS_PER_MINUTE
    is_braked = in_stock & (toolpath.feeds > floor * SECONDS_PER_MINUTE)
    thin = np.where(is_braked, slower_mm(timing, floor), 0.0)
    return TrueChip(thin, float(timing.lengths[in_stock].sum()))


def slower_mm(timing: Timing, speed: float) -> Floats:
    """(n,) mm of each move that is run below a speed, mm/s."""
    reached = np.minimum(timing.peak, speed)
    gained = np.maximum(reached**2 - timing.entry**2, 0.0)
    lost = np.maximum(reached**2 - timing.exit**2, 0.0)
    ends = (gained + lost) / (2.0 * timing.accelerations)
    return np.where(timing.peak < speed, timing.lengths, np.minimum(ends, timing.lengths))


def chip_findings(toolpath: Toolpath, setup: Setup) -> tuple[Finding, ...]:
    """What the true chip says; nothing where every chip is thick enough or the material does not melt."""
    if not len(toolpath.ends) or not setup.cutting.material.melts:
        return ()
    chip = true_chip(toolpath, setup)
    # A break cut is turned at its ends, in waste: what rubs there leaves no edge.
    opens = np.array([one.name == BREAK_CUT for one in toolpath.names])[toolpath.operations]
    thin = np.where(opens, 0.0, chip.thin_mm)
    total = float(thin.sum())
    if chip.cut_mm == 0.0 or total == 0.0:
        return ()
    worst = int(np.argmax(thin))
    share = total / chip.cut_mm
    text = (
        f"On {total:.0f} of {chip.cut_mm:.0f} mm of cut ({100.0 * share:.0f} %) the machine brakes so hard "
        f"for corners and bends that the chip is below {CHIP_FLOOR_MM:.3f} mm: plastic rubs there."
    )
    remedy = "Turn the spindle slower, round the corners, or use a larger bit; look at that edge first."
    level = Level.CAUTION if share > MUCH else Level.NOTE
    return (Finding(level, "chip-thins-in-corners", text, remedy, _place(toolpath, worst)),)


def _place(toolpath: Toolpath, move: int) -> Point:
    x, y = toolpath.ends[move, :2]
    return float(x), float(y)
