"""What the maker says about the sheet."""

from dataclasses import dataclass

from core.sheet.stock import Stock


@dataclass(frozen=True)
class StockWish:
    """All in mm; width and depth None: as large as it must be, in whole 10 mm.

    thickness is the mean of the places measured, spread the largest less the smallest of them.
    """

    width_mm: float | None
    depth_mm: float | None
    thickness_mm: float
    thickness_spread_mm: float
    masking_top_mm: float
    masking_bottom_mm: float
    is_clear: bool

    def stock(self, width_mm: float, depth_mm: float) -> Stock:
        """The sheet of this size."""
        return Stock(
            width_mm,
            depth_mm,
            self.thickness_mm,
            self.thickness_spread_mm,
            self.masking_top_mm,
            self.masking_bottom_mm,
            self.is_clear,
        )
