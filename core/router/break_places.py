"""Where the frame is cut so that it opens: two break cuts at every part, to the edge or to a neighbour.

One part: the two rays, well apart seen from it, that weigh least. Several: every part has one ray to either
side along one axis, so that whoever follows them from part to part comes out of the sheet on both sides, and
the frame falls in two along that line. A ray between two parts serves both; a part with no way to one side
(the hinge lies there) takes one across. All keep clear of marks, tabs,
clamps, steps, the hinge strip and other parts.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import shapely

from core.findings import Finding, Level
from core.outline.region import Region, Regions
from core.outline.segments import Floats
from core.router.break_cut import BreakCut
from core.router.break_rays import ACROSS, Field, Ray, Way
from core.router.setup import Setup
from core.router.stair import STEP_MM, Step
from core.router.tab import Tab
from core.router.waste import THREAD_MM, swept_mm
from core.sheet.obstacles import AROUND_MM, BELOW_MM
from core.sheet.placement import repeated

Pair = tuple[Ray, Ray]

#: Bit diameters from a part that its slot reaches at most, allowance, leads and all; and mm along a cut by
#: which its depth may be looked at beside its middle.
SLOT_WIDTHS, HALF_LOOK_MM = 1.45, 0.25
#: mm; of a thinner sheet half is left, so that the cut does anything at all.
LEFT_SHARE = 0.5
#: mm that parts are flattened to: a place on a pass may err by as much.
FLATNESS_MM = 0.02
#: Wall that stays between a break cut and a mark's hole, mm, and between it and a tab's root, whose stock
#: lies below the cut anyway (common practice, no source).
TO_MARK_MM, TO_TAB_MM = 4.0, 1.0
#: mm along a ray by which it must have left its part's slot, and the least share of it gained in distance:
#: a cut that grazes the part leaves a sliver of frame that flies.
LEAVING_MM, LEAVING_SHARE = 3.0, 0.5
#: The least angle between two cuts as seen from the part, and mm that a degree short of a half turn weighs:
#: two cuts side by side open nothing.
LEAST_APART, APART_MM_PER_DEGREE = math.radians(80.0), 0.1


@dataclass(frozen=True)
class Breaks:
    """The cuts, in the frame, and what is to be said where there is no place for them."""

    cuts: tuple[BreakCut, ...] = ()
    findings: tuple[Finding, ...] = ()


def break_places(parts: Regions, tabs: Sequence[Tab], stair: Sequence[Step], setup: Setup) -> Breaks:
    """The break cuts of a whole sheet; parts (as cut) are those of the first copy, tabs those of all."""
    if not setup.cutting.break_left_mm or setup.has_skin:
        return Breaks()
    outer = _outermost(repeated(tuple(Region(part.outer) for part in parts), setup.layout.copies))
    ground = _Ground.of(outer, tabs, stair, setup)
    taken = _of_one(ground) if len(outer) == 1 else _of_several(ground)
    thickness = setup.layout.stock.thickness_mm
    # No less than the tabs are high: wherever the sheet is still good for these, no cut goes through.
    left = max(min(setup.cutting.break_left_mm, LEFT_SHARE * thickness), setup.tab_rule.height_mm)
    cuts = tuple(BreakCut(ray.start, ray.end, left) for ray in taken.rays)
    return Breaks(cuts, _missing(taken, ground))


@dataclass(frozen=True)
class _Taken:
    """Rays that are cut, and the parts that are left without two."""

    rays: tuple[Ray, ...]
    without: tuple[int, ...] = ()


def _outermost(parts: Regions) -> list[shapely.Polygon]:
    """As polygons, those that lie in no other one's outer edge."""
    polygons = np.array([shapely.Polygon(part.outer.flattened(FLATNESS_MM)) for part in parts], dtype=object)
    inner, _ = shapely.STRtree(polygons).query(polygons, predicate="within")
    counts = np.bincount(inner, minlength=len(polygons))  # each lies within itself
    return [polygon for polygon, count in zip(polygons, counts, strict=True) if count == 1]


@dataclass(frozen=True, eq=False)
class _Ground:
    """What rays are judged by: parts, the ways of their passes, what is kept clear, all cuts' box, mm."""

    parts: tuple[shapely.Polygon, ...]
    tree: shapely.STRtree
    field: Field
    kept: shapely.Geometry
    setup: Setup
    box: tuple[Floats, Floats]

    @classmethod
    def of(
        cls, parts: list[shapely.Polygon], tabs: Sequence[Tab], stair: Sequence[Step], setup: Setup
    ) -> "_Ground":
        beside = setup.bit.radius_mm + max(setup.allowance_mm, FLATNESS_MM)
        rings = tuple(
            np.asarray(shapely.get_coordinates(shapely.buffer(part, beside).exterior)) for part in parts
        )
        stock = setup.layout.stock
        kept = shapely.union_all(list(_kept_clear(tabs, stair, setup)))
        shapely.prepare(kept)
        field = Field(rings, (stock.width_mm, stock.depth_mm))
        places = np.vstack((*rings, *([mark.at] for mark in setup.layout.marks_on_sheet)))
        # The lap goes round what the bit's edge sweeps, from the work zero and back.
        zero, radius = np.array(setup.layout.zero_at), setup.bit.radius_mm
        box = np.minimum(places.min(axis=0) - radius, zero), np.maximum(places.max(axis=0) + radius, zero)
        return cls(tuple(parts), shapely.STRtree(parts), field, kept, setup, box)

    def good(self, own: int, way: Way) -> tuple[Ray, ...]:
        """The rays of a part that may be cut, the shortest first."""
        rays = self.field.rays(own, way)
        if not rays:
            return ()
        lines = shapely.linestrings([(ray.start, ray.end) for ray in rays])
        clear = ~shapely.intersects(self.kept, lines) & self._is_apart(rays, lines) & self._has_wall(rays)
        free = (ray for ray, ok in zip(rays, clear, strict=True) if ok and self._leaves(ray))
        return tuple(sorted(free, key=lambda ray: ray.length_mm))

    def _is_apart(self, rays: tuple[Ray, ...], lines: np.ndarray) -> np.ndarray:
        """(n,) whether a ray is far enough from all parts but its two."""
        far = swept_mm(self.setup) + THREAD_MM + self.setup.bit.radius_mm
        row, part = self.tree.query(lines, predicate="dwithin", distance=far)
        own, other = (np.array([getattr(ray, end) for ray in rays]) for end in ("own", "other"))
        strange = (part != own[row]) & (part != other[row])
        return np.asarray(np.bincount(row[strange], minlength=len(rays)) == 0)

    def _has_wall(self, rays: tuple[Ray, ...]) -> np.ndarray:
        """(n,) whether anything stands between the slots: two that nearly meet leave nothing to cut."""
        ends = np.array([(ray.start, ray.end) for ray in rays])
        on_edge = np.array([ray.other < 0 for ray in rays])
        looked = shapely.points(np.where(on_edge[:, None], ends[:, 1], ends.mean(axis=1)))
        parts = np.array(self.parts, dtype=object)
        own, other = (np.array([getattr(ray, end) for ray in rays]) for end in ("own", "other"))
        away = shapely.distance(parts[own], looked)
        away = np.where(on_edge, away, np.minimum(away, shapely.distance(parts[other], looked)))
        return np.asarray(away > SLOT_WIDTHS * 2.0 * self.setup.bit.radius_mm + HALF_LOOK_MM)

    def _leaves(self, ray: Ray) -> bool:
        """Whether it goes away from its part, and comes straight on to the other, if there is one."""
        ends = [(ray.own, ray.start, ray.end)]
        ends += [(ray.other, ray.end, ray.start)] if ray.other >= 0 else []
        return all(self._goes_off(part, np.array(start), np.array(end)) for part, start, end in ends)

    def _goes_off(self, part: int, start: np.ndarray, end: np.ndarray) -> bool:
        length = float(np.hypot(*(end - start)))
        on = min(LEAVING_MM, length / 2.0)
        place = start + (end - start) * (on / max(length, 1e-9))
        near, far = (shapely.distance(self.parts[part], shapely.Point(at)) for at in (start, place))
        return bool(far - near >= LEAVING_SHARE * on - FLATNESS_MM)


def _kept_clear(tabs: Sequence[Tab], stair: Sequence[Step], setup: Setup) -> Iterator[shapely.Geometry]:
    """Where the middle of the bit may not go on a break cut."""
    layout, radius = setup.layout, setup.bit.radius_mm
    for mark in layout.marks_on_sheet:
        yield shapely.Point(mark.at).buffer(mark.diameter_mm / 2.0 + radius + TO_MARK_MM)
    for tab in tabs:
        yield shapely.Point(tab.at).buffer(tab.wall_mm / 2.0 + radius + TO_TAB_MM)
    for step in stair:
        yield shapely.Point(step.at).buffer(STEP_MM / math.sqrt(2.0) + radius + THREAD_MM)
    for clamp in layout.clamps:
        above_tip = clamp.height_mm + layout.stock.thickness_mm + BELOW_MM
        around = layout.body.radius_below(above_tip, setup.bit.diameter_mm) + AROUND_MM
        shape = (
            shapely.Point(clamp.at).buffer(clamp.size_mm[0] / 2.0)
            if clamp.is_round
            else shapely.box(*clamp.box())
        )
        yield shape.buffer(around)
    yield from _hinge_strip(setup)


def _hinge_strip(setup: Setup) -> Iterator[shapely.Geometry]:
    layout = setup.layout
    wide, deep, strip = layout.stock.width_mm, layout.stock.depth_mm, layout.hinge_mm + setup.bit.radius_mm
    boxes = {
        "left": (0.0, 0.0, strip, deep),
        "right": (wide - strip, 0.0, wide, deep),
        "near": (0.0, 0.0, wide, strip),
        "far": (0.0, deep - strip, wide, deep),
    }
    if layout.hinge_side in boxes and layout.hinge_mm:
        yield shapely.box(*boxes[layout.hinge_side])


def _in_reach(rays: Sequence[Ray], ground: _Ground) -> bool:
    """Whether the machine, where it gets at all that is cut without them, still does with these."""
    travel = np.array(ground.setup.machine.travel_mm[:2])
    low, high = ground.box
    ends = np.array([end for ray in rays for end in (ray.start, ray.end)])
    radius = ground.setup.bit.radius_mm
    with_them = np.maximum(high, ends.max(axis=0) + radius) - np.minimum(low, ends.min(axis=0) - radius)
    return not ((with_them > travel) & (high - low <= travel)).any()


def _of_one(ground: _Ground) -> _Taken:
    middle = np.array(shapely.centroid(ground.parts[0]).coords[0])
    rays = [ray for way in Way for ray in ground.good(0, way) if _in_reach([ray], ground)]
    pairs: list[Pair] = [pair for pair in combinations(rays, 2) if _apart(pair, middle) >= LEAST_APART]
    pairs = [pair for pair in pairs if _in_reach(pair, ground)]
    if not pairs:
        return _Taken((), (0,))
    one, other = min(pairs, key=lambda pair: _weight(pair, middle))
    return _Taken((one, other))


def _weight(pair: Pair, middle: np.ndarray) -> float:
    lengths = pair[0].length_mm + pair[1].length_mm
    return lengths + APART_MM_PER_DEGREE * (180.0 - math.degrees(_apart(pair, middle)))


def _apart(pair: Pair, middle: np.ndarray) -> float:
    """The angle between two cuts as seen from the middle of the part, rad."""
    one, other = (np.array(ray.start) - middle for ray in pair)
    return abs(math.atan2(one[0] * other[1] - one[1] * other[0], float(one @ other)))


def _of_several(ground: _Ground) -> _Taken:
    (left, right), (near, far) = ACROSS
    tried = [
        _along(ground, *ways, aside)
        for ways, asides in (((left, right), (near, far)), ((near, far), (left, right)))
        for aside in asides
    ]
    return min(tried, key=lambda taken: (len(taken.without), sum(ray.length_mm for ray in taken.rays)))


def _along(ground: _Ground, back: Way, on: Way, aside: Way) -> _Taken:
    """A ray onward from every part, and one back from each that no neighbour's ray has come to.

    What has only one of them takes one aside, all to the same side: whoever follows those comes out too.
    """
    parts = range(len(ground.parts))
    onward = {part: _shortest(ground, part, on) for part in parts}
    reached = {ray.other for ray in onward.values() if ray is not None and ray.other >= 0}
    backward = {part: _shortest(ground, part, back) for part in parts if part not in reached}
    lacking = [part for ways in (onward, backward) for part, ray in ways.items() if ray is None]
    beside = {part: _shortest(ground, part, aside) for part in lacking if lacking.count(part) == 1}
    rays = [ray for ways in (onward, backward, beside) for ray in ways.values() if ray is not None]
    without = {part for part in lacking if beside.get(part) is None}
    return _Taken(tuple(rays), tuple(sorted(without)))


def _shortest(ground: _Ground, part: int, way: Way) -> Ray | None:
    return next((ray for ray in ground.good(part, way) if _in_reach([ray], ground)), None)


def _missing(taken: _Taken, ground: _Ground) -> tuple[Finding, ...]:
    if not taken.without:
        return ()
    count, lacking = len(ground.parts), len(taken.without)
    told = "No place was found" if count == 1 else f"At {lacking} of {count} parts no place was found"
    x, y = shapely.centroid(ground.parts[taken.without[0]]).coords[0]
    return (
        Finding(
            Level.CAUTION,
            "no-break-cuts",
            f"{told} for two break cuts, from the slot to the sheet's edge, that keep clear of marks, tabs, "
            "clamps and hinge: the frame does not open by itself.",
            "Take a larger sheet or move clamps and tabs; else saw the frame open beside the part once the "
            "film is on, or turn break cuts off.",
            (float(x), float(y)),
        ),
    )
