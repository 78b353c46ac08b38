"""Feed, depth, plunge and ramp to start with on a light router.

Common practice, no source, inside the published chip loads of a cutter-industry chart or a little below
them (core/sheet/material.py has the rows). They are starting points: the makers of machine, bit and sheet
come first. A small bit keeps its chip and takes less depth: half the chip would rub.
"""

from dataclasses import dataclass
from math import radians

import numpy as np

from core.router.bit import Bit
from core.sheet.material import Material, Rows

#: mm
DIAMETERS = (1.0, 1.5, 2.0, 3.175)
#: rpm that the rows' feeds are for; another speed keeps the chip and so changes the feed.
ROWS_RPM = 10_000.0


@dataclass(frozen=True)
class StartingValues:
    """Feeds in mm/min, the depth of a pass in mm, the angle of a ramp in radians."""

    feed_mm_min: float
    plunge_mm_min: float
    depth_mm: float
    ramp_angle: float


def starting_values(
    material: Material, bit: Bit, spindle_rpm: float, top_feed_mm_min: float
) -> StartingValues:
    """The table between its rows; the feed keeps the chip for these flutes and this speed, up to the top."""
    rows = material.starting
    feed = _between(bit, rows.feed) * bit.flutes * spindle_rpm / ROWS_RPM
    return StartingValues(
        feed_mm_min=round(min(feed, top_feed_mm_min), 3),
        plunge_mm_min=min(_between(bit, rows.plunge), top_feed_mm_min),
        depth_mm=_between(bit, rows.depth),
        ramp_angle=radians(_between(bit, rows.ramp)),
    )


def _between(bit: Bit, row: Rows) -> float:
    return round(float(np.interp(bit.called_mm, DIAMETERS, row)), 3)
