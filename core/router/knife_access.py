"""Whether a knife gets at each tab: a corridor of its own from the slot outwards, free of other walls.

The frame is broken away by then, the part is not: a tab in a bay or a small opening is cut from above.
"""

import numpy as np
import shapely

from core.findings import Finding, Level
from core.outline.polygon import to_polygon
from core.outline.region import Regions
from core.outline.segments import Floats
from core.router.setup import Setup
from core.router.tab import TabPlace

#: mm that a knife and the hand on it take, and degrees to each side of the wall's normal (bench practice).
WIDE_MM, LONG_MM, TURNS = 10.0, 30.0, (0.0, -15.0, 15.0, -30.0, 30.0)
#: mm; a part is flattened to this, and the corridor begins so far from the wall at least.
FLAT_MM, CLEAR_MM = 0.05, 1.5


def access_findings(places: tuple[TabPlace, ...], parts: Regions, setup: Setup) -> tuple[Finding, ...]:
    """A note for each tab that no corridor leads to; parts as cut, in the frame."""
    solid = shapely.union_all(shapely.get_parts(to_polygon(parts, FLAT_MM)))
    shapely.prepare(solid)
    off = max(setup.bit.diameter_mm, CLEAR_MM)
    return tuple(
        _hidden(place) for place in places if shapely.intersects(solid, _corridors(place, off)).all()
    )


def _corridors(place: TabPlace, off: float) -> np.ndarray:
    """(k,) rectangles outwards from off mm beyond the wall, one for each turn."""
    wall, outwards = np.array(place.at), np.subtract(place.on, place.at)
    outwards /= np.hypot(*outwards)
    box = np.array([(off, -1), (off, 1), (off + LONG_MM, 1), (off + LONG_MM, -1)]) * (1.0, WIDE_MM / 2.0)
    return np.asarray(shapely.polygons([wall + _turned(box, outwards, turn) for turn in TURNS]))


def _turned(box: Floats, outwards: Floats, degrees: float) -> Floats:
    """The corners (n, 2) of a box whose x runs outwards, turned by so many degrees."""
    way = complex(*outwards) * np.exp(1j * np.radians(degrees))
    corners = (box[:, 0] + 1j * box[:, 1]) * way
    return np.column_stack((corners.real, corners.imag))


def _hidden(place: TabPlace) -> Finding:
    return Finding(
        Level.NOTE,
        "tab-out-of-reach",
        "A knife does not get at this tab from the side: another wall is less than 30 mm away.",
        "Drag the tab to a freer run, or cut it from above and dress the stub with a fine file.",
        place.at,
    )
