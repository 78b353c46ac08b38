"""One contour cut through: passes that leave an allowance, then one full-depth lap the other way.

The plot: the passes go down in ramps along the contour without lifting. They end where the last lap's lead
begins, in the slot they have cut; from there the bit leans on to the exact path, runs round it, a little
past where it began, and leaves it sideways into the slot again. Over tabs both are lifted.
"""

from dataclasses import dataclass, replace

import numpy as np

from core.findings import Point
from core.outline.measure import Inside
from core.outline.segments import Floats
from core.router.depths import descent, higher, level
from core.router.entries import OVERLAP_MM, Entry, EntryWish, entries_on
from core.router.lead import LeadShape, shapes
from core.router.order import Task, air_within
from core.router.passes import drop
from core.router.setup import Setup
from core.router.strand import Strand, strand_along, strand_of
from core.router.tab import TabPlace, lift_ends, lift_over, lifted_runs, rough_lift_ends, rough_lift_over
from core.router.unrolled import SHORTEST_MM, Unrolled
from core.router.way import Stop


@dataclass(frozen=True, eq=False)
class Cut:
    """What to cut: a name in words; the exact path and that of the passes, the part on the left of both.

    passes_path is None where the passes run on the exact path; kept: where the centre may never be; enter:
    where the maker wants it begun, None where the best place is sought.
    """

    name: str
    exact: Unrolled
    passes_path: Unrolled | None
    tabs: tuple[TabPlace, ...]
    kept: Inside
    enter: Point | None = None


@dataclass(frozen=True, eq=False)
class Begun:
    """A contour and the entries (k) that it may be begun at, the best first; lap: as the entries count.

    passes: the path of the passes, as they are run.
    """

    cut: Cut
    lap: Unrolled
    passes: Unrolled
    entries: tuple[Entry, ...]

    def stop(self, setup: Setup) -> Stop:
        """Where the strands begin and end for each entry."""
        last = OVERLAP_MM + self.lap.length if setup.cutting.has_last_lap else 0.0
        ends = [_far_end(self.lap, entry, entry.at + last, 1) for entry in self.entries]
        firsts = self._firsts(self.entries, setup)
        return Stop(self.passes.points_at(firsts), np.array(ends), np.zeros(len(self.entries)))

    def strands(self, manner: int, setup: Setup) -> tuple[Strand, ...]:
        """The strands from one of the entries, each beginning where the one before it ended."""
        entry = self.entries[manner]
        first = float(self._firsts((entry,), setup)[0])
        rough = _passes(self.cut, self.passes, first, setup)
        if not setup.cutting.has_last_lap:
            return (rough, *_lead_out(rough, self.lap, entry, entry.at, setup))
        return (rough, *_last_lap(self.cut, self.lap, entry, rough, setup))

    def _firsts(self, entries: tuple[Entry, ...], setup: Setup) -> Floats:
        """(k,) mm along passes at which they begin, so that they end where the lap begins."""
        ends = np.array([entry.at for entry in entries])
        if setup.cutting.has_last_lap:
            leads = np.array([_far_end(self.lap, entry, entry.at, -1) for entry in entries])
            ends = self.passes.nearest_to(leads)
        down = descent(0.0, self.passes.length, drop(setup))
        return np.asarray(self.passes.snapped(ends - down.distances[-1]) % self.passes.length)


def begun(cut: Cut, setup: Setup) -> Begun:
    """The contour with the places where it may be begun."""
    is_right = setup.rough_keeps_part_right
    if not setup.cutting.has_last_lap:
        path = cut.exact.reversed() if is_right else cut.exact
        leads = shapes(setup.bit.radius_mm, 0.0, 1 if is_right else -1)
        return Begun(cut, path, path, _entries(path, cut, setup, leads, 0.0))
    cut = _within_a_step(cut, setup)
    lap = cut.exact if is_right else cut.exact.reversed()
    base = cut.passes_path or cut.exact
    allowance = setup.allowance_mm if cut.passes_path else 0.0
    leads = shapes(setup.bit.radius_mm, allowance, -1 if is_right else 1)
    passes = base.reversed() if is_right else base
    return Begun(cut, lap, passes, _entries(lap, cut, setup, leads, OVERLAP_MM))


def _within_a_step(cut: Cut, setup: Setup) -> Cut:
    """The cut, its passes on the exact path where the last lap would go farther towards a tab than they can.

    Between crest and floor of a tab that is higher than a pass is deep, the lap takes what the passes left
    there at once: no more than it may take to its side.
    """
    path, fall = cut.passes_path, setup.tab_rule.height_mm + setup.cutting.skim_mm
    if path is None or not cut.tabs or fall <= setup.cutting.depth_per_pass_mm:
        return cut
    lap_ends = lift_ends(cut.exact, cut.tabs, setup)
    pass_ends = rough_lift_ends(path, cut.tabs, setup)
    apart = np.hypot(*(lap_ends - pass_ends).T)
    return replace(cut, passes_path=None) if apart.max() > setup.deepest_side_cut_mm else cut


def contour_task(contour: Begun, milled: tuple[Strand, ...], setup: Setup) -> Task:
    """The contour with its entries to choose from, after the waste in it that is milled away."""
    own = contour.stop(setup)
    if not milled:
        return Task(own, lambda manner: contour.strands(manner, setup))
    here = milled[-1].points[-1, :2]
    across = np.hypot(*(own.begins - here).T) + air_within(milled)
    begins = np.broadcast_to(milled[0].points[0, :2], own.begins.shape)
    stop = Stop(begins, own.ends, np.asarray(across))
    return Task(stop, lambda manner: (*milled, *contour.strands(manner, setup)))


def _entries(
    path: Unrolled, cut: Cut, setup: Setup, leads: tuple[LeadShape, ...], overlap_mm: float
) -> tuple[Entry, ...]:
    middles = path.nearest_to(np.array([tab.on for tab in cut.tabs], dtype=np.float64).reshape(-1, 2))
    busy = lifted_runs(path, middles, setup)
    asked = path.nearest(cut.enter) if cut.enter is not None else None
    ramp_mm, bit_mm = drop(setup).last_ramp_mm, setup.bit.diameter_mm
    return entries_on(path, EntryWish(busy, ramp_mm, leads, overlap_mm, cut.kept, bit_mm, asked))


def _far_end(path: Unrolled, entry: Entry, at: float, way: int) -> Floats:
    """(2,) mm: where the lead at distance at begins or ends; the place itself where there is none."""
    if entry.lead is None:
        return np.asarray(path.at(np.array([at])).points[0])
    return np.asarray(entry.lead.far_ends(path, np.array([at]), way)[0])


def _passes(cut: Cut, path: Unrolled, first: float, setup: Setup) -> Strand:
    """All passes along path from distance first."""
    depths = descent(first, path.length, drop(setup))
    run = (float(depths.distances[0]), float(depths.distances[-1]))
    lift_of = rough_lift_over if cut.passes_path and setup.cutting.has_last_lap else lift_over
    depths, side = (
        higher(depths, lift_of(path, cut.tabs, run, setup)),
        -1 if setup.rough_keeps_part_right else 1,
    )
    return strand_along(cut.name, path, depths, setup.cutting, side)


def _last_lap(cut: Cut, path: Unrolled, entry: Entry, rough: Strand, setup: Setup) -> tuple[Strand, ...]:
    name, first, last = f"{cut.name}, last lap", entry.at, entry.at + path.length + OVERLAP_MM
    depths = higher(level(first, last, setup.floor_z), lift_over(path, cut.tabs, (first, last), setup))
    lap = strand_along(name, path, depths, setup.cutting, 1 if setup.rough_keeps_part_right else -1)
    lead_in = _lead_in(name, rough.points[-1], lap.points[0], entry, path, setup)
    return (*lead_in, lap, *_lead_out(lap, path, entry, last, setup))


def _lead_in(
    name: str, here: Floats, touch: Floats, entry: Entry, path: Unrolled, setup: Setup
) -> tuple[Strand, ...]:
    """From where the passes ended on to the wall; nothing where they already lie on it."""
    start = np.append(_far_end(path, entry, entry.at, -1), touch[2])
    if np.hypot(*(start - here)[:2]) < SHORTEST_MM:
        start = here
    bulge = 0.0 if entry.lead is None else entry.lead.bulge
    return (strand_of(name, np.vstack((here, start, touch)), np.array([0.0, bulge]), setup.cutting),)


def _lead_out(before: Strand, path: Unrolled, entry: Entry, last: float, setup: Setup) -> tuple[Strand, ...]:
    """Off the wall at distance last, at the height at which the strand before ends."""
    if entry.lead is None:
        return ()
    here = before.points[-1]
    away = np.append(_far_end(path, entry, last, 1), here[2])
    bulges = np.array([entry.lead.bulge])
    return (strand_of(before.name, np.vstack((here, away)), bulges, setup.cutting),)
