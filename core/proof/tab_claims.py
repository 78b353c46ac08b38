"""The tabs that the bytes leave against the tabs that the report claims."""

from collections.abc import Sequence
from math import hypot

from core.findings import Finding
from core.proof.claims import Claims, TabClaim
from core.proof.readback import TAB_WITHIN, breach
from core.proof.tabs_left import TabLeft, Wall

#: mm between the claimed middle of a tab on the wall and the measured one: they are one tab.
SAME_TAB = 0.2
#: mm, and share of the bit's diameter, by which a stub's length on the wall may differ: its tips run out to
#: nothing between the wall and the round of the bit, on a bend sooner or later than beside a straight wall,
#: so that where it ends is known less well than its neck.
WALL_WITHIN, WALL_SHARE = 0.1, 0.02


def tab_findings(path: str, found: Sequence[TabLeft], claims: Claims) -> tuple[Finding, ...]:
    """A stop for every tab that is missing, not claimed, or of another neck or height."""
    claim = claims.program
    wanted = claim.tabs if claim else ()
    problems = [_tab_finding(path, tab, found, claims) for tab in wanted]
    if len(found) != len(wanted):
        text = f"{path} leaves {len(found)} tabs, and {len(wanted)} are claimed."
        problems.append(breach("tab-count", text))
    return tuple(problem for problem in problems if problem is not None)


def _tab_finding(path: str, tab: TabClaim, found: Sequence[TabLeft], claims: Claims) -> Finding | None:
    near = [(one, wall) for one in found for wall in one.walls if _away(tab, wall, claims) <= SAME_TAB]
    if not near:
        return breach("tab-missing", f"{path} leaves no tab where one is claimed.", tab.at)
    one, wall = near[0]
    off = max(abs(one.neck_mm - tab.neck_mm), abs(one.height_mm - tab.height_mm))
    if off <= TAB_WITHIN and abs(wall.length_mm - tab.wall_mm) <= _wall_within(claims):
        return None
    text = (
        f"{path} leaves a tab with a neck of {one.neck_mm:.3f} mm, {wall.length_mm:.3f} mm long on the wall "
        f"and {one.height_mm:.3f} mm high; claimed are {tab.neck_mm:.3f}, {tab.wall_mm:.3f} and "
        f"{tab.height_mm:.3f} mm."
    )
    return breach("tab-differs", text, tab.at)


def _wall_within(claims: Claims) -> float:
    return WALL_WITHIN + (WALL_SHARE * claims.program.bit_mm if claims.program else 0.0)


def _away(tab: TabClaim, wall: Wall, claims: Claims) -> float:
    x, y = tab.at[0] - claims.zero_at[0], tab.at[1] - claims.zero_at[1]
    return hypot(wall.at[0] - x, wall.at[1] - y)
