"""Necks of the part: where a push of the bit may break off what lies beyond.

The plot: from places along every wall a line is drawn straight through the stock to the wall across. What it
meets on the same wall is a limb's neck, with the shorter side of the part beyond it; what it meets on
another wall is a bar between an opening and the next one, or the edge. The bit's peak force pushes a limb
where it is farthest from the neck and from every tab on it, a bar in its middle.

A neck w wide and t thick is bent to 6 M / (w t^2); M is F L for a limb with a push L away, F L / 8 for a bar
of length L that is held at both its ends (any strength-of-materials text).
"""

from dataclasses import dataclass

import numpy as np
import shapely

from core.findings import Finding, Level, Point
from core.outline.loop import Loop
from core.outline.region import Region, Regions
from core.outline.segments import Floats
from core.router.forces import forces_of
from core.router.setup import Setup
from core.router.unrolled import Unrolled
from core.sheet.material import Material

#: mm between two places along a wall, and the most of them on one.
STEP_MM, MOST_PLACES = 1.0, 800
#: mm a chord may leave its arc by, and what a line through the stock is begun inside the wall by.
FLAT_MM, INSIDE_MM = 0.02, 0.05
#: Share of a sheet's strength that a push may take: a flaw or a sharp inside corner takes the rest of it
#: (common practice, no source).
SAFE_SHARE = 0.5
#: A bar runs on as long as it is no wider than this times its narrowest place.
BAR_WIDER = 2.0
#: Share of the length of a bar held at both ends that counts as its arm.
BAR_ARM = 1.0 / 8.0
#: rad; two walls more askew than this to each other are a corner, and no neck.
MOST_ASKEW = 1.0
#: Steps between two lines beyond which a bar has ended.
GAP_STEPS = 2.5
#: mm; a tab this near a wall stands on it: the wall is flattened.
ON_WALL_MM = 0.1
#: Places told of one part, and how near to a worse one another is the same, mm; all along its limb too.
MOST_TOLD, SAME_MM = 4, 15.0


@dataclass(frozen=True)
class Neck:
    """Its middle and width, mm; arm_mm: the push's lever; beyond_mm: how long the limb or the bar is."""

    at: Point
    width_mm: float
    arm_mm: float
    beyond_mm: float
    is_bar: bool


def bending(force_n: float, arm_mm: float, width_mm: float, thickness_mm: float) -> float:
    """N/mm2 in a neck bent out of the sheet: 6 F L / (w t^2)."""
    return 6.0 * force_n * arm_mm / (width_mm * thickness_mm**2)


def limb_findings(parts: Regions, tabs: tuple[Point, ...], setup: Setup) -> tuple[Finding, ...]:
    """A caution for each neck of the parts (as cut) that a push of the bit may break; tabs on their walls."""
    force, thickness = forces_of(setup.cutting, setup.bit).peak_n, setup.layout.stock.thickness_mm
    material = setup.cutting.material
    allowed = SAFE_SHARE * material.bending
    found = []
    for part in parts:
        x_min, y_min, x_max, y_max = part.outer.bounds()
        farthest = float(np.hypot(x_max - x_min, y_max - y_min))
        widest = bending(force, farthest, 1.0, thickness) / allowed
        necks = [
            (bending(force, neck.arm_mm, neck.width_mm, thickness), neck)
            for neck in necks_of(part, tabs, widest)
        ]
        found += [_finding(stress, neck, force, material) for stress, neck in _worst(necks, allowed)]
    return tuple(found)


def necks_of(part: Region, tabs: tuple[Point, ...], widest_mm: float) -> tuple[Neck, ...]:
    """The part's necks up to widest_mm wide, one for each place along its walls that has the wall across."""
    walls = _Walls.of(part, tabs)
    necks: list[Neck] = []
    for number, loop in enumerate(part.loops()):
        across = walls.across(number, loop, widest_mm)
        necks += walls.limbs(number, across)
        necks += _bars(across)
    return tuple(necks)


def _worst(necks: list[tuple[float, Neck]], allowed: float) -> list[tuple[float, Neck]]:
    kept: list[tuple[float, Neck]] = []
    for stress, neck in sorted(necks, key=lambda one: -one[0]):
        if stress <= allowed or len(kept) == MOST_TOLD:
            break
        if all(
            np.hypot(*np.subtract(neck.at, other.at)) > max(SAME_MM, other.beyond_mm) for _, other in kept
        ):
            kept.append((stress, neck))
    return kept


def _finding(stress: float, neck: Neck, force: float, material: Material) -> Finding:
    what = (
        f"A bar of {neck.width_mm:.1f} mm runs {neck.beyond_mm:.0f} mm free"
        if neck.is_bar
        else f"Beyond a neck of {neck.width_mm:.1f} mm the part reaches {neck.arm_mm:.0f} mm from any hold"
    )
    return Finding(
        Level.CAUTION,
        "neck-may-break",
        f"{what}: the bit's {force:.1f} N may bend it to {stress:.0f} N/mm2, and {material.name} bears "
        f"{material.bending:.0f} ({material.bending_source}).",
        "Put a tab on it (part.tabs), make the neck wider, or take less depth per pass.",
        neck.at,
    )


@dataclass(frozen=True, eq=False)
class _Across:
    """Lines through the stock that meet a wall: places (n, 2), ends (n, 2), mm; distances (n,) along it.

    wall (n,): the number of the wall met; met (n,) mm along that wall; own: the number of the first wall.
    """

    own: int
    begins: Floats
    ends: Floats
    along: Floats
    wall: np.ndarray
    met: Floats


@dataclass(frozen=True, eq=False)
class _Walls:
    """All walls of a part as rings of chords; along: mm from the first corner of each ring; tabs on each."""

    rings: tuple[Floats, ...]
    along: tuple[Floats, ...]
    tabs: tuple[tuple[Floats, Floats], ...]

    @classmethod
    def of(cls, part: Region, tabs: tuple[Point, ...]) -> "_Walls":
        rings = tuple(_closed(loop.flattened(FLAT_MM)) for loop in part.loops())
        along = tuple(np.append(0.0, np.cumsum(np.hypot(*np.diff(ring, axis=0).T))) for ring in rings)
        return cls(rings, along, tuple(_tabs_on(ring, tabs) for ring in rings))

    def across(self, own: int, loop: Loop, widest_mm: float) -> _Across:
        """The lines from one wall, no longer than widest_mm."""
        path = Unrolled.of(loop)
        count = int(np.clip(path.length / STEP_MM, 8, MOST_PLACES))
        spots = path.at(np.arange(count, dtype=np.float64) * (path.length / count))
        begins, ends = spots.to_left(INSIDE_MM), spots.to_left(widest_mm)
        starts = np.vstack([ring[:-1] for ring in self.rings])
        stops = np.vstack([ring[1:] for ring in self.rings])
        tree = shapely.STRtree(np.asarray(shapely.linestrings(np.stack((starts, stops), axis=1))))
        rows, hit = tree.query(shapely.linestrings(np.stack((begins, ends), axis=1)), predicate="intersects")
        facing = _turn_between(spots.headings[rows], stops[hit] - starts[hit]) < MOST_ASKEW
        rows, hit = rows[facing], hit[facing]
        share, on = _meetings(begins[rows], ends[rows], starts[hit], stops[hit])
        order = np.lexsort((share, rows))
        first = order[np.append(True, np.diff(rows[order]) > 0)] if rows.size else order
        rows, hit, share, on = rows[first], hit[first], share[first], on[first]
        sizes = np.cumsum([0, *(len(ring) - 1 for ring in self.rings)])
        wall = np.searchsorted(sizes, hit, side="right") - 1
        begun = np.concatenate([along[:-1] for along in self.along])
        met = begun[hit] + on * np.hypot(*(stops - starts)[hit].T)
        at = begins[rows] + share[:, None] * (ends - begins)[rows]
        own_along = _along(self.rings[own], spots.points[rows])
        return _Across(own, spots.points[rows], at, own_along, wall, met)

    def limbs(self, own: int, across: _Across) -> list[Neck]:
        """Those of the lines that end on the wall that they began on."""
        ring, along = self.rings[own][:-1], self.along[own]
        tab_spots, tab_along = self.tabs[own]
        necks = []
        for row in np.flatnonzero(across.wall == own).tolist():
            middle = (across.begins[row] + across.ends[row]) / 2.0
            low, high = sorted((float(across.along[row]), float(across.met[row])))
            inner, held = _between(along[:-1], low, high), _between(tab_along, low, high)
            sides = [(inner, held), (~inner, ~held)]
            reach = [_farthest(ring[corners], middle[None, :]) for corners, _ in sides]
            corners, own_tabs = sides[int(np.argmin(reach))]
            arm = _farthest(ring[corners], np.vstack((middle, tab_spots[own_tabs])))
            width = float(np.hypot(*(across.ends[row] - across.begins[row])))
            necks.append(Neck((float(middle[0]), float(middle[1])), width, arm, min(reach), is_bar=False))
        return necks


def _bars(across: _Across) -> list[Neck]:
    """Those of the lines that end on another wall: runs of them to the same one."""
    necks, others = [], across.wall != across.own
    widths = np.hypot(*(across.ends - across.begins).T)
    for row in np.flatnonzero(others).tolist():
        length = _run_length(across, widths, row)
        middle = (across.begins[row] + across.ends[row]) / 2.0
        at = (float(middle[0]), float(middle[1]))
        necks.append(Neck(at, float(widths[row]), BAR_ARM * length, length, is_bar=True))
    return necks


def _run_length(across: _Across, widths: Floats, row: int) -> float:
    """How far, mm, the bar at a line runs on both ways, as narrow and to the same wall."""
    same = (across.wall == across.wall[row]) & (widths <= BAR_WIDER * widths[row])
    gaps = np.abs(np.diff(across.along)) > GAP_STEPS * STEP_MM
    first = last = row
    while first > 0 and same[first - 1] and not gaps[first - 1]:
        first -= 1
    while last < same.size - 1 and same[last + 1] and not gaps[last]:
        last += 1
    return float(across.along[last] - across.along[first])


def _turn_between(headings: Floats, chords: Floats) -> Floats:
    """(n,) rad by which a wall across is askew: 0 where it runs straight back."""
    back = np.arctan2(-chords[:, 1], -chords[:, 0])
    return np.asarray(np.abs((back - headings + np.pi) % (2.0 * np.pi) - np.pi))


def _closed(corners: Floats) -> Floats:
    return np.vstack((corners, corners[:1]))


def _tabs_on(ring: Floats, tabs: tuple[Point, ...]) -> tuple[Floats, Floats]:
    """The tabs (k, 2) on a wall, and how far along it (k,) they stand, mm."""
    spots = np.array(tabs, dtype=np.float64).reshape(-1, 2)
    line = shapely.LineString(ring)
    points = np.asarray(shapely.points(spots))
    on = shapely.distance(points, line) < ON_WALL_MM
    return spots[on], np.asarray(shapely.line_locate_point(line, points[on]))


def _along(ring: Floats, points: Floats) -> Floats:
    """(n,) mm from the first corner of a ring to points (n, 2) on it."""
    return np.asarray(shapely.line_locate_point(shapely.LineString(ring), shapely.points(points)))


def _between(places: Floats, low: float, high: float) -> np.ndarray:
    return np.asarray((places > low) & (places < high))


def _farthest(corners: Floats, held: Floats) -> float:
    """How far, mm, a corner (n, 2) lies from all that holds (m, 2), at most; 0 without corners."""
    if not len(corners):
        return 0.0
    off = corners[:, None, :] - held[None, :, :]
    return float(np.hypot(off[..., 0], off[..., 1]).min(axis=1).max())


def _meetings(begins: Floats, ends: Floats, starts: Floats, stops: Floats) -> tuple[Floats, Floats]:
    """(n,) each: the share of each line from begins to ends, and of each chord, where the two meet."""
    line, chord, off = ends - begins, stops - starts, starts - begins
    cross = line[:, 0] * chord[:, 1] - line[:, 1] * chord[:, 0]
    safe = np.where(np.abs(cross) < 1e-12, 1.0, cross)
    share = (off[:, 0] * chord[:, 1] - off[:, 1] * chord[:, 0]) / safe
    on = (off[:, 0] * line[:, 1] - off[:, 1] * line[:, 0]) / safe
    return np.clip(share, 0.0, 1.0), np.clip(on, 0.0, 1.0)
