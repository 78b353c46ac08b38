"""The end mill."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Bit:
    """A straight end mill: diameter and cutting length in mm."""

    diameter_mm: float
    flutes: int
    flute_length_mm: float

    @property
    def radius_mm(self) -> float:
        """Half the diameter."""
        return self.diameter_mm / 2.0
