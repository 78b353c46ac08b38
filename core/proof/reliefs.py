"""Films that stand back from tabs: from each as far as claimed, and from nothing else.

Behind the stock film lies level with the tabs. Every tab of the first piece (tab_claims.py holds them against
the bytes) has its relief then; where it lies, film is missing on purpose, and films.py proves that it is.
"""

from collections.abc import Sequence
from math import dist, hypot

import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.claims import Claims, ReliefClaim, TabClaim
from core.proof.polygons import quarter_steps
from core.proof.readback import Excepted, Why, breach

#: mm that film stands back at a tab beyond its inset, and what rounding in the report may take of it.
STANDS_BACK, WITHIN = 1.0, 1e-3
#: mm between the middle of a tab on the wall and of its relief: they are one.
SAME_PLACE = 0.05
#: Share of a stub's length on the wall that the two chords of its relief may be shorter by: it may bend.
BENDS = 0.15


def kept_free(reliefs: Sequence[ReliefClaim]) -> BaseGeometry:
    """What no film lies in, in the frame, mm."""
    return shapely.union_all(
        [
            shapely.LineString([start, end]).buffer(one.reach_mm, quad_segs=quarter_steps(one.reach_mm))
            if dist(start, end) > 0.0
            else shapely.Point(start).buffer(one.reach_mm, quad_segs=quarter_steps(one.reach_mm))
            for one in reliefs
            for start, end in zip(one.wall[:-1], one.wall[1:], strict=True)
        ]
    )


def relief_findings(claims: Claims, tabs: Sequence[TabClaim]) -> tuple[Finding, ...]:
    """Stops: a tab of the first piece without its relief, and a relief without its tab.

    One that takes more film than its tab needs is that tab's no more.
    """
    if claims.reliefs is None:
        return ()
    if claims.program is None:  # nothing is cut, so nothing is told of tabs: how far film stands back is
        return tuple(
            breach("relief-missing", "Film does not stand back as far as it should.", one.wall[1])
            for one in claims.reliefs
            if abs(one.reach_mm - _reach_mm(claims)) > WITHIN
        )
    needed = tabs if claims.mirror_x is not None and claims.bored else ()
    reach = _reach_mm(claims)
    found = [
        breach("relief-missing", "Film does not stand back from a tab as far as it should.", tab.at)
        for tab in needed
        if claims.films and not any(_relieves(one, tab, reach) for one in claims.reliefs)
    ]
    found += [
        breach("relief-without-tab", "Film stands back where no tab is claimed.", one.wall[1])
        for one in claims.reliefs
        if not any(_away(one, tab) <= SAME_PLACE for tab in needed)
    ]
    return tuple(found)


def relieved_places(claims: Claims, part: BaseGeometry, patches: Sequence[BaseGeometry]) -> list[Excepted]:
    """The stretches of edge that film would have, and that reliefs take."""
    if not claims.reliefs:
        return []
    inset, covered = max((film.inset_mm for film in claims.films), default=0.0), shapely.union_all(patches)
    edge = shapely.intersection(part.buffer(-inset).boundary, covered)
    places = []
    for one in claims.reliefs:
        taken = shapely.length(shapely.intersection(edge, kept_free((one,))))
        if taken > 0.0:
            places.append(Excepted(one.wall[1], Why.RELIEF, float(taken)))
    return places


def _reach_mm(claims: Claims) -> float:
    return max((film.inset_mm for film in claims.films), default=0.0) + STANDS_BACK


def _relieves(relief: ReliefClaim, tab: TabClaim, reach_mm: float) -> bool:
    start, middle, end = relief.wall
    chords = dist(start, middle) + dist(middle, end)
    is_long = tab.wall_mm * (1.0 - BENDS) <= chords <= tab.wall_mm + WITHIN
    is_far = abs(relief.reach_mm - reach_mm) <= WITHIN
    return _away(relief, tab) <= SAME_PLACE and is_long and is_far


def _away(relief: ReliefClaim, tab: TabClaim) -> float:
    return hypot(relief.wall[1][0] - tab.at[0], relief.wall[1][1] - tab.at[1])
