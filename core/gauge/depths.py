"""How deep a router truly cuts, from the stair of its gauge: a straight line through the readings.

A step meant d deep is s d + o deep: s the scale of z, o how much deeper all of it is, because the zero was
set low (positive) or high. Least squares, with the covariance of readings of one standard deviation.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from core.gauge.solve import SURE


@dataclass(frozen=True)
class DepthReading:
    """What was read in a step, mm, its letter, and how deep it was meant, mm."""

    name: str
    meant_mm: float
    mm: float


@dataclass(frozen=True)
class Depths:
    """How much deeper all is than told, mm, and the scale of z, with their standard deviations.

    scale_deviation is None where the readings did not tell the scale.
    """

    off_mm: float
    off_deviation_mm: float
    scale: float
    scale_deviation: float | None


def depths_of(readings: Sequence[DepthReading], deviation_mm: float) -> Depths | None:
    """From one step the offset alone, from two or more the scale too; None without any."""
    if not readings:
        return None
    meant = np.array([one.meant_mm for one in readings])
    deeper = np.array([one.mm for one in readings]) - meant
    if len(set(meant.tolist())) < 2:
        return Depths(float(deeper.mean()), deviation_mm / len(readings) ** 0.5, 1.0, None)
    slopes = np.column_stack((np.ones(meant.size), meant))
    inverse = np.linalg.inv(slopes.T @ slopes)
    off, stretch = (inverse @ slopes.T @ deeper).tolist()
    off_deviation, stretch_deviation = (deviation_mm * np.sqrt(np.diag(inverse))).tolist()
    return Depths(off, off_deviation, 1.0 + stretch, stretch_deviation)


def depth_lines(found: Depths) -> Iterator[str]:
    """What that says, in sentences; nothing follows from it but the maker's own setting."""
    way = "deeper" if found.off_mm >= 0.0 else "less deep"
    yield f"depth: {abs(found.off_mm):.3f} mm {way} than told, within {SURE * found.off_deviation_mm:.3f}"
    if found.scale_deviation is not None:
        within = 100.0 * SURE * found.scale_deviation
        yield f"scale z: {100.0 * found.scale:.2f} % of what is told, within {within:.2f}"
    if abs(found.off_mm) > SURE * found.off_deviation_mm:
        yield "set z anew with that in mind, and look whether the sheet lies flat; nothing here corrects z"
