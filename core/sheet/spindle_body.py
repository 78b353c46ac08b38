"""What turns above the bit's tip: the collet's nut and the spindle's nose, which meet clamps and stock."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Drum:
    """A cylinder round the bit's axis: how far above the tip it begins, and its diameter, mm."""

    above_tip_mm: float
    diameter_mm: float


@dataclass(frozen=True)
class SpindleBody:
    """How far the bit sticks out of the nut, the nut's diameter and length, the nose's diameter; mm."""

    stick_out_mm: float = 20.0
    nut_mm: float = 19.0
    nut_length_mm: float = 15.0
    nose_mm: float = 52.0

    def drums(self, bit_mm: float) -> tuple[Drum, ...]:
        """Bit, nut and nose, from the tip up."""
        return (
            Drum(0.0, bit_mm),
            Drum(self.stick_out_mm, self.nut_mm),
            Drum(self.stick_out_mm + self.nut_length_mm, self.nose_mm),
        )

    def radius_below(self, height_mm: float, bit_mm: float) -> float:
        """The widest radius, mm, of what hangs lower than height_mm above the tip."""
        return max(drum.diameter_mm / 2.0 for drum in self.drums(bit_mm) if drum.above_tip_mm < height_mm)
