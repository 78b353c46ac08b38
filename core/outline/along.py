"""Regions grown along some of their edges alone, as lines and arcs.

Like the whole growth of offset.py: every chosen segment is moved sideways and corners between two chosen ones
get a join arc. Where a run of chosen segments ends, the band ends square to the edge, or in an arc about the
end that reaches round to where the edge goes on, a quarter turn at most.
"""

from dataclasses import dataclass
from math import pi

import numpy as np
import shapely

from core.errors import BadShape
from core.outline.boolean import solid
from core.outline.crossing import SNAP
from core.outline.curve import Flags, Ints, joined, picked
from core.outline.knit import knitted
from core.outline.noding import noded
from core.outline.offset import LEAST_CORNERS, Corners, corners_of, join_arcs, moved, past_centres
from core.outline.polygon import without_crossings
from core.outline.region import Regions
from core.outline.segments import Floats, Segments
from core.outline.weave import Cloth

#: rad; an arc that sweeps less about a run's end is no arc.
LEAST_SWEEP = 1e-6


def grown_along(regions: Regions, chosen: Flags, distance_mm: float) -> Regions:
    """The Regions and a band of distance_mm (>= 0, else BadShape) along the chosen segments.

    chosen (n,) has one word for each segment of each Loop, outer ones first, in their order.
    """
    if not distance_mm >= 0.0:
        raise BadShape(f"a distance to grow by is not below 0: {distance_mm}")
    if distance_mm == 0.0 or not chosen.any():
        return regions
    segments = joined([loop.segments() for region in regions for loop in region.loops()])
    band = _Band.of(segments, corners_of(regions, segments), chosen, distance_mm)
    whole = shapely.union_all([solid(regions, band.cloth, 0), *band.polygons()])
    return knitted(whole, band.cloth)


@dataclass(frozen=True, eq=False)
class _Band:
    """Sources of the cloth: all segments, those that were moved (kept), arcs about corners, and end lines."""

    segments: Segments
    distance_mm: float
    kept: Ints
    gone: Ints
    about: Floats
    cloth: Cloth

    @classmethod
    def of(cls, segments: Segments, corners: Corners, chosen: Flags, distance_mm: float) -> "_Band":
        shifted, size = moved(segments, -distance_mm)
        kept, gone = np.flatnonzero(chosen & (size > SNAP)), np.flatnonzero(chosen & (size <= SNAP))
        joins, at = join_arcs(segments, corners, -distance_mm)
        inner = chosen[at] & chosen[corners.before[at]]
        caps, lines, ends = _ends(segments, corners, chosen, distance_mm)
        arcs = joined([picked(joins, np.flatnonzero(inner)), caps])
        about = np.vstack((segments.starts[at[inner]], ends))
        wide = np.flatnonzero(arcs.chord_lengths() > SNAP)
        sources = joined([segments, picked(shifted, kept), picked(arcs, wide), lines])
        return cls(segments, distance_mm, kept, gone, about[wide], Cloth.of(sources, noded(sources)))

    def polygons(self) -> list[shapely.Geometry]:
        """What lies between each segment and where it was moved, and the sectors about corners."""
        cloth, first = self.cloth, len(self.segments)
        rings = [
            *((cloth.way(k), cloth.way(first + j)[::-1]) for j, k in enumerate(self.kept.tolist())),
            *((cloth.way(k), tip[None, :]) for k, tip in zip(self.gone.tolist(), self._tips(), strict=True)),
            *(
                (middle[None, :], cloth.way(first + len(self.kept) + j))
                for j, middle in enumerate(self.about)
            ),
        ]
        corners = [ring for ring in map(np.concatenate, rings) if len(ring) >= LEAST_CORNERS]
        return without_crossings(np.array([shapely.Polygon(ring) for ring in corners]))

    def _tips(self) -> Floats:
        """(n, 2) mm: on which point each segment that turns inside out closes its band."""
        return past_centres(picked(self.segments, self.gone), -self.distance_mm)


def _ends(
    segments: Segments, corners: Corners, chosen: Flags, distance_mm: float
) -> tuple[Segments, Segments, Floats]:
    """Arcs about the ends of runs, lines square to them, and the middle (n, 2) of each arc."""
    after = np.empty_like(corners.before)
    after[corners.before] = np.arange(len(after))
    firsts = np.flatnonzero(chosen & ~chosen[corners.before])
    lasts = np.flatnonzero(chosen & ~chosen[after])
    ones = np.ones(len(segments))
    leaving, arriving = segments.headings_at(0.0 * ones), segments.headings_at(ones)
    # From the square end the arc goes on to where the next edge runs: the free angle there, less a right one.
    back = np.clip(pi / 2.0 + corners.turns[firsts], 0.0, pi / 2.0)
    ahead = np.clip(pi / 2.0 + corners.turns[after[lasts]], 0.0, pi / 2.0)
    middles = np.vstack((segments.starts[firsts], segments.ends[lasts]))
    low = np.concatenate((leaving[firsts] - pi / 2.0 - back, arriving[lasts] - pi / 2.0))
    sweep = np.concatenate((back, ahead))
    starts, ends = _about(middles, low, distance_mm), _about(middles, low + sweep, distance_mm)
    arcs = Segments(starts, ends, np.tan(sweep / 4.0))
    zeros = np.zeros(len(middles))
    turned = sweep > LEAST_SWEEP
    lines = joined([Segments(middles, starts, zeros), Segments(middles, ends, zeros)])
    return picked(arcs, np.flatnonzero(turned)), lines, middles[turned]


def _about(middles: Floats, headings: Floats, distance_mm: float) -> Floats:
    return np.asarray(middles + distance_mm * np.column_stack((np.cos(headings), np.sin(headings))))
