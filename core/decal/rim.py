"""What becomes of a rim: moved inward at its width, left to be thinned by the inset, or dropped.

The inset takes from a rim's outer side. Moved, its inner edge goes on inward by the inset, so that it comes
out as wide as drawn; it stops short of other films. Dropped, all of it out to the part's edge is gone, and
lines that met it run on to the face's edge.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import shapely

from core.decal.change import as_regions
from core.decal.rim_runs import FLATNESS_MM, RimFound, RimRun, grounds, rim_on
from core.findings import Finding, Level
from core.outline.along import grown_along
from core.outline.boolean import difference
from core.outline.curve import picked
from core.outline.polygon import to_solid, without_crossings
from core.outline.region import Regions
from core.outline.segments import Floats, Segments

#: mm between rays from a rim's inner edge to the part's; a dropped rim is cut off between two of them.
RAY_MM = 0.1
#: mm by which a dropped rim is cut beyond both its edges, where no film can be, so that no thread stays.
BEYOND_MM = 0.02
#: mm of other edge along which a corner of the film must lie to be more than a rim's own corner.
LEAST_EDGE_MM = 0.05


class Rim(StrEnum):
    """What is done with a rim."""

    MOVED = "moved"
    THINNED = "thinned"
    DROPPED = "dropped"


@dataclass(frozen=True)
class RimWish:
    """What becomes of rims, and how wide the widest is, mm (> 0)."""

    how: Rim = Rim.THINNED
    widest_mm: float = 4.0


#: Nothing is taken for a rim.
NO_RIMS = RimWish(Rim.THINNED, 0.0)


@dataclass(frozen=True, eq=False)
class Rimmed:
    """A film's patch after its rim was seen to, and the runs of the rim."""

    patch: Regions
    runs: tuple[RimRun, ...] = ()


def rimmed(patches: Sequence[Regions], part: Regions, inset_mm: float, wish: RimWish) -> tuple[Rimmed, ...]:
    """Each film's patch with its rim seen to; part as drawn, all in the frame, mm, inset_mm >= 0."""
    if wish.widest_mm <= 0.0 or (inset_mm <= 0.0 and wish.how is not Rim.DROPPED):
        return tuple(Rimmed(patch) for patch in patches)
    made = []
    on = grounds(patches, part, wish.widest_mm)
    for place, patch in enumerate(patches):
        others = [other for at, other in enumerate(patches) if at != place]
        found = rim_on(patch, on[place])
        made.append(Rimmed(_changed(patch, found, part, others, inset_mm, wish.how), found.runs))
    return tuple(made)


def _changed(
    patch: Regions, found: RimFound, part: Regions, others: Sequence[Regions], inset_mm: float, how: Rim
) -> Regions:
    if not found.runs or how is Rim.THINNED:
        return patch
    if how is Rim.DROPPED:
        return difference(patch, as_regions(_rim_area(found, part)))
    moved = grown_along(found.patch, found.chosen, inset_mm)
    for other in others:
        moved = _less(moved, other)
    return moved


def _less(moved: Regions, other: Regions) -> Regions:
    """A moved rim without another film's patch, where it reached over a gap narrower than the inset."""
    met = shapely.intersection(_solid(moved), _solid(other))
    return difference(moved, other) if shapely.area(met) > FLATNESS_MM * shapely.length(met) else moved


def _solid(regions: Regions) -> shapely.Geometry:
    return to_solid(regions, FLATNESS_MM)


def _rim_area(found: RimFound, part: Regions) -> shapely.Geometry:
    """All film between a rim's inner edge and the part's edge, its corners too."""
    edge = shapely.boundary(_solid(part))
    strips: list[shapely.Geometry] = []
    others: list[Floats] = []
    first = 0
    for loop in (loop for region in found.patch for loop in region.loops()):
        segments = loop.segments()
        for row, is_rim in enumerate(found.chosen[first : first + len(segments)].tolist()):
            one = picked(segments, np.array([row]))
            if is_rim:
                strips.append(_strip(one, edge))
            else:
                others.append(np.vstack((one.corners(FLATNESS_MM), one.ends)))
        first += len(segments)
    swept = shapely.union_all(strips)
    return _with_corners(swept, _solid(found.patch), _inner(others, edge))


def _strip(segment: Segments, edge: shapely.Geometry) -> shapely.Geometry:
    """What lies between one segment of a rim's inner edge and the part's edge."""
    count = max(int(np.ceil(segment.lengths()[0] / RAY_MM)), 1)
    shares = np.linspace(0.0, 1.0, count + 1)
    each = picked(segment, np.zeros(count + 1, dtype=np.int64))
    inner = each.points_at(shares)
    lines = shapely.shortest_line(shapely.points(inner), edge)
    outer = shapely.get_coordinates(lines).reshape(-1, 2, 2)[:, 1]
    ways = outer - inner
    beyond = BEYOND_MM * ways / np.maximum(np.hypot(*ways.T), FLATNESS_MM)[:, None]
    inner, outer = inner - beyond, outer + beyond
    quads = np.stack((inner[:-1], inner[1:], outer[1:], outer[:-1]), axis=1)
    return shapely.union_all(without_crossings(np.asarray(shapely.polygons(quads))))


def _inner(lines: Sequence[Floats], edge: shapely.Geometry) -> shapely.Geometry:
    """The film's other edges, as far as they are not the part's."""
    every = shapely.MultiLineString([line for line in lines if len(line) > 1])
    return shapely.difference(every, shapely.buffer(edge, BEYOND_MM))


def _with_corners(
    swept: shapely.Geometry, film: shapely.Geometry, inner: shapely.Geometry
) -> shapely.Geometry:
    """The swept area and what it cuts off of the film that has no other edge within the part: its corners."""
    left = shapely.get_parts(shapely.difference(film, swept))
    along = shapely.length(shapely.intersection(shapely.buffer(left, FLATNESS_MM), inner))
    corners = left[along < LEAST_EDGE_MM]
    return shapely.union_all([swept, *shapely.buffer(corners, BEYOND_MM / 2.0)])


def rim_findings(name: str, rim: Rimmed, how: Rim, inset_mm: float) -> list[Finding]:
    """A note for a film with a rim: how wide it was, what became of it, and what else can be asked for."""
    if not rim.runs:
        return []
    longest = max(rim.runs, key=lambda run: run.length_mm)
    line = f"The film {name} has a line {longest.width_mm:.1f} mm wide along the part's edge"
    left = max(longest.width_mm - inset_mm, 0.0)
    code, text, remedy = {
        Rim.MOVED: (
            "rim-moved",
            f"{line}: it is moved in by {inset_mm:g} mm and keeps its width.",
            "Or let the inset thin it, or drop it (film.rim).",
        ),
        Rim.THINNED: (
            "rim-thinned",
            f"{line}: the inset leaves {left:.1f} mm of it.",
            "Move it inward at its width, or drop it (film.rim).",
        ),
        Rim.DROPPED: (
            "rim-dropped",
            f"{line}: it is dropped.",
            "Move it inward at its width, or thin it (film.rim).",
        ),
    }[how]
    return [Finding(Level.NOTE, code, text, remedy, longest.start)]
