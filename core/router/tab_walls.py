"""Where the stubs of tabs begin and end on the wall of the part as it is cut."""

from collections.abc import Sequence

import numpy as np

from core.findings import Point
from core.outline.measure import all_loops
from core.outline.region import Regions
from core.router.tab import Tab
from core.router.unrolled import Unrolled

Wall = tuple[Point, Point, Point]


def walls_of(tabs: Sequence[Tab], as_cut: Regions) -> tuple[Wall, ...]:
    """Start, middle and end of each stub, mm, along the edge that it stands on."""
    paths = [Unrolled.of(loop) for loop in all_loops(as_cut)]
    return tuple(_wall(tab, paths) for tab in tabs)


def _wall(tab: Tab, paths: Sequence[Unrolled]) -> Wall:
    feet = [path.nearest(tab.at) for path in paths]
    gaps = [
        np.hypot(*(path.at(np.array([foot])).points[0] - np.array(tab.at)))
        for path, foot in zip(paths, feet, strict=True)
    ]
    which = int(np.argmin(gaps))
    half = tab.wall_mm / 2.0
    places = paths[which].at(feet[which] + np.array([-half, 0.0, half])).points
    start, middle, end = ((float(x), float(y)) for x, y in places.tolist())
    return start, middle, end
