"""Weed lines: level cuts through the waste, so that it comes away in strips and does not fold onto the work.

They stay clear of every piece and mark, run out to the sheet box, and stand a strip's width apart. Waste
inside a piece's openings comes away by itself.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import ceil

import numpy as np
import shapely
from numpy.typing import ArrayLike

from core.findings import Finding, Level, Point
from core.outline.loop import Loop

#: mm between a weed line and what is kept (2 to 3 mm off the artwork: a film maker's guidance, and practice).
CLEAR_MM = 2.5
#: mm; a shorter cut frees nothing.
SHORTEST_MM = 5.0
#: mm; narrower strips tear instead of coming away (common practice, no source).
LEAST_STRIP_MM = 10.0
#: mm; lines stand on this grid, exact in every format.
GRID_MM = 0.5
#: mm that a flattened piece may lie inside the true one; far less than the clearance is in doubt.
FLATNESS_MM = 0.05

WeedLine = tuple[Point, Point]


def weed_lines(kept: Sequence[Loop], box: Loop, heights: Sequence[float]) -> tuple[WeedLine, ...]:
    """Lines across the box at these heights, through its waste alone; frame, mm.

    kept: the outer contours of all pieces and marks, of every copy.
    """
    sheet = shapely.Polygon(box.flattened(FLATNESS_MM))
    solids = [shapely.Polygon(loop.flattened(FLATNESS_MM)) for loop in kept]
    grown = shapely.union_all(shapely.buffer(solids, CLEAR_MM + FLATNESS_MM, quad_segs=8))
    left, _, right, _ = sheet.bounds
    across = [shapely.LineString(((left, y), (right, y))) for y in heights]
    runs = shapely.difference(shapely.intersection(across, sheet), grown)
    return tuple(line for i, run in enumerate(runs) for line in _there_and_back(run, is_back=bool(i % 2)))


def even_heights(box: Loop, strip_mm: float) -> tuple[float, ...]:
    """Heights that cut the box into even strips at most strip_mm (> 0) wide, on the grid.

    Strips are LEAST_STRIP_MM wide where less is asked for.
    """
    _, near, _, far = box.bounds()
    count = ceil((far - near) / max(strip_mm, LEAST_STRIP_MM))
    return on_grid(near + (far - near) * np.arange(1, count) / count)


def on_grid(heights: ArrayLike) -> tuple[float, ...]:
    """The heights on the grid, rising, each once."""
    placed = np.unique(np.round(np.asarray(heights, dtype=np.float64) / GRID_MM) * GRID_MM)
    return tuple(float(y) + 0.0 for y in placed)


def weed_line_findings(heights: Sequence[float], box: Loop) -> tuple[Finding, ...]:
    """What is to be said of heights that the maker chose, on the grid and rising."""
    left, near, _, far = box.bounds()
    outside = [y for y in heights if not near < y < far]
    inside = [near, *(y for y in heights if near < y < far), far]
    told = [
        Finding(
            Level.NOTE,
            "weed-line-outside",
            f"The weed line at {y:g} mm lies outside the sheet box, which goes from {near:g} to {far:g} mm.",
            "Move it, or take it away.",
            (left, y),
        )
        for y in outside
    ]
    narrow = [(low, high) for low, high in pairwise(inside) if high - low < LEAST_STRIP_MM]
    return (*told, *(_narrow(left, low, high) for low, high in narrow))


def _narrow(left: float, low: float, high: float) -> Finding:
    text = f"The strip of waste between {low:g} and {high:g} mm is so narrow that it tears."
    remedy = f"Leave {LEAST_STRIP_MM:g} mm or more between weed lines, and to the sheet box."
    return Finding(Level.CAUTION, "weed-strip-narrow", text, remedy, (left, (low + high) / 2.0))


def _there_and_back(run: shapely.Geometry, *, is_back: bool) -> list[WeedLine]:
    """The pieces of a line long enough to cut, from left to right, or all of it the other way."""
    pieces = [shapely.get_coordinates(piece) for piece in shapely.get_parts(run) if not piece.is_empty]
    rows = sorted((min(x), max(x), float(y[0])) for x, y in (piece.T for piece in pieces))
    lines = [((float(left), y), (float(right), y)) for left, right, y in rows if right - left >= SHORTEST_MM]
    return [(end, start) for start, end in reversed(lines)] if is_back else lines
