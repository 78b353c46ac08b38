"""The tabs that the bytes leave against the tabs that the report claims."""

from collections.abc import Sequence
from math import hypot

from core.findings import Finding
from core.proof.claims import Claims, TabClaim
from core.proof.readback import TAB_WITHIN, breach
from core.proof.tabs_left import TabLeft

#: mm between the claimed middle of a tab on the wall and the measured one: they are one tab.
SAME_TAB = 0.2


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
    near = [one for one in found if _away(tab, one, claims) <= SAME_TAB]
    if not near:
        return breach("tab-missing", f"{path} leaves no tab where one is claimed.", tab.at)
    off = max(abs(near[0].neck_mm - tab.neck_mm), abs(near[0].height_mm - tab.height_mm))
    if off <= TAB_WITHIN:
        return None
    text = (
        f"{path} leaves a tab with a neck of {near[0].neck_mm:.3f} mm, {near[0].height_mm:.3f} mm high; "
        f"claimed are {tab.neck_mm:.3f} and {tab.height_mm:.3f} mm."
    )
    return breach("tab-differs", text, tab.at)


def _away(tab: TabClaim, one: TabLeft, claims: Claims) -> float:
    x, y = tab.at[0] - claims.zero_at[0], tab.at[1] - claims.zero_at[1]
    return min((hypot(wall.at[0] - x, wall.at[1] - y) for wall in one.walls), default=float("inf"))
