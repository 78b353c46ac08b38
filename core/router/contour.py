"""One contour cut through: passes that leave an allowance, then one full-depth lap the other way.

The plot: the passes go down in ramps along the contour without lifting. They end where the last lap's lead
begins, in the slot they have cut; from there the bit leans on to the exact path, runs round it, a little
past where it began, and leaves it sideways into the slot again. Over tabs both are lifted.
"""

from dataclasses import dataclass, replace

import numpy as np

from core.outline.measure import Inside
from core.outline.segments import Floats
from core.router.depths import descent, higher, level
from core.router.entries import OVERLAP_MM, Entry, EntryWish, entry_on
from core.router.lead import LeadShape, shapes
from core.router.passes import drop
from core.router.setup import Setup
from core.router.strand import Strand, strand_along, strand_of
from core.router.tab import TabPlace, lift_ends, lift_over, lifted_runs, rough_lift_ends, rough_lift_over
from core.router.unrolled import SHORTEST_MM, Unrolled


@dataclass(frozen=True, eq=False)
class Cut:
    """What to cut: a name in words; the exact path and that of the passes, the part on the left of both.

    passes_path is None where the passes run on the exact path; kept: where the centre may never be.
    """

    name: str
    exact: Unrolled
    passes_path: Unrolled | None
    tabs: tuple[TabPlace, ...]
    kept: Inside


def cut_contour(cut: Cut, setup: Setup) -> tuple[Strand, ...]:
    """The strands of one contour, each beginning where the one before it ended."""
    if not setup.cutting.has_last_lap:
        return _passes_only(cut, setup)
    is_right = setup.rough_keeps_part_right
    cut = _within_a_step(cut, setup)
    lap = cut.exact if is_right else cut.exact.reversed()
    base = cut.passes_path or cut.exact
    passes = base.reversed() if is_right else base
    allowance = setup.allowance_mm if cut.passes_path else 0.0
    leads = shapes(setup.bit.radius_mm, allowance, -1 if is_right else 1)
    entry = _entry(lap, cut, setup, leads, OVERLAP_MM)
    start = _far_end(lap, entry, entry.at, -1)
    rough = _passes(cut, passes, passes.nearest(tuple(start.tolist())), setup)
    return (rough, *_last_lap(cut, lap, entry, rough, setup))


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


def _passes_only(cut: Cut, setup: Setup) -> tuple[Strand, ...]:
    is_right = setup.rough_keeps_part_right
    path = cut.exact.reversed() if is_right else cut.exact
    entry = _entry(path, cut, setup, shapes(setup.bit.radius_mm, 0.0, 1 if is_right else -1), 0.0)
    rough = _passes(cut, path, entry.at, setup)
    return (rough, *_lead_out(rough, path, entry, entry.at, setup))


def _entry(path: Unrolled, cut: Cut, setup: Setup, leads: tuple[LeadShape, ...], overlap_mm: float) -> Entry:
    middles = np.array([path.nearest(tab.on) for tab in cut.tabs], dtype=np.float64)
    busy = lifted_runs(path, middles, setup)
    return entry_on(path, EntryWish(busy, drop(setup).last_ramp_mm, leads, overlap_mm, cut.kept))


def _far_end(path: Unrolled, entry: Entry, at: float, way: int) -> Floats:
    """(2,) mm: where the lead at distance at begins or ends; the place itself where there is none."""
    if entry.lead is None:
        return np.asarray(path.at(np.array([at])).points[0])
    return np.asarray(entry.lead.far_ends(path, np.array([at]), way)[0])


def _passes(cut: Cut, path: Unrolled, end: float, setup: Setup) -> Strand:
    """All passes along path, so begun that they end at distance end."""
    down = descent(0.0, path.length, drop(setup))
    first = path.snapped(np.array([end - down.distances[-1]]))[0] % path.length
    depths = descent(float(first), path.length, drop(setup))
    run = (float(depths.distances[0]), float(depths.distances[-1]))
    lift_of = rough_lift_over if cut.passes_path and setup.cutting.has_last_lap else lift_over
    return strand_along(cut.name, path, higher(depths, lift_of(path, cut.tabs, run, setup)), setup.cutting)


def _last_lap(cut: Cut, path: Unrolled, entry: Entry, rough: Strand, setup: Setup) -> tuple[Strand, ...]:
    name, first, last = f"{cut.name}, last lap", entry.at, entry.at + path.length + OVERLAP_MM
    depths = higher(level(first, last, setup.floor_z), lift_over(path, cut.tabs, (first, last), setup))
    lap = strand_along(name, path, depths, setup.cutting)
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
