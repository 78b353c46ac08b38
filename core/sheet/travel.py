"""Whether the machine reaches everything it has to.

Reached must be the rectangle that the clearance lap goes round (the part and the slot round it, grown by
the bit once more so that its edge stays outside), every mark, and the work zero itself.
"""

from core.findings import Finding, Level
from core.outline.loop import Bounds
from core.sheet.board import Board
from core.sheet.layout import Layout


def reached(part: Bounds, layout: Layout, bit_mm: float) -> Bounds:
    """x_min, y_min, x_max, y_max mm in the frame that the bit's centre has to reach; part in the shape's."""
    x, y = layout.shape_at
    boxes = [(part[0] + x - bit_mm, part[1] + y - bit_mm, part[2] + x + bit_mm, part[3] + y + bit_mm)]
    for mark in layout.marks_on_sheet:
        radius = mark.diameter_mm / 2.0
        boxes.append((mark.at[0] - radius, mark.at[1] - radius, mark.at[0] + radius, mark.at[1] + radius))
    boxes.append((*layout.zero_at, *layout.zero_at))
    lows_x, lows_y, highs_x, highs_y = zip(*boxes, strict=True)
    return min(lows_x), min(lows_y), max(highs_x), max(highs_y)


def travel_findings(
    part: Bounds, layout: Layout, bit_mm: float, travel_mm: tuple[float, float]
) -> tuple[Finding, ...]:
    """A stop for each axis that is too short, with how much is missing."""
    box = reached(part, layout, bit_mm)
    needed = (box[2] - box[0], box[3] - box[1])
    return tuple(
        _too_far(axis, need, has)
        for axis, need, has in zip("xy", needed, travel_mm, strict=True)
        if need > has
    )


def _too_far(axis: str, needed: float, travel: float) -> Finding:
    return Finding(
        Level.STOP,
        "travel-too-short",
        f"The program needs {needed:.1f} mm in {axis} from the work zero and the machine travels {travel:g}: "
        f"{needed - travel:.1f} mm missing.",
        "Make the shape smaller, put the work zero nearer to the part, or give the travel of the machine.",
    )


def board_travel_findings(board: Board, travel_mm: tuple[float, float]) -> tuple[Finding, ...]:
    """A stop for each axis in which the board of a nest is longer than the machine travels."""
    sizes = (board.width_mm, board.depth_mm)
    return tuple(
        Finding(
            Level.STOP,
            "board-beyond-travel",
            f"The nest board is {size:g} mm in {axis} and the machine travels {travel:g}.",
            "Make the shape smaller, or fit film and part in another way.",
        )
        for axis, size, travel in zip("xy", sizes, travel_mm, strict=True)
        if size > travel
    )
