"""Steps of known depth, milled into waste before anything comes loose: they tell how deep a machine cuts."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.findings import Point
from core.outline.loop import Loop
from core.outline.region import Region
from core.router.order import FREES_NOTHING, Task, fixed
from core.router.pocket import milled_away
from core.router.setup import Setup
from core.router.strand import Strand

#: mm: how wide a step is, room for the rod of a depth gauge, some 4 x 1.5 (common practice, no source).
STEP_MM = 9.0
#: mm; the least that the bit's middle moves in a step, where the bit is nearly as wide.
LEAST_SIDE_MM = 0.5


@dataclass(frozen=True)
class Step:
    """The middle of a step, mm in the frame, and how deep it is below the stock's bare top, mm."""

    at: Point
    depth_mm: float


def stair_tasks(steps: Sequence[Step], setup: Setup) -> tuple[Task, ...]:
    """The steps as tasks, the shallow ones first, all of them before any contour."""
    shallow_first = sorted(steps, key=lambda step: step.depth_mm)
    ranks = range(FREES_NOTHING + len(steps), FREES_NOTHING, -1)
    made = [(_milled(step, setup), rank) for step, rank in zip(shallow_first, ranks, strict=True)]
    return tuple(fixed(strands, rank) for strands, rank in made if strands)


def _milled(step: Step, setup: Setup) -> tuple[Strand, ...]:
    half = max(STEP_MM - setup.bit.diameter_mm, LEAST_SIDE_MM) / 2.0
    (x, y), corners = step.at, ((-half, -half), (half, -half), (half, half), (-half, half))
    square = Loop(np.array([(x + dx, y + dy) for dx, dy in corners]), np.zeros(4))
    # A skim below 0 ends the cut above the stock's bottom.
    above = step.depth_mm - setup.layout.stock.thickness_mm
    deep = replace(setup, cutting=replace(setup.cutting, skim_mm=above))
    return milled_away(f"step of {step.depth_mm:g} mm", Region(square), deep)
