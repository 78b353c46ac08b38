"""Where a mark may stand: in the waste round the parts that stays one piece with the frame.

A bay whose mouth the slot closes comes loose with its waste, and so does an opening's: no mark there.
Places are tried on a grid; the part is known by a polygon, with a reserve for what that strays.
"""

from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray

from core.outline.loop import Bounds
from core.outline.polygon import to_polygon
from core.outline.region import Region, Regions, bounds_of
from core.outline.segments import Floats
from core.sheet.obstacles import Obstacles
from core.sheet.placement import Placement, box_of
from core.sheet.rule import GRID_MM, Clearances
from core.sheet.wish import StockWish

#: mm that the part's polygon strays from its lines and arcs.
FLATNESS_MM = 0.005
#: mm added to every clearance for that, and for the round offset's own chords (0.0012 of 10 mm at most).
RESERVE_MM = 0.01
CHORDS_PER_QUARTER = 32
#: Farther from the part than this a mark only costs film.
REACH_MM = 60.0
#: Places tried along the longer side: two grid steps apart on a part of 100 mm, farther on a larger one.
PLACES_ALONG = 240

Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class MarkGround:
    """places (n, 2) mm in the shape's coordinates, on the 0.5 mm grid; box is that of the parts.

    takes_hole, takes_key (n,): whether a plain or a key hole keeps clear of the parts there.
    """

    places: Floats
    takes_hole: Flags
    takes_key: Flags
    box: Bounds
    obstacles: Obstacles = field(default_factory=Obstacles)


@dataclass(frozen=True, eq=False)
class Solid:
    """One piece without its openings as a polygon, its box, and what marks keep clear of round it.

    slot: piece, slot round it and what the slot frees; around: what plain holes, and key holes, keep clear
    of. All in the same coordinates, mm.
    """

    area: shapely.Geometry
    box: Bounds
    slot: shapely.Geometry
    around: tuple[shapely.Geometry, shapely.Geometry]

    @classmethod
    def of(cls, as_cut: Regions, clearances: Clearances) -> "Solid":
        """For the parts as cut, at least one."""
        area = to_polygon(tuple(Region(region.outer) for region in as_cut), FLATNESS_MM)
        slot = _without_openings(area.buffer(clearances.bit_mm + RESERVE_MM, CHORDS_PER_QUARTER))
        hole, key = (
            shapely.union(slot, area.buffer(clearance + RESERVE_MM, CHORDS_PER_QUARTER))
            for clearance in (clearances.to_part(is_key=False), clearances.to_part(is_key=True))
        )
        return cls(area, bounds_of(region.outer for region in as_cut), slot, (hole, key))


def mark_ground(solid: Solid, wish: StockWish, copies: tuple[Placement, ...] = (Placement(),)) -> MarkGround:
    """Every place on the grid round all copies that keeps clear of them."""
    box = box_of(solid.box, copies)
    places = _grid_round(box)
    free = [~_covered(area, places, copies) for area in solid.around]
    usable = free[0] | free[1]
    every = shapely.union_all([shapely.transform(solid.area, copy.points) for copy in copies])
    obstacles = Obstacles(wish.clamps, wish.body, every if wish.clamps else shapely.Polygon())
    return MarkGround(places[usable], free[0][usable], free[1][usable], box, obstacles)


def _without_openings(area: shapely.Geometry) -> shapely.Geometry:
    return shapely.union_all([shapely.Polygon(piece.exterior) for piece in shapely.get_parts(area)])


def _covered(area: shapely.Geometry, places: Floats, copies: tuple[Placement, ...]) -> Flags:
    """(n,) whether a place lies in the area of any copy."""
    shapely.prepare(area)
    box, covered = np.array(shapely.bounds(area)), np.zeros(len(places), dtype=bool)
    for copy in copies:
        own = copy.back(places)
        near = np.flatnonzero(np.all((own >= box[:2]) & (own <= box[2:]), axis=1))
        covered[near] |= shapely.contains_xy(area, own[near])
    return covered


def _grid_round(box: Bounds) -> Floats:
    """(n, 2) mm, near to far in rows from left to right."""
    x_min, y_min, x_max, y_max = box
    longest = max(x_max - x_min, y_max - y_min) + 2.0 * REACH_MM
    step = max(2.0 * GRID_MM, np.ceil(longest / PLACES_ALONG / GRID_MM) * GRID_MM)
    x = np.arange(np.floor((x_min - REACH_MM) / step), np.ceil((x_max + REACH_MM) / step) + 1.0) * step
    y = np.arange(np.floor((y_min - REACH_MM) / step), np.ceil((y_max + REACH_MM) / step) + 1.0) * step
    return np.column_stack((np.tile(x, y.size), np.repeat(y, x.size)))
