"""The tabs as the program's bytes leave them, measured.

At the stock's true bottom the slot is gone but for the tabs; with the tabs cut flush all of it is. So the
tabs are the difference, as far as it joins two pieces. Its two ends are the rounds that the bit has left:
the neck is the least distance between them. Its other two sides are the walls of the pieces it joins.

Both areas are flattened, so that slivers hang on the tabs where edges lie on each other: they are taken
off by shrinking and growing by SLIVER. That blunts the tabs' tips, which run out between the wall and the
round of the bit: a circle of radius e that touches both lies 2 sqrt(r e) from where they meet.
"""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from core.program.read.program import Program
from core.proof.removal import swept_below, swept_flush
from core.proof.standing import DUST, TOUCHING, Pieces, pieces_left
from core.proof.sweeps import lengths_of, places_at

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Point = tuple[float, float]

#: mm; half the width of a sliver, twice what two flattened edges differ by.
SLIVER = 1e-3
#: mm; how far from a wall the rounded end of a tab is told from it.
OFF_WALL = 0.01
#: mm along a move between two looks at its height, half of the 0.02 mm to which a tab is measured.
HEIGHT_STEP = 0.01
#: mm of path that is looked at as one before it is looked at closely.
STRETCH = 0.5
#: Bit diameters, or necks, from a tab's border where its height is looked at: half of what its middle has.
WELL_INSIDE = 0.25
#: mm by which the flat end of the bit must truly cover a point.
COVERED = 1e-3


@dataclass(frozen=True)
class Wall:
    """One side of a tab, along the piece that it joins: its middle, mm, and its length."""

    at: Point
    length_mm: float


@dataclass(frozen=True)
class TabLeft:
    """neck_mm at the stock's bottom, height_mm above it in the middle, the walls, and that middle."""

    neck_mm: float
    height_mm: float
    walls: tuple[Wall, ...]
    middle: Point


def tabs_left(
    program: Program,
    sheet: BaseGeometry,
    bit_mm: float,
    bottom_z: float,
    tab_height_mm: float,
    beside: BaseGeometry | None = None,
) -> tuple[TabLeft, ...]:
    """The tabs that stand on bottom_z (the stock's bottom) and are no higher than tab_height_mm.

    In order of the neck's middle, left to right. All in the program's coordinates, mm. beside: where what
    is left is meant to be something else, as the bottom of a break cut.
    """
    flush = swept_flush(program, bit_mm, bottom_z, tab_height_mm)
    left = shapely.difference(flush, swept_below(program, bit_mm, bottom_z))
    uncut = shapely.get_parts(left if beside is None else shapely.difference(left, beside))
    solid = uncut[shapely.area(uncut) > DUST**2]
    bridges = shapely.get_parts(shapely.buffer(shapely.buffer(solid, -SLIVER), SLIVER))
    pieces = pieces_left(sheet, flush)
    tabs = (_tab(program, bit_mm, bottom_z, bridge, pieces) for bridge in bridges if not _is_dust(bridge))
    return tuple(sorted((tab for tab in tabs if tab is not None), key=lambda tab: tab.middle))


def _is_dust(bridge: BaseGeometry) -> bool:
    return bool(shapely.buffer(bridge, -DUST).is_empty)


def _tab(
    program: Program, bit_mm: float, bottom_z: float, bridge: BaseGeometry, pieces: Pieces
) -> TabLeft | None:
    """The bridge as a tab, or None where it does not join two pieces."""
    near = [piece for piece in (*pieces.free, *pieces.held) if shapely.dwithin(piece, bridge, TOUCHING)]
    walls = [wall for wall in (_wall_line(bridge, piece) for piece in near) if wall.length > OFF_WALL]
    ends = _ends(bridge, walls)
    if len(walls) < 2 or len(ends) < 2:
        return None
    neck = shapely.shortest_line(ends[0], ends[1])
    blunted = 4.0 * float(np.sqrt(bit_mm / 2.0 * SLIVER))
    sides = tuple(_wall(wall, blunted) for wall in walls)
    middle = _middle(neck, bridge, walls, WELL_INSIDE * min(bit_mm, neck.length))
    height = lowest_over(program, bit_mm, middle) - bottom_z
    return TabLeft(neck.length, height, sides, middle)


def _middle(neck: BaseGeometry, bridge: BaseGeometry, walls: list[BaseGeometry], well_mm: float) -> Point:
    """The neck's middle; round a bend so tight that it is not well inside the tab, half-way across its slot.

    Across is from the middle of the shorter wall, round which the tab bends, to the nearest of the longer.
    """
    longer, shorter = (_longest(wall) for wall in sorted(walls, key=lambda wall: -wall.length)[:2])
    across = shapely.shortest_line(shorter.interpolate(0.5, normalized=True), longer)
    middles = (line.interpolate(0.5, normalized=True) for line in (neck, across))
    kernel = shapely.buffer(bridge, -well_mm)
    middle = next((one for one in middles if shapely.intersects(kernel, one)), bridge.representative_point())
    return middle.x, middle.y


def _wall_line(bridge: BaseGeometry, piece: BaseGeometry) -> BaseGeometry:
    near = shapely.clip_by_rect(piece.boundary, *shapely.box(*bridge.bounds).buffer(1.0).bounds)
    return shapely.line_merge(shapely.intersection(bridge.boundary, near.buffer(0.1 * SLIVER)))


def _wall(line: BaseGeometry, blunted: float) -> Wall:
    longest = _longest(line)
    middle = longest.interpolate(0.5, normalized=True)
    return Wall((middle.x, middle.y), longest.length + blunted)


def _longest(line: BaseGeometry) -> BaseGeometry:
    parts: list[BaseGeometry] = shapely.get_parts(line).tolist()
    return max(parts, key=lambda part: float(part.length))


def _ends(bridge: BaseGeometry, walls: list[BaseGeometry]) -> list[BaseGeometry]:
    """The two longest runs of the bridge's border that are no wall."""
    near_walls = shapely.union_all([wall.buffer(OFF_WALL) for wall in walls])
    rest = shapely.difference(bridge.boundary, near_walls)
    runs = shapely.get_parts(rest if rest.geom_type == "LineString" else shapely.line_merge(rest))
    return sorted(runs, key=lambda run: -run.length)[:2]


def lowest_over(program: Program, bit_mm: float, at: Point) -> float:
    """The z (mm, program) down to which the program cuts at a point; infinite where the bit never comes."""
    rows, first, share = _stretches_near(program, bit_mm, at)
    steps = int(np.ceil(STRETCH / HEIGHT_STEP)) + 1
    shares = first[:, None] + share[:, None] * np.linspace(0.0, 1.0, steps)
    places = places_at(program, np.repeat(rows, steps), shares.ravel())
    covers = np.hypot(places[:, 0] - at[0], places[:, 1] - at[1]) < bit_mm / 2.0 - COVERED
    return float(places[covers, 2].min(initial=np.inf))


def _stretches_near(program: Program, bit_mm: float, at: Point) -> tuple[Ints, Floats, Floats]:
    """Stretches of moves no longer than STRETCH that may cover a point: move, where it begins, its share."""
    rows = _rows_near(program, bit_mm, at)
    counts = np.ceil(lengths_of(program)[rows] / STRETCH).astype(np.int64).clip(1)
    each = np.repeat(rows, counts)
    within = np.arange(each.size) - np.repeat(np.cumsum(counts) - counts, counts)
    share = 1.0 / np.repeat(counts, counts)
    middles = places_at(program, each, (within + 0.5) * share)
    near = np.hypot(middles[:, 0] - at[0], middles[:, 1] - at[1]) < (bit_mm + STRETCH) / 2.0
    return each[near], (within * share)[near], share[near]


def _rows_near(program: Program, bit_mm: float, at: Point) -> Ints:
    """Moves that may come within the radius: by the box of both ends, arcs by their circle."""
    starts, ends = program.starts, program.ends
    radius = np.nan_to_num(np.hypot(*(starts[:, :2] - program.centres).T))
    low = np.minimum(starts[:, :2], ends[:, :2])
    high = np.maximum(starts[:, :2], ends[:, :2])
    low = np.fmin(low, program.centres - radius[:, None]) - bit_mm / 2.0
    high = np.fmax(high, program.centres + radius[:, None]) + bit_mm / 2.0
    return np.nonzero(((low <= at) & (high >= at)).all(axis=1))[0]
