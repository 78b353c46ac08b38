"""A skin that holds the part instead of tabs: every slot ends a little above the board.

Whatever would come loose stays on the skin; only marks, and openings that are milled away wholly, go right
through, since nothing of them is left to fly. The skin is what stays between the lowest cut and the board,
so that it is exact only with Z zeroed on the board, and as even as the board is.
"""

from core.findings import Finding, Level
from core.outline.loop import Loop
from core.outline.measure import contains
from core.outline.region import Region
from core.router.board import Board
from core.router.setup import Setup
from core.router.waste import Waste

#: mm of skin that must stay where board and sheet are at their worst (bench practice).
LEAST_SKIN_MM = 0.1
#: mm; a thicker skin is hard to cut by hand (a published article asks for 0.38 to 0.51; the rest is
#: common practice, no source).
USUAL_SKIN_MM = 0.8
#: mm of stock that the passes should take off: a shallower slot does not guide a knife (bench practice).
LEAST_SLOT_MM = 0.5


def openings_through(
    loops: tuple[Loop, ...], wastes: tuple[Waste, ...], homes: list[int], setup: Setup
) -> list[bool]:
    """Which contours go to the board: all of them with tabs; over a skin, openings that leave no piece.

    homes: the contour that each piece of waste lies in, -1 for none.
    """
    if not setup.has_skin:
        return [True] * len(loops)
    held = {home for waste, home in zip(wastes, homes, strict=True) if not waste.is_milled}
    return [
        loop.signed_area() < 0.0 and index not in held and not _holds_a_part(loop, loops)
        for index, loop in enumerate(loops)
    ]


def _holds_a_part(opening: Loop, loops: tuple[Loop, ...]) -> bool:
    edges = [loop.points[:1] for loop in loops if loop.signed_area() > 0.0]
    return any(bool(contains((Region(opening.reversed()),), corner)[0]) for corner in edges)


def skin_findings(setup: Setup, board: Board, *, is_zeroed_on_board: bool) -> tuple[Finding, ...]:
    """What speaks against a skin here; nothing where tabs hold."""
    if not setup.has_skin:
        return ()
    found = (_on_top(is_zeroed_on_board=is_zeroed_on_board), _thin(setup, board), _thick(setup))
    return tuple(one for one in found if one is not None)


def _on_top(*, is_zeroed_on_board: bool) -> Finding | None:
    if is_zeroed_on_board:
        return None
    text = "A skin is measured from the board, and Z is zeroed on the stock's top: an error of the sheet's "
    return Finding(
        Level.STOP,
        "skin-needs-board-zero",
        f"{text}thickness would be an error of the skin.",
        "Zero Z on the board (stock.z_zero), or hold the part by tabs.",
    )


def least_skin_mm(spread_mm: float, board: Board) -> float:
    """The thinnest skin that holds where sheet and board are at their worst (bench practice)."""
    return spread_mm + board.error_mm + LEAST_SKIN_MM


def _thin(setup: Setup, board: Board) -> Finding | None:
    spread, skin = setup.layout.stock.thickness_spread_mm, setup.tab_rule.skin_mm
    least = least_skin_mm(spread, board)
    if skin > least:
        return None
    return Finding(
        Level.STOP,
        "skin-too-thin",
        f"The skin is {skin:g} mm, the sheet's thickness spreads by {spread:g} mm and the board is "
        f"{board.error_mm:g} mm from level: somewhere it may be cut through, and the part thrown.",
        f"Leave more than {least:.2f} mm, skim the board level, or hold the part by tabs.",
    )


def _thick(setup: Setup) -> Finding | None:
    thickness, skin = setup.layout.stock.thickness_mm, setup.tab_rule.skin_mm
    if skin > thickness - LEAST_SLOT_MM:
        text = f"A skin of {skin:g} mm leaves hardly a slot in a sheet of {thickness:.2f} mm."
        return Finding(Level.STOP, "skin-too-thick", text, "Leave a thinner skin.")
    if skin <= USUAL_SKIN_MM:
        return None
    text = (
        f"A skin of {skin:g} mm is hard to cut by hand; 0.4 to 0.8 mm is usual (common practice, no source)."
    )
    return Finding(Level.CAUTION, "skin-thick", text, "Leave a thinner skin.")
