"""How far the part as cut lies from the part as drawn: small, so it is drawn enlarged.

A round bit leaves stock in tight inside corners; everywhere else both are one line. Told by core's exact
distance from places of one edge to the other.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPolygonF

from core.outline.measure import all_loops, distances
from core.router.unrolled import Unrolled

if TYPE_CHECKING:
    from core.shown import Shown

#: How many times larger the misfit is drawn.
GAIN = 20.0
#: mm along the edge between two places that are looked at.
STEP_MM = 0.5
#: mm; less than this is rounding of the offsets, and no finger's breadth at twenty times.
SEEN_MM = 0.002


@dataclass(frozen=True, eq=False)
class Misfit:
    """blades: in the scene, between the edge and the misfit drawn GAIN times; largest_mm and where, frame."""

    blades: tuple[QPolygonF, ...]
    largest_mm: float
    at: tuple[float, float]


def misfit_of(shown: "Shown") -> Misfit:
    """The misfit of what is shown."""
    blades: list[QPolygonF] = []
    largest, where = 0.0, (0.0, 0.0)
    for loop in all_loops(shown.part):
        path = Unrolled.of(loop)
        even = np.linspace(0.0, path.length, max(8, int(path.length / STEP_MM)))
        at = np.union1d(even, path.begins)  # corners are where it is largest
        here = path.at(at)
        off = distances(all_loops(shown.as_cut), here.points)
        outward = here.to_left(-1.0) - here.points
        blades += _blades(here.points, here.points + GAIN * off[:, None] * outward, off)
        if off.max() > largest:
            largest = float(off.max())
            x, y = here.points[int(off.argmax())].tolist()
            where = (x, y)
    return Misfit(tuple(blades), largest, where)


def _blades(feet: np.ndarray, tips: np.ndarray, off: np.ndarray) -> list[QPolygonF]:
    """One polygon for each run of places whose misfit can be seen."""
    flags = np.concatenate(([False], off > SEEN_MM, [False])).astype(np.int8)
    firsts, ends = np.flatnonzero(np.diff(flags) == 1), np.flatnonzero(np.diff(flags) == -1)
    found = []
    for first, end in zip(firsts.tolist(), ends.tolist(), strict=True):
        rows = slice(max(first - 1, 0), end + 1)
        ring = np.vstack((feet[rows], tips[rows][::-1]))
        found.append(QPolygonF([QPointF(x, -y) for x, y in ring.tolist()]))
    return found
