"""How far the bit goes each way from a work zero."""

from core.findings import Point
from core.paper.numbers import Travel
from core.router.extents import Extents


def travel_in(box: Extents, zero_at: Point, heights: tuple[float, float]) -> Travel:
    """Of a path within box, the zero at a point of the frame; heights: the highest and the lowest z, mm."""
    (x, y), (high, low) = zero_at, heights
    return Travel(
        left=max(x - box.x_min, 0.0),
        right=max(box.x_max - x, 0.0),
        near=max(y - box.y_min, 0.0),
        far=max(box.y_max - y, 0.0),
        up=max(high, 0.0),
        down=max(-low, 0.0),
    )
