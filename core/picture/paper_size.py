"""Sizes of paper (ISO 216 for the A series; Letter is ANSI/ASME Y14.1's A: 8.5 by 11 in)."""

from dataclasses import dataclass


@dataclass(frozen=True)
class PaperSize:
    """mm; which of the two sides lies level is seen in the picture. name is what was typed."""

    name: str
    short_mm: float
    long_mm: float

    @property
    def ratio(self) -> float:
        """The long side over the short one."""
        return self.long_mm / self.short_mm


PAPERS = (
    PaperSize("A3", 297.0, 420.0),
    PaperSize("A4", 210.0, 297.0),
    PaperSize("A5", 148.0, 210.0),
    PaperSize("Letter", 215.9, 279.4),
)

#: The long side over the short one of sheets that are about: the A series, Letter, a square.
COMMON_RATIOS = (2.0**0.5, 11.0 / 8.5, 1.0)
