"""Each number of a cut with the limits on both sides of it, and where they come from.

What the maker sets is kept and judged here, never overruled.
"""

from dataclasses import dataclass
from math import degrees, inf

from core.router.bit import Bit
from core.router.cutting import Cutting
from core.router.feeds import CHIP_FLOOR_MM, chip_load_mm
from core.router.forces import Forces, forces_of
from core.sheet.material import Material

#: mm; the bit that the chart's row is for.
CHART_BIT_MM = 3.175
#: The chart holds at one diameter deep; a quarter less at two, half at three (a second copy of the chart).
DEPTHS_OF_CHART, SHARES_OF_CHART = (1.0, 2.0, 3.0), (1.0, 0.75, 0.5)
#: mm a bit may bend while it takes off the bulk (bench practice, no source).
MOST_BEND_MM = 0.05
#: N/mm2 that carbide is bent to at most: a quarter of its strength of 3 to 4 GPa (from memory).
MOST_STRESS = 900.0
#: Steepest usual ramp of a small end mill, degrees (common practice, no source).
STEEPEST_RAMP = 5.0
#: A plunge at half the feed is the usual most (calculators for hobby routers).
MOST_PLUNGE = 0.5

CHART = "cutter-industry chip-load chart, in proportion to the bit"
FLOOR = "0.001 in, a book on hobby routing of plastics"
PRACTICE = "common practice, no source"
BEAM = "a fluted bit as a beam; carbide's strength from memory"


@dataclass(frozen=True)
class Judged:
    """A number in its unit, the limits that are usual for it (0 or inf where there is none), their source."""

    name: str
    value: float
    unit: str
    low: float
    high: float
    source: str
    below: str = ""
    above: str = ""

    @property
    def is_low(self) -> bool:
        """Below its limit, rounding apart."""
        return self.value < self.low * (1.0 - ROUNDING)

    @property
    def is_high(self) -> bool:
        """Above its limit, rounding apart."""
        return self.value > self.high * (1.0 + ROUNDING)


#: Share by which a number typed with few digits may miss the limit that it stands for.
ROUNDING = 1e-3


def judged(cutting: Cutting, bit: Bit) -> tuple[Judged, ...]:
    """Chip, depth, plunge, ramp, force, power and bending of this cut, in the order a maker sets them."""
    forces = forces_of(cutting, bit)
    return (_chip(cutting, bit), _depth(cutting, bit), _plunge(cutting), _ramp(cutting), *_forces(forces))


def chip_window(material: Material, bit_mm: float, depth_mm: float) -> tuple[float, float]:
    """The chart's least and most chip, mm, in proportion to the bit, less for a deep pass."""
    share = bit_mm / CHART_BIT_MM * _deep(depth_mm / bit_mm)
    return material.chip_mm[0] * share, material.chip_mm[1] * share


def _deep(diameters: float) -> float:
    """Share of the chart's chip at a depth in bit diameters."""
    last = len(DEPTHS_OF_CHART) - 1
    for index in range(last):
        if diameters <= DEPTHS_OF_CHART[index + 1]:
            over = max(diameters - DEPTHS_OF_CHART[index], 0.0)
            return SHARES_OF_CHART[index] + over * (SHARES_OF_CHART[index + 1] - SHARES_OF_CHART[index])
    return SHARES_OF_CHART[last]


def _chip(cutting: Cutting, bit: Bit) -> Judged:
    high = chip_window(cutting.material, bit.diameter_mm, cutting.depth_per_pass_mm)[1]
    spoils = "plastic rubs and melts" if cutting.material.melts else "wood rubs and burns"
    floor = min(CHIP_FLOOR_MM, high)
    return Judged(
        "chip load", chip_load_mm(cutting, bit.flutes), "mm", floor, high, f"{FLOOR}; {CHART}", spoils,
        "small bits snap",
    )  # fmt: skip


def _depth(cutting: Cutting, bit: Bit) -> Judged:
    most = cutting.material.depth_share * bit.diameter_mm
    return Judged(
        "depth per pass", cutting.depth_per_pass_mm, "mm", 0.0, most, PRACTICE, "",
        "a light machine bends the bit or snaps it",
    )  # fmt: skip


def _plunge(cutting: Cutting) -> Judged:
    most = MOST_PLUNGE * cutting.feed_mm_min
    return Judged(
        "plunge", cutting.plunge_mm_min, "mm/min", 0.0, most, "calculators for hobby routers", "",
        "chips weld to the bit",
    )  # fmt: skip


def _ramp(cutting: Cutting) -> Judged:
    return Judged(
        "ramp", degrees(cutting.ramp_angle), "degrees", 0.0, STEEPEST_RAMP, PRACTICE, "",
        "the tip of a small bit is pressed rather than cutting",
    )  # fmt: skip


def _forces(forces: Forces) -> tuple[Judged, ...]:
    return (
        Judged("peak force of a tooth", forces.peak_n, "N", 0.0, inf, "cutting pressure of the material"),
        Judged("power at the cut", forces.power_w, "W", 0.0, inf, "cutting pressure of the material"),
        Judged(
            "bending of the bit", forces.bend_mm, "mm", 0.0, MOST_BEND_MM, f"{BEAM}; limit {PRACTICE}", "",
            "the wall comes out uneven",
        ),
        Judged("stress in the bit", forces.stress, "N/mm2", 0.0, MOST_STRESS, BEAM, "", "the bit snaps"),
    )  # fmt: skip
