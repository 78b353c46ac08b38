"""A break cut: a straight cut from a part's slot to the stock's edge that leaves a thin bottom to snap.

It is cut to and fro from where the passes round the part will run: down to each level by the ramp angle,
turned at the ends, until the whole length lies at that level.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from core.findings import Point
from core.outline.segments import Floats
from core.router.order import BREAKS, Task
from core.router.passes import levels
from core.router.setup import Setup
from core.router.strand import Strand, strand_of
from core.router.way import Stop

#: What a path calls such a cut.
BREAK_CUT = "break cut"
#: Runs of the whole length at most for one level: a short cut goes down steeper than the ramp angle rather
#: than longer; the plunge feed still limits how fast.
MOST_RUNS = 20
#: mm; a corner nearer to an end of the cut is that end.
SAME_PLACE_MM = 1e-6


@dataclass(frozen=True)
class BreakCut:
    """From a part's slot to the stock's edge or another part's slot, mm in the frame; what it leaves, mm."""

    start: Point
    end: Point
    left_mm: float

    @property
    def length_mm(self) -> float:
        """How far the bit's middle goes."""
        return math.dist(self.start, self.end)


def break_task(cut: BreakCut, setup: Setup) -> Task:
    """The cut as a task: begun at its slot, or at its other end."""
    # A skim below 0 ends the cut above the stock's bottom.
    shallow = replace(setup, cutting=replace(setup.cutting, skim_mm=-cut.left_mm))
    either = tuple(_to_and_fro(way, shallow) for way in (cut, replace(cut, start=cut.end, end=cut.start)))
    begins, ends = (np.array([strand.points[row, :2] for strand in either]) for row in (0, -1))
    return Task(Stop(begins, ends, np.zeros(len(either))), lambda manner: (either[manner],), BREAKS)


def _to_and_fro(cut: BreakCut, setup: Setup) -> Strand:
    walked, z = _descent(cut.length_mm, setup)
    share = np.abs((walked / cut.length_mm + 1.0) % 2.0 - 1.0)
    # Ends are said as they are, to the last digit: one end of a run is the next one's beginning.
    share = np.where(np.abs(share) * cut.length_mm < SAME_PLACE_MM, 0.0, share)
    share = np.where(np.abs(share - 1.0) * cut.length_mm < SAME_PLACE_MM, 1.0, share)
    start, end = np.array(cut.start), np.array(cut.end)
    points = np.column_stack((start + share[:, None] * (end - start), z))
    return strand_of(BREAK_CUT, points, np.zeros(len(points) - 1), setup.cutting)


def _descent(length: float, setup: Setup) -> tuple[Floats, Floats]:
    """How far was walked (n,) mm and the z (n,) there: at both ends, and where a ramp comes to its level."""
    walked, z, here, high = [0.0], [setup.start_z], 0.0, setup.start_z
    for level in levels(setup):
        fall = high - level
        slope = max(math.tan(setup.cutting.ramp_angle), fall / (MOST_RUNS * length))
        ramp_end = here + fall / slope
        last = (math.ceil((ramp_end - SAME_PLACE_MM) / length) + 1.0) * length
        turns = np.arange(round(here / length) + 1.0, round(last / length) + 1.0) * length
        corners = np.union1d(turns[np.abs(turns - ramp_end) > SAME_PLACE_MM], [ramp_end])
        walked += corners.tolist()
        z += np.interp(corners, (here, ramp_end), (high, level)).tolist()
        here, high = last, level
    return np.array(walked), np.array(z)
