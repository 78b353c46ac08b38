"""The router: how far, how fast, and what its controller takes."""

from dataclasses import dataclass
from math import inf


@dataclass(frozen=True)
class Machine:
    """travel (x, y, z) mm; speeds mm/min; accelerations mm/s2 for x and y, and for z; spindle speeds rpm."""

    travel_mm: tuple[float, float, float]
    top_feed_mm_min: float
    acceleration_mm_s2: float
    acceleration_z_mm_s2: float
    corner_deviation_mm: float
    spindle: str
    spin_up_s: float
    spindle_range_rpm: tuple[float, float] = (0.0, inf)
