"""What a cut is made with, and the heights that follow from it."""

from dataclasses import dataclass, replace

from core.router.bit import Bit
from core.router.cutting import Cutting, Direction, TabRule
from core.router.machine import Machine
from core.sheet.layout import Layout
from core.sheet.spindle_body import Drum

#: mm above the masking where cutting feed begins: a sheet measured in places is not flat to less.
AIR_MM = 0.2
#: mm above the highest clamp at which the bit travels (3 to 5 are common practice, no source).
OVER_CLAMP_MM = 5.0
#: Bit radii that a lap may take to its side at full depth (half the bit's width is bench practice's most).
SIDE_CUT = 0.8


@dataclass(frozen=True)
class Setup:
    """Everything chosen for the router. Heights are z in mm, 0 at the stock's bare top, up positive."""

    layout: Layout
    bit: Bit
    cutting: Cutting
    tab_rule: TabRule
    machine: Machine

    @property
    def top_z(self) -> float:
        """Where the bit meets masking or stock."""
        return self.layout.stock.masking_top_mm

    @property
    def start_z(self) -> float:
        """Where a descent through air ends and cutting feeds begin."""
        return self.top_z + AIR_MM

    @property
    def bed_z(self) -> float:
        """The true bottom of the stock, on which tabs stand."""
        return -self.layout.stock.thickness_mm

    @property
    def floor_z(self) -> float:
        """The lowest cut: the skim below the stock's bottom."""
        return self.bed_z - self.cutting.skim_mm

    @property
    def has_skin(self) -> bool:
        """Whether a skin holds the part, and no tabs."""
        return self.tab_rule.skin_mm > 0.0

    def over_skin(self) -> "Setup":
        """The same for cuts that leave the skin: their skim is below 0, so that they end above the bed."""
        above = min(self.tab_rule.skin_mm, self.layout.stock.thickness_mm)
        return replace(self, cutting=replace(self.cutting, skim_mm=-above)) if self.has_skin else self

    @property
    def safe_z(self) -> float:
        """Above everything; the only height of a move across in air."""
        over = [clamp.height_mm + OVER_CLAMP_MM for clamp in self.layout.clamps]
        return max([self.top_z + self.cutting.safe_height_mm, *over])

    def drums(self) -> tuple[Drum, ...]:
        """Bit, nut and nose, from the tip up."""
        return self.layout.body.drums(self.bit.diameter_mm)

    @property
    def allowance_mm(self) -> float:
        """What the passes leave on the wall for the last lap: nothing where it would be too much for it."""
        asked = self.cutting.allowance_mm if self.cutting.has_last_lap else 0.0
        return asked if asked <= self.deepest_side_cut_mm else 0.0

    @property
    def deepest_side_cut_mm(self) -> float:
        """How much a lap may take to its side at full depth."""
        return SIDE_CUT * self.bit.radius_mm

    @property
    def rough_keeps_part_right(self) -> bool:
        """Whether the passes run with the part on the right of travel."""
        return self.cutting.rough is Direction.CLIMB
