"""The face: where film may lie."""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from core.findings import Point
from core.outline.boolean import intersection, union
from core.outline.loop import Loop
from core.outline.offset import shrunk
from core.outline.polygon import to_polygon
from core.outline.region import Region, Regions

#: mm that the polygon may stray by which a tip's reach is measured.
FLATNESS_MM = 0.01
#: mm to which a reach is rounded: it is told in the report.
REACH_GRID_MM = 0.001


@dataclass(frozen=True)
class TipWish:
    """A tip at a point (frame, mm) where film may come as near to the edge as inset_mm (>= 0)."""

    at: Point
    inset_mm: float


@dataclass(frozen=True)
class NearerTip:
    """The same, and how far round the point it holds, mm."""

    at: Point
    inset_mm: float
    reach_mm: float


def face_of(as_cut: Regions, inset_mm: float, tips: Sequence[NearerTip] = ()) -> Regions:
    """The as-cut part less inset_mm (>= 0) along its edge and its openings; less of it at some tips."""
    face = shrunk(as_cut, inset_mm) if inset_mm > 0.0 else as_cut
    for tip in tips:
        nearer = shrunk(as_cut, tip.inset_mm) if tip.inset_mm > 0.0 else as_cut
        disc = (Region(Loop.circle(tip.at, tip.reach_mm)),)
        face = union(face, intersection(nearer, disc))
    return face


def nearer_tips(wishes: Sequence[TipWish], as_cut: Regions, inset_mm: float) -> tuple[NearerTip, ...]:
    """How far round each tip the smaller inset holds: to where the face begins, and an inset more."""
    if not wishes:
        return ()
    face = to_polygon(face_of(as_cut, inset_mm), FLATNESS_MM)
    reaches = [float(shapely.distance(face, shapely.Point(wish.at))) + inset_mm for wish in wishes]
    return tuple(
        NearerTip(wish.at, wish.inset_mm, round(reach / REACH_GRID_MM) * REACH_GRID_MM)
        for wish, reach in zip(wishes, reaches, strict=True)
        if wish.inset_mm < inset_mm
    )
