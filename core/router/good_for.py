"""The good-for window: how thick the sheet may really be for the same program to do its work.

With z zeroed on the stock's top the program cuts to a fixed depth below it: a thinner sheet has lower
tabs, or a thinner skin, and the board is cut deeper; a thicker one is not cut through. With z zeroed on the
board tabs, skin and cut are exact, and a thicker sheet meets the bit before its cutting feeds begin.
"""

from dataclasses import dataclass

from core.findings import Finding, Level
from core.router.board import LEAST_THROUGH_MM, Board
from core.router.setup import AIR_MM, Setup
from core.router.skin import LEAST_SLOT_MM, least_skin_mm

#: mm; a lower tab does not hold (bench practice).
LEAST_TAB_MM = 0.3


@dataclass(frozen=True)
class GoodFor:
    """The thinnest and the thickest sheet, mm."""

    thinnest_mm: float
    thickest_mm: float


def good_for(setup: Setup, board: Board, *, is_zeroed_on_board: bool) -> GoodFor:
    """The window for the program of this set-up."""
    thickness, skim = setup.layout.stock.thickness_mm, setup.cutting.skim_mm
    if is_zeroed_on_board:
        return GoodFor(_least_slotted(setup), thickness + AIR_MM)
    deepest = thickness - (board.deepest_mm - skim)
    return GoodFor(
        max(thickness - _spare_of_hold(setup, board), deepest), thickness + skim - LEAST_THROUGH_MM
    )


def _least_slotted(setup: Setup) -> float:
    """The thinnest sheet, mm, in which there is a slot at all above tabs or skin."""
    if setup.has_skin:
        return setup.tab_rule.skin_mm + LEAST_SLOT_MM
    return setup.tab_rule.height_mm + LEAST_TAB_MM


def _spare_of_hold(setup: Setup, board: Board) -> float:
    """By how many mm tabs or skin may become less."""
    if setup.has_skin:
        return setup.tab_rule.skin_mm - least_skin_mm(0.0, board)
    return setup.tab_rule.height_mm - LEAST_TAB_MM


def uneven_findings(window: GoodFor, measured_mm: tuple[float, ...]) -> tuple[Finding, ...]:
    """A caution when a place of the sheet was measured thinner or thicker than the program is good for."""
    thinnest, thickest = min(measured_mm), max(measured_mm)
    if window.thinnest_mm <= thinnest and thickest <= window.thickest_mm:
        return ()
    return (
        Finding(
            Level.CAUTION,
            "sheet-uneven",
            f"The sheet was measured at {thinnest:.2f} to {thickest:.2f} mm and the program is good for "
            f"{window.thinnest_mm:.2f} to {window.thickest_mm:.2f} mm: what holds the part, or the cut, "
            "fails somewhere.",
            "Zero Z on the board, take more skim, or use a more even sheet.",
        ),
    )
