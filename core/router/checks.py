"""What the numbers of a cut say before any path is made."""

from core.findings import Finding, Level
from core.router.extents import Extents
from core.router.feeds import CHIP_FLOOR_MM, chip_load_mm
from core.router.setup import Setup

#: mm of flute that stays above the stock, so that the shank never rubs (bench practice, no source).
FLUTE_SPARE_MM = 0.5
#: mm by which a mark must be wider than the bit, so that the bit can run round in it.
MARK_SPARE_MM = 0.1


def checked(setup: Setup) -> tuple[Finding, ...]:
    """Findings about bit, feeds, tabs and marks."""
    every = (_flute(setup), _chip(setup), _deep_pass(setup), _feed(setup), _tab_height(setup))
    return tuple(found for found in every if found) + _marks(setup)


def _flute(setup: Setup) -> Finding | None:
    stock = setup.layout.stock
    needed = (
        stock.thickness_mm
        + stock.masking_top_mm
        + stock.masking_bottom_mm
        + setup.cutting.skim_mm
        + FLUTE_SPARE_MM
    )
    if setup.bit.flute_length_mm >= needed:
        return None
    return Finding(
        Level.STOP,
        "flute-too-short",
        f"The bit's flute is {setup.bit.flute_length_mm:.1f} mm long and {needed:.1f} mm are needed: "
        "the shank would rub on the part.",
        f"Use a bit with at least {needed:.1f} mm of flute.",
    )


def _chip(setup: Setup) -> Finding:
    chip = chip_load_mm(setup.cutting, setup.bit.flutes)
    told = f"Each tooth takes a chip of {chip:.3f} mm at {setup.cutting.feed_mm_min:.0f} mm/min"
    if chip < CHIP_FLOOR_MM:
        return Finding(
            Level.CAUTION,
            "chip-too-thin",
            f"{told}: below {CHIP_FLOOR_MM:.4f} mm plastic rubs and melts.",
            "Feed faster, turn slower, or use a bit with fewer flutes.",
        )
    return Finding(
        Level.NOTE,
        "chip-load",
        f"{told}, {setup.cutting.spindle_rpm:.0f} rpm and {setup.bit.flutes} flute(s).",
        "A starting value: the makers of bit and sheet know better.",
    )


def _deep_pass(setup: Setup) -> Finding | None:
    if setup.cutting.depth_per_pass_mm <= setup.bit.diameter_mm:
        return None
    return Finding(
        Level.CAUTION,
        "deep-pass",
        "A pass is deeper than the bit is wide: a light machine bends it or snaps it.",
        "Take less depth per pass.",
    )


def _feed(setup: Setup) -> Finding | None:
    top = setup.machine.top_feed_mm_min
    if setup.cutting.feed_mm_min <= top:
        return None
    return Finding(
        Level.CAUTION,
        "feed-beyond-machine",
        f"The machine reaches {top:.0f} mm/min and {setup.cutting.feed_mm_min:.0f} are asked for: "
        "the chip will be thinner than it says.",
        "Feed slower, and turn slower by as much.",
    )


def _tab_height(setup: Setup) -> Finding | None:
    if setup.tab_rule.height_mm < setup.layout.stock.thickness_mm:
        return None
    return Finding(
        Level.CAUTION,
        "tab-too-high",
        "The tabs are as high as the sheet is thick: nothing is cut there.",
        "Make the tabs lower.",
    )


def _marks(setup: Setup) -> tuple[Finding, ...]:
    return tuple(
        Finding(
            Level.STOP,
            "mark-too-small",
            f"A {setup.bit.diameter_mm:g} mm bit cannot bore a mark {mark.diameter_mm:.1f} mm wide.",
            "Use a narrower bit or wider marks.",
            mark.at,
        )
        for mark in setup.layout.marks
        if mark.kind == "hole" and mark.diameter_mm < setup.bit.diameter_mm + MARK_SPARE_MM
    )


def checked_travel(extents: Extents, setup: Setup) -> tuple[Finding, ...]:
    """A stop when the bit goes farther up and down than the machine; the sheet has judged x and y."""
    size, travel = extents.z_max - extents.z_min, setup.machine.travel_mm[2]
    if size <= travel:
        return ()
    text = f"The bit goes {size:.1f} mm up and down and the machine only {travel:.1f} mm."
    remedy = "Lower the safe height, take thinner stock, or use a machine with more travel."
    return (Finding(Level.STOP, "beyond-travel", text, remedy),)
