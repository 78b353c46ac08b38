"""How the stock is cut: every number resolved, none of them `auto`."""

from dataclasses import dataclass
from enum import StrEnum

from core.sheet.material import CAST_ACRYLIC, Material


class Direction(StrEnum):
    """On which side of travel the part lies. With M3, part on the right is climb cutting."""

    CLIMB = "climb"
    CONVENTIONAL = "conventional"


@dataclass(frozen=True)
class Cutting:
    """Feeds in mm/min, depths in mm (positive), the ramp angle in radians.

    rough is the direction of the passes; with has_last_lap they leave allowance_mm on the wall, and one
    full-depth lap in the other direction takes it off. air_cut_mm is by how much a second program is
    raised, to be watched in air; 0 where none is asked for. break_left_mm is what cuts that open the frame
    leave at the bottom; 0 where none are made. entries: where the maker wants contours entered, points (x, y)
    near them in the frame.
    """

    spindle_rpm: float
    feed_mm_min: float
    plunge_mm_min: float
    depth_per_pass_mm: float
    ramp_angle: float
    skim_mm: float
    safe_height_mm: float
    rough: Direction
    has_last_lap: bool
    allowance_mm: float
    material: Material = CAST_ACRYLIC
    air_cut_mm: float = 0.0
    break_left_mm: float = 0.0
    entries: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True)
class TabRule:
    """How the part is held: mm. placed: points (x, y) near the part's wall, in the frame; None places them.

    skin_mm: thickness of the skin that holds it instead of tabs; 0 where tabs do.
    """

    neck_mm: float
    height_mm: float
    spacing_mm: float
    least_count: int
    placed: tuple[tuple[float, float], ...] | None
    skin_mm: float = 0.0


#: Of a cut that leaves nothing to be held.
NO_TABS = TabRule(neck_mm=1.0, height_mm=1.0, spacing_mm=1.0, least_count=0, placed=())
