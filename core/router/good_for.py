"""The good-for window: how thick the sheet may really be for the same program to do its work.

With z zeroed on the stock's top the program cuts to a fixed depth below it: a thinner sheet has lower
tabs, a thicker one is not cut through. With z zeroed on the board tabs and cut are exact, and a thicker
sheet meets the bit before its cutting feeds begin.
"""

from dataclasses import dataclass

from core.findings import Finding, Level
from core.router.setup import AIR_MM, Setup

#: mm; a lower tab does not hold, a shallower skim does not surely cut through (bench practice).
LEAST_TAB_MM, LEAST_THROUGH_MM = 0.3, 0.05


@dataclass(frozen=True)
class GoodFor:
    """The thinnest and the thickest sheet, mm."""

    thinnest_mm: float
    thickest_mm: float


def good_for(setup: Setup, *, is_zeroed_on_board: bool) -> GoodFor:
    """The window for the program of this set-up."""
    thickness, tab = setup.layout.stock.thickness_mm, setup.tab_rule.height_mm
    if is_zeroed_on_board:
        return GoodFor(tab + LEAST_TAB_MM, thickness + AIR_MM)
    spare = setup.cutting.skim_mm - LEAST_THROUGH_MM
    return GoodFor(thickness - (tab - LEAST_TAB_MM), thickness + spare)


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
            f"{window.thinnest_mm:.2f} to {window.thickest_mm:.2f} mm: tabs or cut fail somewhere.",
            "Zero Z on the board, take more skim, or use a more even sheet.",
        ),
    )
