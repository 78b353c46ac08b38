"""How the depth is shared out among the passes."""

import math

from core.router.depths import Drop
from core.router.setup import Setup

#: Share of a pass by which one pass may be deeper before there is one more: rounding, not cutting.
ROUNDING = 1e-9


def levels(setup: Setup) -> tuple[float, ...]:
    """z, mm, of each pass: equal steps from the top of the masking to the lowest cut."""
    fall = setup.top_z - setup.floor_z
    count = max(1, math.ceil(fall / setup.cutting.depth_per_pass_mm - ROUNDING))
    middle = tuple(setup.top_z - fall * step / count for step in range(1, count))
    return (*middle, setup.floor_z)


def drop(setup: Setup) -> Drop:
    """The way down through all passes at the ramp angle."""
    return Drop(setup.start_z, levels(setup), math.tan(setup.cutting.ramp_angle))
