"""What is measured on a gauge plate: a distance across, or between two holes, with what it was meant to be.

A machine that goes to (sx x + k sy y, sy y) where (x, y) is meant (k = tan of the skew, the lean of its y to
the right), cuts a slot e wider than it is told, and loses b of motion at each turn leaves

    across x, outside    sx W cos(skew) - e - bx        inside: + e instead of - e
    across y, outside    sy W - e - by
    hole to hole         |(sx dx + k sy dy, sy dy)|, and (d s + e) less between their near edges, more between
                         their far ones, d being the holes' diameter

since calipers close square on parallel edges, and what is lost at the turns makes both a piece and an opening
smaller. (Plane geometry; the outer and inner pair, and the two-axis model, are those of common calibration
pages, recomputed.)
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

#: Names of what is wrong with a machine, in the order of every array here.
SCALE_X, SCALE_Y, SKEW, WIDTH, LOST_X, LOST_Y = range(6)


class Side(StrEnum):
    """Between which edges a distance is taken."""

    OUTER = "outer"
    INNER = "inner"
    NEAR = "near"
    FAR = "far"
    CENTRES = "centres"


#: How many cutting widths a distance is longer by, when the slot is one wider.
_WIDER = {Side.OUTER: -1.0, Side.INNER: 1.0, Side.NEAR: -1.0, Side.FAR: 1.0, Side.CENTRES: 0.0}


@dataclass(frozen=True)
class Feature:
    """From one place to another, (dx, dy) mm as meant, and between which edges.

    OUTER and INNER: across parallel edges, along x or y alone. NEAR, FAR and CENTRES: between two round
    holes of hole_mm.
    """

    along: tuple[float, float]
    side: Side
    hole_mm: float = 0.0

    @property
    def meant_mm(self) -> float:
        """What is read on a machine without errors, mm."""
        return float(expected([self], NEUTRAL)[0])

    @property
    def is_across(self) -> bool:
        """Whether it is taken across edges, and not from hole to hole."""
        return self.side in {Side.OUTER, Side.INNER}


#: A machine without errors: scales, skew (rad), cutting width, lost motion in x and y (mm).
NEUTRAL: Floats = np.array([1.0, 1.0, 0.0, 0.0, 0.0, 0.0])


def expected(features: Sequence[Feature], errors: Floats) -> Floats:
    """(n,) mm: what is read on a machine with these errors (6,)."""
    scale_x, scale_y, skew, width, *lost = errors
    along = np.array([feature.along for feature in features])
    across = np.array([feature.is_across for feature in features])
    holes = np.array([feature.hole_mm for feature in features])
    wider = np.array([_WIDER[feature.side] for feature in features])
    moved_y = scale_y * along[:, 1]
    between = np.hypot(scale_x * along[:, 0] + np.tan(skew) * moved_y, moved_y)
    squared = np.hypot(scale_x * along[:, 0] * np.cos(skew), moved_y)
    turned = np.where(across, np.where(along[:, 0] != 0.0, lost[0], lost[1]), 0.0)
    hole = holes * (scale_x + scale_y) / 2.0
    return np.asarray(np.where(across, squared, between) + wider * (hole + width) - turned)
