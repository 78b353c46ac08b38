"""A stencil: the part without a film's patch, and the bridges that were asked for; it has no neighbours."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.claims import BridgeClaim, FilmClaim, StencilClaim, TipClaim
from core.proof.films import NO_FILM, NOTHING, Bed, beds
from core.proof.readback import Excepted, Why, breach
from core.proof.rim import Asked

#: mm: a bridge narrower than this tears (bench practice, no source).
LEAST_BRIDGE = 1.5
#: Bridges that hold an island.
BRIDGES_EACH = 2
#: mm and mm2 that a bridge may be narrower than claimed, or lie beyond the face: the flattening of an edge.
WIDTH_SLACK, BEYOND = 0.01, 0.05
#: mm within which a point lies in an island.
AT_ISLAND = 0.01


def with_stencils(
    asked: Sequence[Asked], part: BaseGeometry, films: Sequence[FilmClaim]
) -> tuple[Asked, ...]:
    """The same, with the negatives of those films that are stencils."""
    return tuple(
        negative(one, part, film.stencil) if film.stencil is not None else one
        for one, film in zip(asked, films, strict=True)
    )


def negative(asked: Asked, part: BaseGeometry, claim: StencilClaim) -> Asked:
    """What a film's patch is when it is cut as a stencil: all of the part but it, and bridges."""
    bars = [_bar(one) for one in claim.bridges]
    free = shapely.difference(part, asked.patch)
    told = [
        Excepted((bar.centroid.x, bar.centroid.y), Why.BRIDGE, 2.0 * _length(one))
        for bar, one in zip(bars, claim.bridges, strict=True)
    ]
    return replace(
        asked,
        patch=shapely.union_all([free, *bars]),
        least=shapely.difference(part, asked.most) if not asked.ends.is_empty else asked.least,
        most=shapely.union_all([shapely.difference(part, asked.least), *bars]),
        excepted=(*asked.excepted, *told),
        free=free,
    )


def _bar(claim: BridgeClaim) -> BaseGeometry:
    return shapely.LineString((claim.start, claim.end)).buffer(claim.width_mm / 2.0, cap_style="flat")


def _length(claim: BridgeClaim) -> float:
    return float(np.hypot(claim.end[0] - claim.start[0], claim.end[1] - claim.start[1]))


def all_beds(
    asked: Sequence[Asked],
    left: BaseGeometry,
    films: Sequence[FilmClaim],
    tips: Sequence[TipClaim] = (),
    read: Sequence[BaseGeometry] = (),
    free: BaseGeometry = NO_FILM,
) -> list[Bed]:
    """The bed of each film, the lowest first; a stencil's has nothing above it. Arguments as of beds()."""
    groups = [[at for at, film in enumerate(films) if film.stencil is None]]
    groups += [[at] for at, film in enumerate(films) if film.stencil is not None]
    made: dict[int, Bed] = {}
    for group in groups:
        claims = [films[at] for at in group]
        if len(group) == 1 and claims[0].stencil is not None:
            claims = [replace(claims[0], overlap_mm=0.0)]
        own_read = [read[at] for at in group] if read else ()
        lain = beds([asked[at] for at in group], left, claims, tips, own_read, free)
        made |= dict(zip(group, lain, strict=True))
    return [made[at] for at in range(len(films))]


def stencil_findings(name: str, claim: StencilClaim | None, bed: Bed, asked: Asked) -> tuple[Finding, ...]:
    """Stops: a bridge not asked for, too narrow or beyond the face; an island held by fewer than two."""
    if claim is None:
        return ()
    found = [
        finding for one in claim.bridges if (finding := _bridge_fault(name, one, claim, bed)) is not None
    ]
    if claim.bridge_mm > 0.0:
        free = shapely.difference(shapely.intersection(asked.free, bed.face), bed.gone)
        free = shapely.difference(free, asked.ends)  # threads that a rim's end may leave are no islands
        found += _loose(name, claim, free)
    return tuple(found)


def _bridge_fault(name: str, one: BridgeClaim, claim: StencilClaim, bed: Bed) -> Finding | None:
    if claim.bridge_mm <= 0.0:
        text = f"The stencil {name} has a bridge, and none was asked for."
    elif one.width_mm < max(LEAST_BRIDGE, claim.bridge_mm) - WIDTH_SLACK:
        text = f"A bridge of the stencil {name} is {one.width_mm:.2f} mm wide, less than asked for."
    elif shapely.difference(_bar(one), bed.face).area > BEYOND:
        text = f"A bridge of the stencil {name} leaves the face of the part."
    else:
        return None
    return breach("stencil-bridge", text, one.start)


def _loose(name: str, claim: StencilClaim, free: BaseGeometry) -> list[Finding]:
    """A stop for each island that is not held as claimed."""
    pieces = sorted((one for one in shapely.get_parts(free) if one.area > NOTHING), key=lambda one: -one.area)
    bars = [_bar(one) for one in claim.bridges]
    given_up = [shapely.Point(at) for at in claim.loose]
    found = []
    for island in pieces[1:]:
        held = int(np.sum([bar.intersection(island).area > NOTHING for bar in bars]))
        told = any(island.distance(point) <= AT_ISLAND for point in given_up)
        if held < BRIDGES_EACH and not told:
            at = island.representative_point()
            text = f"An island of the stencil {name} is held by {held} bridges; two were asked for."
            found.append(breach("stencil-island", text, (at.x, at.y)))
    whole = shapely.union_all([*pieces, *bars])
    apart = sum(one.area > NOTHING for one in shapely.get_parts(whole)) - 1
    if apart > len(given_up):
        text = f"{apart} pieces of the stencil {name} hang on nothing, more than the report says."
        found.append(breach("stencil-island", text))
    return found
