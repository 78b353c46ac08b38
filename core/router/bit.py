"""The end mill."""

from dataclasses import dataclass

#: mm of plain shank between flute and collet where nobody measured it (bench practice, no source).
PLAIN_SHANK_MM = 4.0


@dataclass(frozen=True)
class Bit:
    """A straight end mill: diameter, cutting length, and how far it stands out of the collet, mm."""

    diameter_mm: float
    flutes: int
    flute_length_mm: float
    measured_stick_out_mm: float | None = None

    @property
    def radius_mm(self) -> float:
        """Half the diameter."""
        return self.diameter_mm / 2.0

    @property
    def stick_out_mm(self) -> float:
        """From collet to tip: as measured, or the flute and a little plain shank."""
        return self.measured_stick_out_mm or self.flute_length_mm + PLAIN_SHANK_MM
