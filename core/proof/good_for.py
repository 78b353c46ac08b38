"""How thick the sheet may be for a program, read back from its bytes, against what is said of it.

With Z zeroed on the stock's top the heights of the bytes stand still while the stock's bottom moves: in the
thinnest sheet the lowest tab is just as high as one must be, or the deepest cut as deep in the board as it
may; in the thickest the cut is through by just what it must be. Both ends are looked for in what the bytes
take away: the crests of the tabs that stand, and the depth down to which nothing of the slots is missing.
With Z zeroed on the board it is the stock's top that moves, up to where the bit comes down through the air.
"""

import re

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.program.read.program import Program
from core.proof.claims import Claims, ProgramClaim, TabClaim
from core.proof.readback import breach
from core.proof.removal import swept_below
from core.proof.standing import CHIP, DUST
from core.proof.tabs_left import TabLeft
from core.proof.verdict import IN_STOCK

#: mm: the limits of the window (contract.md, "good for"): the lowest tab that holds, and what is through.
LEAST_TAB_MM, LEAST_THROUGH_MM = 0.3, 0.05
#: Share of the board that may be cut into (contract.md).
MOST_OF_BOARD = 0.5
#: mm; the shallowest slot that guides a knife along a skin (bench practice, no source).
LEAST_SLOT_MM = 0.5
#: mm by which an end of the window may be off.
END_WITHIN = 0.01
#: mm by which an end may be off in words with two decimals.
WORDS_WITHIN = END_WITHIN + 0.005
#: How the program's head tells the window.
SAID = re.compile(r"good for (\d+(?:\.\d+)?) to (\d+(?:\.\d+)?) mm", re.IGNORECASE)

Window = tuple[float, float]


def window_findings(
    path: str, program: Program, through: BaseGeometry, tabs: tuple[TabLeft, ...], claims: Claims
) -> tuple[Finding, ...]:
    """A stop for every end of the window that report or program's head tell wrongly.

    through: what is gone at the stock's bottom; tabs: those that stand; in the program's coordinates, mm.
    """
    claim, said = claims.program, claims.stock.good_for_mm
    if claim is None or said is None:
        return ()
    found = [_end_finding(path, "thinnest", said[0], thinnest_mm(program, tabs, claims, claim))]
    if claims.z_zero == "stock top":
        found += [_through_finding(path, program, through, said[1], claims, claim)]
    else:
        found += [_end_finding(path, "thickest", said[1], _over_top_mm(program, claims))]
    return (*(one for one in found if one is not None), *_head_findings(path, program, said))


def thinnest_mm(
    program: Program, tabs: tuple[TabLeft, ...], claims: Claims, claim: ProgramClaim
) -> float | None:
    """The thinnest sheet, mm; None where nothing of the bytes tells it."""
    heights = [tab.height_mm for tab in tabs]
    if claims.z_zero != "stock top":
        if claim.skin:
            return claim.skin.thickness_mm + LEAST_SLOT_MM
        return max(heights) + LEAST_TAB_MM if heights else None
    if not heights:
        return None
    held = claims.stock.thickness_mm - (min(heights) - LEAST_TAB_MM)
    board = claims.stock.board_mm
    return held if board is None else max(held, -_lowest(program) - MOST_OF_BOARD * board)


def is_through(
    program: Program, through: BaseGeometry, depth_z: float, tabs: tuple[TabClaim, ...], claims: Claims
) -> bool:
    """Whether all that is gone in through is gone at depth_z too, but beside tabs, whose feet go on down."""
    claim = claims.program
    bit = claim.bit_mm if claim else 0.0
    missing = shapely.difference(through, swept_below(program, bit, depth_z))
    beside = [
        shapely.Point(np.subtract(tab.at, claims.zero_at)).buffer(tab.wall_mm / 2.0 + 2.0 * bit)
        for tab in tabs
    ]
    rest = shapely.get_parts(shapely.difference(missing, shapely.union_all(beside)))
    return not any(one.area > CHIP and not shapely.buffer(one, -DUST).is_empty for one in rest)


def _lowest(program: Program) -> float:
    return float(np.nanmin(program.ends[:, 2], initial=np.inf))


def _through_finding(
    path: str, program: Program, through: BaseGeometry, thickest: float, claims: Claims, claim: ProgramClaim
) -> Finding | None:
    """A stop when a sheet END_WITHIN below the thickest is not cut through, or one as much above it is."""
    if claim.skin:
        return None
    tabs, floor = claim.tabs, -thickest - LEAST_THROUGH_MM
    if not is_through(program, through, floor + END_WITHIN, tabs, claims):
        text = f"{path} does not cut through a sheet of {thickest:.3f} mm, which it is said to be good for."
    elif is_through(program, through, floor - END_WITHIN, tabs, claims):
        text = (
            f"{path} cuts through sheets thicker than the {thickest:.3f} mm that it is said to be good for."
        )
    else:
        return None
    return breach("good-for-differs", text)


def _over_top_mm(program: Program, claims: Claims) -> float | None:
    """The thickest sheet, mm, that lies below where the bit comes straight down to; Z zeroed on the board."""
    apart = program.ends - program.starts
    falls = (np.abs(apart[:, :2]) == 0.0).all(axis=1) & (apart[:, 2] < 0.0)
    # A fall that ends in the stock, as beside a tab or in a drilled hole, is a cut and no way to it.
    straight = falls & (program.ends[:, 2] > claims.top_z_mm - IN_STOCK)
    if not straight.any():
        return None
    lowest = float(program.ends[straight, 2].min())
    return lowest - claims.stock.masking_top_mm - claims.stock.masking_bottom_mm


def _end_finding(path: str, end: str, said: float, measured: float | None) -> Finding | None:
    if measured is None or abs(said - measured) <= END_WITHIN:
        return None
    text = (
        f"{path} is said to be good for a sheet of {said:.3f} mm as the {end}; its bytes give {measured:.3f}."
    )
    return breach("good-for-differs", text)


def _head_findings(path: str, program: Program, said: Window) -> tuple[Finding, ...]:
    """A stop when a remark of the program tells another window than the report."""
    told = [match for remark in program.remarks if (match := SAID.search(remark.text))]
    return tuple(
        breach(
            "good-for-differs", f"{path} says {match[0]}; the report says {said[0]:.2f} to {said[1]:.2f} mm."
        )
        for match in told
        if max(abs(float(match[1]) - said[0]), abs(float(match[2]) - said[1])) > WORDS_WITHIN
    )
