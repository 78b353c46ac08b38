"""A contour looked at on an even grid: how its run bends, and what stands behind it to hold on to."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from core.findings import Point
from core.outline.measure import Nearest, contains, distances
from core.outline.segments import Floats
from core.router.neck import comes_back, half_by_chord
from core.router.setup import Setup
from core.router.unrolled import Unrolled
from core.router.waste import Waste

Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

#: mm between two places of the grid; tabs need not lie more finely than this.
GRID_MM = 1.0
#: Places on the grid of the smallest contour.
LEAST_GRID = 16
#: mm; what rounding takes from a footing is no fault.
ROUNDING_MM = 1e-3
#: mm of run kept free of corners beyond each end of the lifted length.
MARGIN_MM = 1.0
#: rad that a tab's run may turn: 7 mm of run on a radius of 14 mm is still gently curved.
GENTLE = 0.5
#: Costs of faults, far above any unevenness and in this order.
BENT_COST, BARE_COST = 40.0, 1000.0
#: mm about the end of a lift in which the path turns to the right by more than this, rad: a corner. Past it
#: by d, wall and round are d phi apart after phi rad: 0.15 mm leave 0.002 mm of tab after 0.01 rad.
NEAR_MM, TURNED = 0.15, 0.3
#: mm of solid waste asked for behind the slot.
FOOTING_MM = 2.0
#: What a place stands before: nothing, or the frame; pieces of waste count from 0.
NOTHING, FRAME = -2, -1


@dataclass(frozen=True, eq=False)
class Contour:
    """A centre path with the part on its left; is_edge: a part's outer edge, else an opening's."""

    path: Unrolled
    is_edge: bool


def nearest_contour(contours: Sequence[Contour], point: Point) -> tuple[int, float]:
    """Which of the contours is nearest to a point, and the distance along it, mm, of the nearest place."""
    near = [contour.path.nearest(point) for contour in contours]
    gaps = [
        math.dist(contour.path.at(np.array([at])).points[0], point)
        for contour, at in zip(contours, near, strict=True)
    ]
    index = int(np.argmin(gaps))
    return index, near[index]


@dataclass(frozen=True, eq=False)
class Grid:
    """(n,) each: distance, mm, along one contour; how far the run turns, rad; what stands behind it.

    length is the contour's, mm; reach is how many steps of the grid a lift goes to each side. is_crooked: the
    path comes back towards a tab there, as round a thin tooth; told where it was asked.
    """

    length: float
    at: Floats
    turns: Floats
    behind: Ints
    is_crooked: Flags
    reach: int

    def stands(self, wanted: int) -> Flags:
        """(n,) whether wanted is behind all of the lift: elsewhere another slot would cut into the tab."""
        solid = np.tile(self.behind == wanted, 3)
        sums = np.concatenate(([0], np.cumsum(solid)))
        size = self.at.size
        reach = min(self.reach, size)
        middle = np.arange(size, 2 * size)
        return np.asarray(sums[middle + reach + 1] - sums[middle - reach] == 2 * reach + 1)

    def costs(self, wanted: int) -> Floats:
        """(n,) for tabs that hold on to wanted."""
        bent = np.where(self.turns > GENTLE, BENT_COST + self.turns, self.turns / GENTLE)
        unfit = ~self.stands(wanted) | self.is_crooked
        return np.asarray(bent + np.where(unfit, BARE_COST, 0.0))


def lifted_mm(setup: Setup) -> float:
    """How long the path is lifted at the stock's bottom."""
    return setup.tab_rule.neck_mm + setup.bit.diameter_mm


def turned_within(path: Unrolled, at: Floats, half: float | Floats, *, only_right: bool = False) -> Floats:
    """(n,) rad: all turning, corners' too, of the run from half mm before to half mm after each place.

    only_right: turning to the left, about the part, is left out.
    """
    segments = path.segments
    sweeps = 2.0 * segments.half_sweeps()
    ends = segments.headings_at(np.full(len(segments), 1.0))
    heads = segments.headings_at(np.zeros(len(segments)))
    corners = (heads - np.roll(ends, 1) + np.pi) % (2.0 * np.pi) - np.pi
    signed = np.column_stack((corners, sweeps)).ravel()
    each = np.maximum(-signed, 0.0) if only_right else np.abs(signed)
    knots = np.column_stack((path.begins[:-1], path.begins[1:])).ravel()
    totals = np.cumsum(each)
    whole = float(totals[-1])

    def until(distances_mm: Floats) -> Floats:
        rounds = np.floor(distances_mm / path.length)
        return np.asarray(np.interp(distances_mm - rounds * path.length, knots, totals) + rounds * whole)

    return np.asarray(until(at + half) - until(at - half))


def grid_of(contour: Contour, walls: Nearest, wastes: tuple[Waste, ...], setup: Setup) -> Grid:
    """The contour on its grid; walls: those of all parts as cut, in the frame."""
    path = contour.path
    count = max(int(path.length / GRID_MM), LEAST_GRID)
    at = np.arange(count, dtype=np.float64) * (path.length / count)
    turns = turned_within(path, at, min(lifted_mm(setup) / 2.0 + MARGIN_MM, path.length / 2.0))
    feet = path.at(at).to_left(-(setup.bit.radius_mm + FOOTING_MM / 2.0))
    behind = _behind(feet, walls, wastes, setup)
    return Grid(path.length, at, turns, behind, _nowhere(count), _reach(path.length / count, setup))


def _reach(step: float, setup: Setup) -> int:
    return int(np.ceil(lifted_mm(setup) / 2.0 / step))


def with_crooked(grid: Grid, path: Unrolled, setup: Setup) -> Grid:
    """The grid of a contour that gets tabs: only where its path bends much may it come back towards one."""
    span = lifted_mm(setup)
    crooked = turned_within(path, grid.at, min(1.5 * span, path.length / 2.0)) > GENTLE
    crooked[crooked] = comes_back(path, grid.at[crooked], span)
    return replace(grid, is_crooked=crooked | _ends_in_a_corner(grid.at, path, span))


def _ends_in_a_corner(at: Floats, path: Unrolled, span: float) -> Flags:
    """(n,) whether a lift ends in an inside corner: the wall there is the bit's round, where no stub ends."""
    knots = path.begins[:-1]
    corners = knots[turned_within(path, knots, NEAR_MM, only_right=True) > TURNED]
    crooked = _nowhere(at.size)
    if not corners.size:
        return crooked
    off = np.abs((at[:, None] - corners + path.length / 2.0) % path.length - path.length / 2.0)
    near = (off < span + 2.0 * NEAR_MM).any(axis=1)  # a lift is shorter than twice its chord
    halves = half_by_chord(path, at[near], span)
    ends = (turned_within(path, at[near] + way * halves, NEAR_MM, only_right=True) for way in (-1.0, 1.0))
    crooked[near] = np.any([turned > TURNED for turned in ends], axis=0)
    return crooked


def _nowhere(count: int) -> Flags:
    return np.zeros(count, dtype=np.bool_)


def wall_grid(wall: Unrolled, walls: Nearest, wastes: tuple[Waste, ...], setup: Setup) -> Grid:
    """The same of a part's own wall, for who puts tabs on it by hand."""
    count = max(int(wall.length / GRID_MM), LEAST_GRID)
    at = np.arange(count, dtype=np.float64) * (wall.length / count)
    turns = turned_within(wall, at, min(lifted_mm(setup) / 2.0 + MARGIN_MM, wall.length / 2.0))
    feet = wall.at(at).to_left(-(setup.bit.diameter_mm + FOOTING_MM / 2.0))
    behind = _behind(feet, walls, wastes, setup)
    return Grid(wall.length, at, turns, behind, _nowhere(count), _reach(wall.length / count, setup))


def _behind(feet: Floats, walls: Nearest, wastes: tuple[Waste, ...], setup: Setup) -> Ints:
    """(n,) what each foot stands on, half a footing beyond the slot."""
    width = setup.bit.diameter_mm
    room = walls.distances(feet) - width - FOOTING_MM / 2.0
    behind = np.where((room > -ROUNDING_MM) & _on_sheet(feet, setup), FRAME, NOTHING)
    for number, waste in enumerate(wastes):
        behind = np.where((behind == FRAME) & contains((waste.piece,), feet), number, behind)
    milled = np.array([waste.is_milled for waste in wastes] + [False, False])
    bare = milled[behind]
    gone = [waste.piece.outer for waste in wastes if waste.is_milled]
    if gone:  # the bit goes on beyond the edge of what it mills away
        bare |= distances(gone, feet) < setup.bit.radius_mm + FOOTING_MM / 2.0
    return np.asarray(np.where(bare, NOTHING, behind), dtype=np.int64)


def _on_sheet(feet: Floats, setup: Setup) -> NDArray[np.bool_]:
    """(n,) whether each foot lies on the stock and not in a mark's hole."""
    stock, half = setup.layout.stock, FOOTING_MM / 2.0
    size = np.array([stock.width_mm, stock.depth_mm])
    on = np.all((feet >= half) & (feet <= size - half), axis=1)
    for mark in setup.layout.marks_on_sheet:
        on &= np.hypot(*(feet - np.array(mark.at)).T) > mark.diameter_mm / 2.0 + half
    return np.asarray(on)
