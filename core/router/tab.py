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
from core.router.setup import Setup
from core.router.stub import stub_beside
from core.router.unrolled import Unrolled

#: mm by which the passes lift longer at each end than the last lap, which then gives the neck its size.
ROUGH_LONGER_MM = 0.1
#: Flanks rise at 45 degrees, so that the bit never dwells, but leave half the neck at the crest.
FLANK_SHARE = 0.25
#: mm; a flank is never a step.
SHORTEST_FLANK_MM = 0.05
#: Halvings of the search for the lifted length: 2^-20 of 5 mm is 5e-6 mm.
HALVINGS = 20


@dataclass(frozen=True)
class Tab:
    """Its middle on the part's wall; the neck at the stock's bottom, the stub on the wall, the height; mm."""

    at: Point
    neck_mm: float
    wall_mm: float
    height_mm: float


@dataclass(frozen=True)
class TabPlace:
    """The middle of a tab: on: the point of the centre path; at: the point of the part's wall; mm."""

    on: Point
    at: Point


def flank_mm(setup: Setup) -> float:
    """How far a flank runs along the path from the stock's bottom up to the crest."""
    rule = setup.tab_rule
    return max(min(rule.height_mm, FLANK_SHARE * rule.neck_mm), SHORTEST_FLANK_MM)


def half_lift_mm(path: Unrolled, middle: Floats, span: float) -> Floats:
    """(n,) mm on each side of middle (n,) so that the two ends lie span mm apart as the crow flies."""
    low, high = np.full(middle.shape, span / 2.0), np.full(middle.shape, min(span, path.length / 2.0))
    for _ in range(HALVINGS):
        half = (low + high) / 2.0
        apart = np.hypot(*(path.at(middle + half).points - path.at(middle - half).points).T)
        low, high = np.where(apart < span, half, low), np.where(apart < span, high, half)
    return high


def lift_over(path: Unrolled, places: tuple[TabPlace, ...], run: tuple[float, float], setup: Setup) -> Depths:
    """How high a run (first and last distance, mm) along path stays because of the tabs; else the floor."""
    return _lift(path, places, run, setup, 0.0)


def rough_lift_over(
    path: Unrolled, places: tuple[TabPlace, ...], run: tuple[float, float], setup: Setup
) -> Depths:
    """The same for passes that a last lap follows: lifted a little longer."""
    return _lift(path, places, run, setup, ROUGH_LONGER_MM)


def _lift(
    path: Unrolled, places: tuple[TabPlace, ...], run: tuple[float, float], setup: Setup, longer: float
) -> Depths:
    first, last = run
    ground = Depths(np.array([first, last]), np.full(2, setup.floor_z))
    if not places:
        return ground
    middles = np.array([path.nearest(place.on) for place in places])
    halves = half_lift_mm(path, middles, setup.tab_rule.neck_mm + setup.bit.diameter_mm) + longer
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
    middles = np.array([path.nearest(place.on) for place in places])
    halves = half_lift_mm(path, middles, rule.neck_mm + setup.bit.diameter_mm)
    runs = zip((middles - halves).tolist(), (middles + halves).tolist(), strict=True)
    stubs = (stub_beside(path, first, last, radius) for first, last in runs)
    return tuple(Tab(stub.at, rule.neck_mm, stub.length_mm, rule.height_mm) for stub in stubs)
