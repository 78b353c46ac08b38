"""Round holes bored from the middle out: helices side by side, each with a level lap at the bottom."""

import math

import numpy as np

from core.findings import Point
from core.router.setup import Setup
from core.router.strand import Strand, strand_of

#: Bit diameters between two helices, and from the middle to the first: less than the bit's radius, so that
#: no core is left to fly.
SIDE_STEP = 0.45
#: mm; a hole that is wider than the bit by less than twice this is a plunge, not a helix.
LEAST_RADIUS_MM = 0.05


def bored(name: str, at: Point, diameter_mm: float, setup: Setup) -> tuple[Strand, ...]:
    """The helices of one hole, the innermost first; none for a hole that the bit does not fit into."""
    widest = diameter_mm / 2.0 - setup.bit.radius_mm
    if widest < LEAST_RADIUS_MM:
        return ()
    count = math.ceil(widest / (SIDE_STEP * setup.bit.diameter_mm) - 1e-9)
    return tuple(_helix(name, at, widest * step / count, setup) for step in range(1, count + 1))


def _helix(name: str, at: Point, radius: float, setup: Setup) -> Strand:
    fall = setup.start_z - setup.floor_z
    a_turn = min(2.0 * math.pi * radius * math.tan(setup.cutting.ramp_angle), setup.cutting.depth_per_pass_mm)
    halves = 2 * math.ceil(fall / a_turn)
    z = np.concatenate((np.linspace(setup.start_z, setup.floor_z, halves + 1), np.full(2, setup.floor_z)))
    side = np.where(np.arange(z.size) % 2 == 0, radius, -radius)
    points = np.column_stack((at[0] + side, np.full(z.size, at[1]), z))
    bulge = 1.0 if setup.rough_keeps_part_right else -1.0  # round a hole's inside the stock is the part
    return strand_of(name, points, np.full(z.size - 1, bulge), setup.cutting)
