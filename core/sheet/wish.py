"""What the maker says about the sheet."""

from dataclasses import dataclass, field

from core.findings import Point
from core.sheet.clamp import Clamp
from core.sheet.rows import CopiesWish
from core.sheet.spindle_body import SpindleBody
from core.sheet.stock import Stock
from core.sheet.zero import AT_POINT


@dataclass(frozen=True)
class StockWish:
    """All in mm; width and depth None: as large as it must be, in whole 10 mm.

    thickness is the mean of the places measured, spread the largest less the smallest of them.
    zero_on is one of ZERO_WORDS. marks: their places in the frame by hand, the key first; none: proposed.
    """

    width_mm: float | None
    depth_mm: float | None
    thickness_mm: float
    thickness_spread_mm: float
    masking_top_mm: float
    masking_bottom_mm: float
    is_clear: bool
    clamps: tuple[Clamp, ...] = ()
    body: SpindleBody = field(default_factory=SpindleBody)
    zero_on: str = AT_POINT
    copies: CopiesWish = field(default_factory=CopiesWish)
    marks: tuple[Point, ...] = ()

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
