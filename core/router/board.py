"""The spoil board under the sheet, and what it allows."""

from dataclasses import dataclass

from core.findings import Finding, Level
from core.router.setup import Setup

#: mm; a shallower skim does not surely cut through (bench practice).
LEAST_THROUGH_MM = 0.05
#: Share of the board that may be cut into (bench practice).
MOST_OF_BOARD = 0.5


@dataclass(frozen=True)
class Board:
    """thickness_mm, and error_mm: how far it is from level under the part."""

    thickness_mm: float
    error_mm: float

    @property
    def deepest_mm(self) -> float:
        """How far it may be cut into."""
        return MOST_OF_BOARD * self.thickness_mm


def board_findings(setup: Setup, board: Board) -> tuple[Finding, ...]:
    """A stop for a skim that leaves too little board, a caution for one that the board's error takes up."""
    skim, needed = setup.cutting.skim_mm, board.error_mm + LEAST_THROUGH_MM
    if skim > board.deepest_mm:
        text = f"The skim of {skim:g} mm is more than half of the {board.thickness_mm:g} mm spoil board."
        return (Finding(Level.STOP, "skim-too-deep", text, "Skim less, or lay a thicker board."),)
    if skim >= needed:
        return ()
    return (
        Finding(
            Level.CAUTION,
            "skim-shallow",
            f"The skim is {skim:g} mm and the spoil board is {board.error_mm:g} mm from level: somewhere the "
            "cut may not go through.",
            f"Skim {needed:.2f} mm or more, or skim the board itself level.",
        ),
    )
