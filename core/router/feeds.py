"""The feed of each move by how steeply it goes down."""

import numpy as np

from core.outline.segments import Floats
from core.router.cutting import Cutting

#: mm; what rounding makes of a level move is level.
LEVEL_MM = 1e-9
#: mm sideways below which a move down is a straight plunge, as a file's last digits tell it.
PLUNGE_ASIDE_MM = 2e-3
#: A ramp is fed at half the feed of a slot at most (a cutting-tool catalogue).
RAMP_SHARE = 0.5
#: mm per tooth; with a thinner chip a plastic rubs instead of being cut: 0.001 in
#: (a community book on hobby routing, plastics).
CHIP_FLOOR_MM = 0.0254


def feeds_along(lengths: Floats, rises: Floats, cutting: Cutting) -> Floats:
    """Feeds (n,) mm/min of moves with lengths (n,) mm in space that rise by rises (n,) mm.

    Level and upward moves run at the full feed; downward ones at the ramp feed, and never so fast that
    the bit goes down faster than the plunge feed.
    """
    down = rises < -LEVEL_MM
    steep = np.where(down, -rises / np.maximum(lengths, LEVEL_MM), 1.0)
    aside = np.sqrt(np.maximum(lengths**2 - rises**2, 0.0))
    ramp = max(cutting.plunge_mm_min, RAMP_SHARE * cutting.feed_mm_min)
    slow = np.minimum(ramp, cutting.plunge_mm_min / np.where(aside < PLUNGE_ASIDE_MM, 1.0, steep))
    return np.where(down, np.minimum(slow, cutting.feed_mm_min), cutting.feed_mm_min)


def chip_load_mm(cutting: Cutting, flutes: int) -> float:
    """Thickness of the chip that each tooth takes at the full feed, mm."""
    return cutting.feed_mm_min / (cutting.spindle_rpm * flutes)
