"""What a cut asks of bit and spindle: force, power, bending.

Sources: power and torque as *Machinery's Handbook* has them (from memory); the cutting pressure of each
material in core/sheet/material.py; a bit as a cantilever from any strength-of-materials text, its fluted
part as stiff as 0.8 of its diameter (Kops and Vo, CIRP Annals 39(1), 1990, from memory).
"""

import math
from dataclasses import dataclass

from core.router.bit import Bit
from core.router.cutting import Cutting
from core.router.feeds import chip_load_mm

#: N/mm2, cemented carbide: 8.70e7 psi in a published milling sheet, within 550 to 650 GPa.
CARBIDE_MODULUS = 600_000.0
#: Share of the diameter that a fluted bit is as stiff as.
FLUTED = 0.8
#: W in mm3/min times N/mm2.
TO_WATTS = 60_000.0


@dataclass(frozen=True)
class Forces:
    """In a slot as wide as the bit: peak of one tooth, N; power at the cut, W; bending, mm; stress, N/mm2."""

    peak_n: float
    power_w: float
    bend_mm: float
    stress: float


def forces_of(cutting: Cutting, bit: Bit) -> Forces:
    """Forces at the full feed and the full depth of a pass."""
    pressure, depth = cutting.material.pressure, cutting.depth_per_pass_mm
    peak = pressure * depth * chip_load_mm(cutting, bit.flutes)
    removal = bit.diameter_mm * depth * cutting.feed_mm_min
    return Forces(
        peak_n=peak,
        power_w=removal * pressure / TO_WATTS,
        bend_mm=peak / stiffness(bit.diameter_mm, bit.stick_out_mm),
        stress=32.0 * peak * bit.stick_out_mm / (math.pi * (FLUTED * bit.diameter_mm) ** 3),
    )


def stiffness(diameter_mm: float, stick_out_mm: float) -> float:
    """N/mm at the tip: 3 E I / L^3 with I = pi d^4 / 64 at 0.8 of the diameter."""
    inertia = math.pi * (FLUTED * diameter_mm) ** 4 / 64.0
    return 3.0 * CARBIDE_MODULUS * inertia / stick_out_mm**3
