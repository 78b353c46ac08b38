"""The size witness: a line of 50 mm with a tick every 10 mm, to lay a ruler on before anything is cut.

It stands in the empty strip inside the left side of the sheet box, half-way up the shape, on the layer of
what is not cut. Its ticks slant, as those of a dimension line do: a level one would be a line of height.
"""

from dataclasses import dataclass

from core.decal.sheet_box import MARGIN_MM
from core.findings import Point
from core.outline.loop import Bounds

LENGTH_MM, STEP_MM = 50.0, 10.0
#: mm that a tick reaches to each side, and up and down.
TICK_MM = 1.0
#: mm; its ends stand on this grid, exact in every format.
GRID_MM = 0.5


@dataclass(frozen=True)
class Witness:
    """Straight lines from point to point, mm: the long one first, then its ticks from the lowest up."""

    lines: tuple[tuple[Point, Point], ...]


def witness_rows(shape: Bounds) -> tuple[float, float]:
    """From where to where, in y, the witness of a shape reaches, its ticks included; mm."""
    low = _low_end(shape)
    return low - TICK_MM, low + LENGTH_MM + TICK_MM


def size_witness(shape: Bounds, box: Bounds) -> Witness:
    """The witness beside a shape in its sheet box, both by their bounds in the frame, mm."""
    x, low = box[0] + MARGIN_MM / 2.0, _low_end(shape)
    ticks = (low + STEP_MM * i for i in range(round(LENGTH_MM / STEP_MM) + 1))
    return Witness(
        (
            ((x, low), (x, low + LENGTH_MM)),
            *(((x - TICK_MM, y - TICK_MM), (x + TICK_MM, y + TICK_MM)) for y in ticks),
        )
    )


def _low_end(shape: Bounds) -> float:
    middle = (shape[1] + shape[3]) / 2.0
    return round((middle - LENGTH_MM / 2.0) / GRID_MM) * GRID_MM
