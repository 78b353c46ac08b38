"""Where the gauge's stair lies on the stock: in the waste of its opening, cut before that waste is."""

from core.gauge.artwork import is_gauge
from core.gauge.plate import PLATE, STAIR_FRONT, stair
from core.router.cutting import TabRule
from core.router.stair import Step
from core.sheet.layout import Layout


def stair_of(picture: bytes, layout: Layout, rule: TabRule) -> tuple[Step, ...]:
    """The steps in the frame, where the picture is the gauge's; the shape lies where layout says."""
    if not is_gauge(picture):
        return ()
    x, y = layout.shape_at[0] + PLATE[0] / 2.0, layout.shape_at[1] + PLATE[1] / 2.0 - STAIR_FRONT
    steps = stair(layout.stock.thickness_mm, max(rule.height_mm, rule.skin_mm))
    return tuple(Step((x + off, y), depth) for off, depth in steps)
