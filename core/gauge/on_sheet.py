"""Where the gauge's stair lies on the stock: in the waste of its opening, cut before that waste is."""

from core.gauge.artwork import is_gauge
from core.gauge.plate import PLATE, STAIR_FRONT, stair
from core.router.cutting import TabRule
from core.router.stair import Step
from core.sheet.layout import Layout

#: mm by which the shape's sides may differ from the plate's.
SAME_SIZE_MM = 0.005


def is_plate(picture: bytes, size_mm: tuple[float, float]) -> bool:
    """Whether the picture is the gauge's, and the shape made of it has the plate's size."""
    off = max(abs(size - side) for size, side in zip(size_mm, PLATE, strict=True))
    return is_gauge(picture) and off <= SAME_SIZE_MM


def stair_of(picture: bytes, size_mm: tuple[float, float], layout: Layout, rule: TabRule) -> tuple[Step, ...]:
    """The steps in the frame, where this is a gauge plate; the shape lies where layout says."""
    if not is_plate(picture, size_mm):
        return ()
    x, y = layout.shape_at[0] + PLATE[0] / 2.0, layout.shape_at[1] + PLATE[1] / 2.0 - STAIR_FRONT
    steps = stair(layout.stock.thickness_mm, max(rule.height_mm, rule.skin_mm))
    return tuple(Step((x + off, y), depth) for off, depth in steps)
