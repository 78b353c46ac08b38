"""The end mill."""

from dataclasses import dataclass

#: mm of plain shank between flute and collet where nobody measured it (bench practice, no source).
PLAIN_SHANK_MM = 4.0


@dataclass(frozen=True)
class Bit:
    """A straight end mill: how wide it cuts, cutting length, and how far it stands out of the collet, mm.

    named_mm: its diameter as it is called, where the machine is measured to cut wider or narrower with it.
    """

    diameter_mm: float
    flutes: int
    flute_length_mm: float
    measured_stick_out_mm: float | None = None
    named_mm: float | None = None

    @property
    def called_mm(self) -> float:
        """Its diameter as it is called."""
        return self.diameter_mm if self.named_mm is None else self.named_mm

    @property
    def radius_mm(self) -> float:
        """Half the diameter."""
        return self.diameter_mm / 2.0

    @property
    def stick_out_mm(self) -> float:
        """From collet to tip: as measured, or the flute and a little plain shank."""
        return self.measured_stick_out_mm or self.flute_length_mm + PLAIN_SHANK_MM
