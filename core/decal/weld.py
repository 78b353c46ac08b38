"""Films that meet share their edge to the last bit.

Each film is cut by the face on its own, so the point where a shared Chain meets the face's edge is
computed once for each side and may differ in its last digits. Here such points become one, and the bulge
of a shared segment becomes that of its first owner, its sign turned: what the files then say of the
edge is the same number twice.
"""

from collections.abc import Sequence

import numpy as np
import shapely

from core.outline.loop import Loop
from core.outline.region import Regions, mapped
from core.outline.segments import Floats

#: mm; far above the rounding of two computations of one point, far below anything that can be cut.
SAME_POINT_MM = 1e-6
#: Two arcs over one chord closer than this are one arc: on a chord of 100 mm they part by 0.05 micron.
SAME_BULGE = 1e-9

Ends = tuple[tuple[float, float], tuple[float, float]]


def welded(groups: Sequence[Regions]) -> tuple[Regions, ...]:
    """The same groups of Regions with equal points and bulges wherever two of their edges are one."""
    loops = [loop for regions in groups for region in regions for loop in region.loops()]
    if not loops:
        return tuple(groups)
    points = np.split(
        _unified(np.vstack([loop.points for loop in loops])),
        np.cumsum([len(loop.points) for loop in loops])[:-1],
    )
    known: dict[Ends, list[float]] = {}
    new = {
        id(loop): _with_known_bulges(corners, loop, known)
        for loop, corners in zip(loops, points, strict=True)
    }
    return tuple(mapped(regions, lambda loop: new[id(loop)]) for regions in groups)


def _unified(points: Floats) -> Floats:
    """(n, 2): every point replaced by the first one within SAME_POINT_MM of it."""
    places = np.atleast_1d(np.asarray(shapely.points(points), dtype=object))
    one, other = shapely.STRtree(places).query(places, predicate="dwithin", distance=SAME_POINT_MM)
    first = np.arange(len(points))
    for low, high in sorted(zip(one[one < other].tolist(), other[one < other].tolist(), strict=True)):
        first[high] = min(first[high], first[low])
    return np.asarray(points[first])


def _with_known_bulges(points: Floats, loop: Loop, known: dict[Ends, list[float]]) -> Loop:
    bulges = loop.bulges.copy()
    keep = np.ones(len(bulges), dtype=bool)
    corners = [(float(x), float(y)) for x, y in points]
    for index, start in enumerate(corners):
        end = corners[(index + 1) % len(corners)]
        if start == end:
            keep[index] = False
        else:
            bulges[index] = _shared_bulge(start, end, float(bulges[index]), known)
    return loop if keep.sum() < 2 else Loop(points[keep], bulges[keep])


def _shared_bulge(
    start: tuple[float, float], end: tuple[float, float], bulge: float, known: dict[Ends, list[float]]
) -> float:
    """The bulge of the first owner of this segment, as seen from here."""
    sign = 1.0 if start < end else -1.0
    owners = known.setdefault((min(start, end), max(start, end)), [])
    for owner in owners:
        if abs(owner - sign * bulge) <= SAME_BULGE:
            return sign * owner
    owners.append(sign * bulge)
    return bulge
