"""What holds the stock down and stands in the way: clamps as boxes and discs with a height."""

from dataclasses import dataclass

from core.findings import Point


@dataclass(frozen=True)
class Clamp:
    """at is its middle in the frame; size_mm from left to right and from near to far; all mm.

    height_mm is that of its top above the stock's bare top. A round one has both sizes alike.
    """

    at: Point
    size_mm: tuple[float, float]
    height_mm: float
    is_round: bool = False

    def box(self) -> tuple[float, float, float, float]:
        """x_min, y_min, x_max, y_max, mm in the frame."""
        (x, y), (width, depth) = self.at, self.size_mm
        return x - width / 2.0, y - depth / 2.0, x + width / 2.0, y + depth / 2.0
