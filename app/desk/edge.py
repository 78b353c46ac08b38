"""The part's edge as a hand feels it: the place nearest to a point, and the runs where a tab may stand."""

import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from core.outline.measure import Nearest, all_loops
from core.router.tab_grid import GENTLE, NOTHING, Grid, wall_grid
from core.router.unrolled import Unrolled
from core.router.waste import loose_waste

if TYPE_CHECKING:
    from core.findings import Point
    from core.outline.region import Regions
    from core.outline.segments import Floats
    from core.router.setup import Setup
    from core.shown import Shown

#: mm along the edge that a tab is drawn from a bend to a run where it may stand; farther, it stays.
DRAWN_MM = 6.0
#: mm between two strokes of the hatching, and how far they lean, rad.
HATCH_MM, HATCH_SLANT = 1.0, 0.6


@dataclass(frozen=True)
class OnEdge:
    """A place on the edge: which contour, mm along it from its first point, and where that is."""

    contour: int
    along_mm: float
    at: "Point"
    outward: float


@dataclass(frozen=True, eq=False)
class Stretch:
    """A run of a contour, mm along it."""

    contour: int
    first_mm: float
    last_mm: float


@dataclass(frozen=True, eq=False)
class Edge:
    """The contours of the part as cut, in the frame, the solid on their left."""

    contours: tuple[Unrolled, ...]
    parts: "Regions" = field(repr=False)
    setup: "Setup" = field(repr=False)

    @classmethod
    def of(cls, shown: "Shown") -> "Edge":
        """The edge of what is shown."""
        contours = tuple(Unrolled.of(loop) for loop in all_loops(shown.as_cut))
        return cls(contours, shown.as_cut, shown.setup)

    def place(self, contour: int, along_mm: float) -> OnEdge:
        """The place so many mm along a contour, round and round."""
        path = self.contours[contour]
        along = along_mm % path.length
        here = path.at(np.array([along]))
        x, y = here.points[0].tolist()
        return OnEdge(contour, along, (x, y), float(here.headings[0]) - math.pi / 2.0)

    def nearest(self, point: "Point") -> OnEdge:
        """The place of any contour that is nearest to a point."""
        found = [self.place(index, path.nearest(point)) for index, path in enumerate(self.contours)]
        return min(found, key=lambda one: math.dist(one.at, point))

    def settled(self, on: OnEdge) -> OnEdge:
        """The nearest place along the contour where a tab may stand, unless that is far."""
        path, may_stand = self.contours[on.contour], self._may_stand[on.contour]
        step = path.length / may_stand.size
        if not may_stand.any() or may_stand[round(on.along_mm / step) % may_stand.size]:
            return on
        good = np.flatnonzero(may_stand) * step
        off = (good - on.along_mm + path.length / 2.0) % path.length - path.length / 2.0
        nearest = float(off[np.argmin(np.abs(off))])
        return self.place(on.contour, on.along_mm + nearest) if abs(nearest) <= DRAWN_MM else on

    def may_stand(self, on: OnEdge) -> bool:
        """Whether a tab may stand here."""
        return not self.fault(on)

    def fault(self, on: OnEdge) -> str:
        """Why a tab should not stand here, in words; empty where it may."""
        grid = self._grids[on.contour]
        index = round(on.along_mm / (grid.length / grid.at.size)) % grid.at.size
        if grid.behind[index] == NOTHING:
            return "nothing behind it to hold on to"
        return "on a bend" if grid.turns[index] > GENTLE else ""

    @cached_property
    def _grids(self) -> tuple[Grid, ...]:
        """What the planner asks of a place, on every contour."""
        wastes = loose_waste(self.parts, self.setup)
        walls = Nearest.of(all_loops(self.parts))
        return tuple(wall_grid(path, walls, wastes, self.setup) for path in self.contours)

    @cached_property
    def _may_stand(self) -> tuple["np.ndarray", ...]:
        return tuple((grid.turns <= GENTLE) & (grid.behind != NOTHING) for grid in self._grids)

    @cached_property
    def unfit(self) -> tuple[Stretch, ...]:
        """The runs where a tab should not stand: on a bend or a corner, or before nothing."""
        return tuple(
            Stretch(index, *ends)
            for index, flags in enumerate(self._may_stand)
            for ends in _runs(~flags, self.contours[index].length / flags.size)
        )

    @cached_property
    def hatching(self) -> "list[tuple[Point, Point]]":
        """Short strokes slantwise across the slot where a tab should not stand: foot and tip, mm."""
        strokes = [stroke for run in self.unfit for stroke in self._strokes(run).tolist()]
        return [((x, y), (to_x, to_y)) for (x, y), (to_x, to_y) in strokes]

    def _strokes(self, run: Stretch) -> "Floats":
        count = max(2, int((run.last_mm - run.first_mm) / HATCH_MM) + 1)
        here = self.contours[run.contour].at(np.linspace(run.first_mm, run.last_mm, count))
        slant = here.headings - math.pi / 2.0 + HATCH_SLANT
        reach = self.setup.bit.diameter_mm * np.column_stack((np.cos(slant), np.sin(slant)))
        return np.stack((here.points, here.points + reach), axis=1)


def _runs(flags: "np.ndarray", step: float) -> list[tuple[float, float]]:
    """First and last mm of each run of set flags on a ring; one run over all of it where all are set."""
    if flags.all():
        return [(0.0, flags.size * step)]
    start = int(np.flatnonzero(~flags)[0])
    turned = np.concatenate(([False], np.roll(flags, -start), [False])).astype(np.int8)
    edges = np.diff(turned)
    firsts, ends = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    return [
        (float((first + start) * step), float((end - 1 + start) * step))
        for first, end in zip(firsts, ends, strict=True)
    ]
