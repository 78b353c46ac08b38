"""Feed, depth, plunge and ramp to start with: what a light router takes in cast acrylic.

Common practice, no source, inside the published chip loads for acrylic of a cutter-industry chart
(0.076 to 0.127 mm a tooth at 3.175 mm, in proportion to the diameter below that). They are starting
points: the machine's and the sheet's own makers come first.
"""

from dataclasses import dataclass
from math import radians

import numpy as np

from core.router.bit import Bit

#: mm
DIAMETERS = (1.0, 1.5, 2.0, 3.175)
#: mm/min, one flute at 10 000 rpm
FEEDS = (250.0, 300.0, 400.0, 550.0)
#: mm per pass
DEPTHS = (0.25, 0.4, 0.7, 1.0)
#: degrees
RAMPS = (2.0, 2.0, 2.5, 3.0)
#: mm/min straight down: a plunge does not clear its chips.
PLUNGES = (60.0, 60.0, 80.0, 100.0)


@dataclass(frozen=True)
class StartingValues:
    """Feeds in mm/min, the depth of a pass in mm, the angle of a ramp in radians."""

    feed_mm_min: float
    plunge_mm_min: float
    depth_mm: float
    ramp_angle: float


def starting_values(bit: Bit, top_feed_mm_min: float) -> StartingValues:
    """The table between its rows; each flute asks for as much feed, as far as the machine goes."""
    feed = _between(bit, FEEDS) * bit.flutes
    return StartingValues(
        feed_mm_min=min(feed, top_feed_mm_min),
        plunge_mm_min=_between(bit, PLUNGES),
        depth_mm=_between(bit, DEPTHS),
        ramp_angle=radians(_between(bit, RAMPS)),
    )


def _between(bit: Bit, row: tuple[float, ...]) -> float:
    return round(float(np.interp(bit.diameter_mm, DIAMETERS, row)), 3)
