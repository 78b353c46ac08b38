"""Outside corners of films rounded, since a sharp one lifts first (common practice: 0.5 to 1 mm).

Only corners that stand free are touched: where another film adjoins, a rounded corner would leave a gap
between the two. A corner that has no room for the radius gets half of it, or a quarter; else it stays.
"""

from collections.abc import Sequence
from math import radians

import numpy as np
import shapely

from core.findings import Finding, Level
from core.outline.chain import Chain
from core.outline.fillet import rounded, turns
from core.outline.loop import Loop
from core.outline.polygon import to_polygon, to_solid
from core.outline.region import Region, Regions
from core.outline.segments import Floats

#: rad; a smaller turn is no corner.
LEAST_TURN = radians(15.0)
#: rad; an outside corner that turns by more, so one under 60 degrees, lifts soonest (common practice).
SHARP_TURN = radians(120.0)
#: mm within which another film adjoins a corner, and that polygons stray from arcs.
ADJOINING_MM, FLATNESS_MM = 0.02, 0.005
#: Shares of the radius that are tried one after the other.
SHARES = (1.0, 0.5, 0.25)


def with_round_corners(films: Sequence[Regions], radius_mm: float) -> tuple[Regions, ...]:
    """The films, the free outside corners of each rounded by radius_mm (> 0) or what there is room for."""
    solids = [to_solid(regions, FLATNESS_MM) for regions in films]
    made = []
    for place, regions in enumerate(films):
        others = shapely.union_all([solid for at, solid in enumerate(solids) if at != place])
        made.append(tuple(_rounded_region(region, others, radius_mm) for region in regions))
    return tuple(made)


def sharp_corners(films: Sequence[Regions]) -> list[Floats]:
    """Of each film the free outside corners (k, 2) mm under 60 degrees."""
    solids = [to_solid(regions, FLATNESS_MM) for regions in films]
    found = []
    for place, regions in enumerate(films):
        loops = [loop for region in regions for loop in region.loops()]
        corners = [np.empty((0, 2)), *(loop.points[turns(loop.segments()) > SHARP_TURN] for loop in loops)]
        sharp = np.vstack(corners)
        for solid in solids[:place] + solids[place + 1 :]:
            sharp = sharp[~shapely.dwithin(shapely.points(sharp), solid, ADJOINING_MM)]
        found.append(sharp)
    return found


def sharp_findings(names: Sequence[str], films: Sequence[Regions]) -> list[Finding]:
    """A note for each film with sharp outside corners, at the first of them."""
    return [
        Finding(
            Level.NOTE,
            "corner-lifts",
            f"{len(corners)} outside corners of the film {name} are under 60 degrees: they lift first.",
            "Round them (film.corner_radius, 0.5 to 1 mm), or press them down well.",
            (float(corners[0, 0]), float(corners[0, 1])),
        )
        for name, corners in zip(names, sharp_corners(films), strict=True)
        if len(corners)
    ]


def free_corners(loop: Loop, others: shapely.Geometry, least_turn: float) -> Floats:
    """(k, 2) mm: points where the film, on the loop's left, turns left by more, and no other film adjoins."""
    corners = loop.points[turns(loop.segments()) > least_turn]
    if not len(corners):
        return corners
    return np.asarray(corners[~shapely.dwithin(shapely.points(corners), others, ADJOINING_MM)])


def _rounded_region(region: Region, others: shapely.Geometry, radius_mm: float) -> Region:
    """The region, or itself where rounding would make its edges cross."""
    loops = [_rounded_loop(loop, others, radius_mm) for loop in region.loops()]
    made = Region(loops[0], tuple(loops[1:]))
    return made if shapely.is_valid(to_polygon((made,), FLATNESS_MM)) else region


def _rounded_loop(loop: Loop, others: shapely.Geometry, radius_mm: float) -> Loop:
    corners = free_corners(loop, others, LEAST_TURN)
    if not len(corners):
        return loop
    chain = Chain(np.vstack((loop.points, loop.points[:1])), loop.bulges, 0, 1)
    for corner in corners:
        chain = _rounded_at(chain, corner, radius_mm)
    return Loop(chain.points[:-1], chain.bulges)


def _rounded_at(chain: Chain, corner: Floats, radius_mm: float) -> Chain:
    joint = int(np.flatnonzero((chain.points[:-1] == corner).all(axis=1))[0])
    tries = (rounded(chain, joint, radius_mm * share) for share in SHARES)
    return next((made for made in tries if made is not None), chain)
