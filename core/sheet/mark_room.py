"""What a mark placed by hand has round it: the wall to the slot, to the stock's edges, to clamps and hinge.

All in one coordinate system; the window asks it while a mark is dragged, the sheet when it lays out.
"""

from dataclasses import dataclass, replace
from math import dist

import numpy as np
import shapely

from core.findings import Point
from core.outline.region import Regions
from core.sheet.clamp import Clamp
from core.sheet.layout import Layout
from core.sheet.mark_ground import Solid
from core.sheet.obstacles import Obstacles
from core.sheet.placement import Placement
from core.sheet.rule import Clearances, FitRule
from core.sheet.setting import Setting, Side

#: mm: what is missing of a wall by less than this is the rounding of a polygon.
ROUNDING_MM = 0.02


@dataclass(frozen=True)
class Walls:
    """Mm of sheet that stay round a mark's hole; below 0: it opens there. None: nothing of the kind is near.

    short: what is missing of the wall asked for, by what it stands before; its words are whole.
    """

    to_slot: float
    to_edge: float
    short: tuple[tuple[str, float], ...] = ()

    @property
    def is_open(self) -> bool:
        """Whether the hole would open into the slot, into what comes loose, or over the edge."""
        return min(self.to_slot, self.to_edge) < 0.0


@dataclass(frozen=True, eq=False)
class MarkRoom:
    """The solid of one piece, where its copies lie, the stock's box and the side kept for the hinge.

    clearances are to the edges of what carries the marks, beside_part to the slot, as deep as the sheet.
    """

    solid: Solid
    copies: tuple[Placement, ...]
    setting: Setting
    clearances: Clearances
    obstacles: Obstacles
    beside_part: Clearances

    @classmethod
    def on(cls, layout: Layout, as_cut: Regions, rule: FitRule, bit_mm: float) -> "MarkRoom":
        """In the frame, as_cut of the first copy there; on the board of a nest where there is one."""
        board, stock = layout.board, layout.stock
        clearances = Clearances(rule, bit_mm, stock.thickness_mm)
        solid = Solid.of(as_cut, clearances)
        if board is not None:
            on_board = replace(clearances, thickness_mm=board.thickness_mm)
            setting = Setting(*board.at, board.width_mm, board.depth_mm, None)
            return cls(solid, layout.copies, setting, on_board, Obstacles(), clearances)
        hinge = Side(layout.hinge_side) if layout.hinge_side else None
        setting = Setting(0.0, 0.0, stock.width_mm, stock.depth_mm, hinge)
        obstacles = Obstacles(layout.clamps, layout.body)
        return cls(solid, layout.copies, setting, clearances, obstacles, clearances)

    def walls(self, at: Point, *, is_key: bool) -> Walls:
        """For a mark whose middle is there."""
        radius = self.clearances.rule.bore(is_key=is_key) / 2.0
        own = [copy.back(np.array([at]))[0] for copy in self.copies]
        to_slot = min(_beyond(self.solid.slot, place) for place in own) - radius
        to_part = min(_beyond(self.solid.area, place) for place in own)
        edges = self._to_edges(at)
        asked = (
            ("the slot", self.beside_part.to_part(is_key=is_key) - to_part),
            ("the sheet's edge", self.clearances.to_edge(is_key=is_key) - min(edges.values())),
            ("the hinge", self._hinge_missing(edges, is_key=is_key)),
            ("a clamp", 0.0 if self._is_clear(at, is_key=is_key) else np.inf),
        )
        short = tuple((what, missing) for what, missing in asked if missing > ROUNDING_MM)
        return Walls(to_slot, min(edges.values()) - radius, short)

    def free_area(self, *, is_key: bool) -> shapely.Geometry:
        """Where the middle of a mark may stand with every wall as thick as asked."""
        away = self.solid.around[int(is_key)]
        radius = self.clearances.rule.bore(is_key=is_key) / 2.0
        clamps = [
            shapely.buffer(_of_clamp(clamp), self.obstacles.to_path(clamp, self.clearances) + radius)
            for clamp in self.obstacles.clamps
        ]
        taken = [*(shapely.transform(away, copy.points) for copy in self.copies), *clamps]
        left, near, right, far = self.setting.room_for(self.clearances, is_key=is_key)
        if left >= right or near >= far:
            return shapely.Polygon()
        return shapely.difference(shapely.box(left, near, right, far), shapely.union_all(taken))

    def _to_edges(self, at: Point) -> dict[str, float]:
        left, near, right, far = self.setting.box
        x, y = at
        return {"left": x - left, "near": y - near, "right": right - x, "far": far - y}

    def _hinge_missing(self, edges: dict[str, float], *, is_key: bool) -> float:
        if self.setting.hinge is None:
            return 0.0
        asked = self.clearances.to_hinged_edge(is_key=is_key)
        is_there = edges[self.setting.hinge] > self.clearances.to_edge(is_key=is_key) - ROUNDING_MM
        return asked - edges[self.setting.hinge] if is_there else 0.0

    def _is_clear(self, at: Point, *, is_key: bool) -> bool:
        if not self.obstacles.clamps:
            return True
        place = np.array([at])
        return bool(self.obstacles.free(place, self.setting, self.clearances, is_key=is_key)[0])


def nearest_other(places: tuple[Point, ...], index: int) -> float:
    """Mm from the middle of one mark to that of the nearest other one."""
    return min(dist(places[index], other) for at, other in enumerate(places) if at != index)


def _of_clamp(clamp: Clamp) -> shapely.Geometry:
    if clamp.is_round:
        return shapely.buffer(shapely.Point(clamp.at), clamp.size_mm[0] / 2.0)
    return shapely.box(*clamp.box())


def _beyond(area: shapely.Geometry, place: np.ndarray) -> float:
    """Mm from a place to an area; below 0: so deep inside it."""
    point = shapely.Point(place)
    if shapely.intersects(area, point):
        return -float(shapely.distance(point, shapely.boundary(area)))
    return float(shapely.distance(point, area))
