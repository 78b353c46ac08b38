"""Loops that do not cross, sorted into Regions: each opening goes to the smallest outer round it."""

from collections.abc import Iterable, Sequence

import shapely

from core.errors import BadShape
from core.outline.loop import Loop
from core.outline.region import Region, Regions

#: mm (or pixels, before scaling): an opening lies in an outer Loop or not, whatever the flattening;
#: only openings thinner than this could be taken for a part of what is round them.
NESTING = 1e-3


def nested(loops: Iterable[Loop]) -> Regions:
    """Regions of Loops, counter-clockwise ones outer, clockwise ones openings; outers keep their order.

    BadShape when an opening lies in no outer Loop.
    """
    every = [(loop, loop.signed_area()) for loop in loops]
    outers = [(loop, area) for loop, area in every if area > 0.0]
    openings = [(loop, -area) for loop, area in every if area < 0.0]
    homes = _homes(outers, openings)
    return tuple(
        Region(outer, tuple(each for (each, _), home in zip(openings, homes, strict=True) if home == index))
        for index, (outer, _) in enumerate(outers)
    )


def _homes(outers: Sequence[tuple[Loop, float]], openings: Sequence[tuple[Loop, float]]) -> list[int]:
    if not openings:
        return []
    tree = shapely.STRtree([_solid(loop) for loop, _ in outers])
    inside = shapely.point_on_surface([_solid(opening) for opening, _ in openings])
    found = tree.query(inside, predicate="within").T.tolist()
    round_each: list[list[tuple[float, int]]] = [[] for _ in openings]
    for opening, outer in found:
        if outers[outer][1] <= openings[opening][1]:
            continue  # an island within the opening
        round_each[opening].append((outers[outer][1], outer))
    if not all(round_each):
        raise BadShape("an opening lies in no outer Loop")
    return [min(candidates)[1] for candidates in round_each]


def _solid(loop: Loop) -> shapely.Polygon:
    return shapely.Polygon(loop.flattened(NESTING))
