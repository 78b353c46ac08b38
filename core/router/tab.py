"""Holding tabs: how a path is lifted over them, and what is left standing.

A bit of diameter D that runs lifted for a length w leaves w - D of stock between the places where it goes
down (common practice). So the neck asked for, measured at the stock's bottom, is what w is made from; the
stub on the part's wall is the whole of w, on a curve w R / (R + r) (stub.py).
"""

from dataclasses import dataclass

import numpy as np

from core.findings import Point
from core.outline.segments import Floats
from core.router.depths import Depths, higher
from core.router.neck import half_lift_mm
from core.router.setup import Setup
from core.router.stub import stub_beside
from core.router.tab_grid import GENTLE, turned_within
from core.router.unrolled import Unrolled

#: mm by which the passes lift longer at each end than the last lap, which then gives the neck its size.
ROUGH_LONGER_MM = 0.1
#: Flanks rise at 45 degrees, so that the bit never dwells, but leave half the neck at the crest.
FLANK_SHARE = 0.25
#: mm; a flank is never a step.
SHORTEST_FLANK_MM = 0.05


@dataclass(frozen=True)
class Tab:
    """Its middle on the part's wall; the neck at the stock's bottom, the stub on the wall, the height; mm.

    why: what speaks for its place, in words.
    """

    at: Point
    neck_mm: float
    wall_mm: float
    height_mm: float
    why: str = ""


@dataclass(frozen=True)
class TabPlace:
    """The middle of a tab, mm, on the centre path and at the part's wall, and why it is there."""

    on: Point
    at: Point
    why: str = "set by hand"


def flank_mm(setup: Setup) -> float:
    """How far a flank runs along the path from the stock's bottom up to the crest."""
    rule = setup.tab_rule
    return max(min(rule.height_mm, FLANK_SHARE * rule.neck_mm), SHORTEST_FLANK_MM)


def lifted_runs(path: Unrolled, middles: Floats, setup: Setup) -> Floats:
    """(n, 2) mm: where along path the passes, which lift longer, leave the floor and come back to it."""
    rule = setup.tab_rule
    foot = flank_mm(setup) * max(setup.cutting.skim_mm, 0.0) / rule.height_mm
    longer = ROUGH_LONGER_MM + setup.allowance_mm + foot
    halves = half_lift_mm(path, middles, rule.neck_mm + setup.bit.diameter_mm) + longer
    return np.column_stack((middles - halves, middles + halves))


def lift_over(path: Unrolled, places: tuple[TabPlace, ...], run: tuple[float, float], setup: Setup) -> Depths:
    """How high a run (first and last distance, mm) along path stays because of the tabs; else the floor."""
    return _lift(path, places, _halves(path, places, setup), run, setup)


def rough_lift_over(
    path: Unrolled, places: tuple[TabPlace, ...], run: tuple[float, float], setup: Setup
) -> Depths:
    """The same for passes that a last lap follows: lifted longer, on a bend by their allowance more."""
    halves, middles = _halves(path, places, setup), _middles(path, places)
    return _lift(path, places, halves + _rough_longer(path, middles, halves, setup), run, setup)


def _rough_longer(path: Unrolled, middles: Floats, halves: Floats, setup: Setup) -> Floats:
    bends = turned_within(path, middles, halves) > GENTLE if middles.size else np.zeros(0, dtype=np.bool_)
    return np.asarray(ROUGH_LONGER_MM + np.where(bends, setup.allowance_mm, 0.0))


def lift_ends(path: Unrolled, places: tuple[TabPlace, ...], setup: Setup) -> Floats:
    """(2 n, 2) mm: where the last lap along path leaves the stock's bottom for each tab, and comes back."""
    middles, halves = _middles(path, places), _halves(path, places, setup)
    return path.at(np.concatenate((middles - halves, middles + halves))).points


def rough_lift_ends(path: Unrolled, places: tuple[TabPlace, ...], setup: Setup) -> Floats:
    """The same of passes along a path of their own."""
    middles, halves = _middles(path, places), _halves(path, places, setup)
    halves = halves + _rough_longer(path, middles, halves, setup)
    return path.at(np.concatenate((middles - halves, middles + halves))).points


def _middles(path: Unrolled, places: tuple[TabPlace, ...]) -> Floats:
    return path.nearest_to(np.array([place.on for place in places], dtype=np.float64).reshape(-1, 2))


def _halves(path: Unrolled, places: tuple[TabPlace, ...], setup: Setup) -> Floats:
    if not places:
        return np.empty(0)
    return half_lift_mm(path, _middles(path, places), setup.tab_rule.neck_mm + setup.bit.diameter_mm)


def _lift(
    path: Unrolled, places: tuple[TabPlace, ...], halves: Floats, run: tuple[float, float], setup: Setup
) -> Depths:
    first, last = run
    ground = Depths(np.array([first, last]), np.full(2, setup.floor_z))
    if not places:
        return ground
    middles = _middles(path, places)
    rounds = np.arange(np.floor(first / path.length) - 1.0, np.floor(last / path.length) + 2.0)
    every = (rounds[:, None] * path.length + middles[None, :]).ravel()
    order = np.argsort(every, kind="stable")
    return _over(ground, every[order], np.tile(halves, rounds.size)[order], setup)


def _over(ground: Depths, middles: Floats, halves: Floats, setup: Setup) -> Depths:
    rule, flank = setup.tab_rule, flank_mm(setup)
    foot = flank * setup.cutting.skim_mm / rule.height_mm
    offs = np.column_stack((-halves - foot, -halves + flank, halves - flank, halves + foot))
    knots, z = middles[:, None] + offs, np.tile(_heights(setup), (middles.size, 1))
    if np.all(np.diff(knots.ravel()) > 0.0):
        return higher(ground, Depths(knots.ravel(), z.ravel()))
    for own, heights in zip(knots, z, strict=True):  # tabs set by hand may run into each other
        ground = higher(ground, Depths(own, heights))
    return ground


def _heights(setup: Setup) -> Floats:
    crest = setup.bed_z + setup.tab_rule.height_mm
    return np.array([setup.floor_z, crest, crest, setup.floor_z])


def tabs_left(path: Unrolled, places: tuple[TabPlace, ...], setup: Setup) -> tuple[Tab, ...]:
    """The tabs that stand when the last lap along path (the part on its left) is done."""
    if not places:
        return ()
    rule, radius = setup.tab_rule, setup.bit.radius_mm
    middles, halves = _middles(path, places), _halves(path, places, setup)
    runs = zip((middles - halves).tolist(), (middles + halves).tolist(), strict=True)
    stubs = (stub_beside(path, first, last, radius) for first, last in runs)
    return tuple(
        Tab(stub.at, rule.neck_mm, stub.length_mm, rule.height_mm, place.why)
        for stub, place in zip(stubs, places, strict=True)
    )
