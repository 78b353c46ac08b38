"""What clamps take of the sheet: where part, marks and hinge may not lie.

Clear of a clamp is whatever the bit, and the nut or nose that goes below the clamp's top, pass with
AROUND_MM to spare (common practice, no source).
"""

from dataclasses import dataclass, field

import numpy as np
import shapely

from core.outline.segments import Floats
from core.sheet.beside_clamp import distances_to
from core.sheet.clamp import Clamp
from core.sheet.rule import Clearances
from core.sheet.setting import Setting, Side
from core.sheet.spindle_body import SpindleBody

#: mm between what turns and a clamp.
AROUND_MM = 5.0
#: mm below the stock that a cut is taken to go, as long as the skim is not known.
BELOW_MM = 1.0


@dataclass(frozen=True, eq=False)
class Obstacles:
    """clamps in the frame; solid is the parts' polygon in the shape's coordinates, mm."""

    clamps: tuple[Clamp, ...] = ()
    body: SpindleBody = field(default_factory=SpindleBody)
    solid: shapely.Geometry = field(default_factory=shapely.Polygon)

    def are_clear(self, setting: Setting, clearances: Clearances) -> bool:
        """Whether parts and hinge strip keep clear of every clamp."""
        return all(
            self._to_parts(clamp, setting) >= self.to_path(clamp, clearances) + clearances.bit_mm / 2.0
            and not _in_hinge(clamp, setting, clearances)
            for clamp in self.clamps
        )

    def free(self, places: Floats, setting: Setting, clearances: Clearances, *, is_key: bool) -> np.ndarray:
        """(n,) whether a mark at places (n, 2), shape's coordinates, keeps clear of every clamp."""
        in_frame = places - np.array([setting.left, setting.near])
        free = np.ones(len(places), dtype=bool)
        radius = clearances.rule.bore(is_key=is_key) / 2.0
        for clamp in self.clamps:
            free &= distances_to(clamp, in_frame) >= self.to_path(clamp, clearances) + radius
        return free

    def to_path(self, clamp: Clamp, clearances: Clearances) -> float:
        """From the bit's axis to the clamp, mm."""
        above_tip = clamp.height_mm + clearances.thickness_mm + BELOW_MM
        return self.body.radius_below(above_tip, clearances.bit_mm) + AROUND_MM

    def _to_parts(self, clamp: Clamp, setting: Setting) -> float:
        """From the clamp to the nearest part, mm."""
        x, y = clamp.at[0] + setting.left, clamp.at[1] + setting.near
        if clamp.is_round:
            return float(shapely.distance(shapely.Point(x, y), self.solid)) - clamp.size_mm[0] / 2.0
        half = np.array(clamp.size_mm) / 2.0
        box = shapely.box(x - half[0], y - half[1], x + half[0], y + half[1])
        return float(shapely.distance(box, self.solid))


def _in_hinge(clamp: Clamp, setting: Setting, clearances: Clearances) -> bool:
    if setting.hinge is None:
        return False
    x_min, y_min, x_max, y_max = clamp.box()
    strip = clearances.rule.hinge_mm
    within = {
        Side.LEFT: x_min < strip,
        Side.RIGHT: x_max > setting.width - strip,
        Side.NEAR: y_min < strip,
        Side.FAR: y_max > setting.depth - strip,
    }
    return within[setting.hinge]
