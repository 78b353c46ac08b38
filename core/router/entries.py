"""Where a contour may be begun: on a straight run, away from corners and tabs, with room for the leads."""

from dataclasses import dataclass

import numpy as np

from core.outline.measure import Inside, distances
from core.outline.segments import Floats
from core.router.lead import LeadShape, are_free
from core.router.tab_grid import GENTLE, GRID_MM, LEAST_GRID, Flags, Ints, turned_within
from core.router.unrolled import Unrolled

#: mm on each side of an entry that should run straight.
STRAIGHT_MM = 4.0
#: What it costs, in rad of turning, when the ramp begins on a bend instead of the last lap.
RAMP_SHARE = 0.3
#: mm past its start that the last lap runs on (trade press on plastics: 0.5 to 2).
OVERLAP_MM = 1.0
#: What it costs to begin where a tab is lifted: more than any run turns.
BUSY_COST = 1000.0
#: Bit diameters that a lead's far end may lie beside the path: SIDE_CUT of its radius, and a bend's share.
MOST_ASIDE = 0.425
#: Entries looked at before a shorter lead is tried.
MOST_TRIED = 24
#: Places offered beyond the best one, from which the order of work takes its pick: on a contour of 400 mm no
#: place is farther than 9 mm from one of them.
MOST_OFFERED = 24


@dataclass(frozen=True)
class Entry:
    """at: distance along the path, mm, where the wall is touched; lead None where there is no room."""

    at: float
    lead: LeadShape | None


@dataclass(frozen=True, eq=False)
class EntryWish:
    """What an entry is chosen by.

    busy: (m, 2) distances, mm, along the path where laps and passes are lifted over tabs; ramp_mm: how far
    from the entry, in the direction of travel, the ramp begins; leads: the shapes to try; overlap_mm: how far
    past the entry the path is left; kept: where the centre may not be; bit_mm: how wide the slot is; asked:
    the distance, mm, that the maker wants, None where the best is sought.
    """

    busy: Floats
    ramp_mm: float
    leads: tuple[LeadShape, ...]
    overlap_mm: float
    kept: Inside
    bit_mm: float
    asked: float | None = None


def entries_on(path: Unrolled, wish: EntryWish) -> tuple[Entry, ...]:
    """The best entry, with the widest lead that is free at one of the good places; then others as good.

    Those have the same lead, and cost no more than a gentle bend or than the best one does. An entry placed
    by hand is the only one.
    """
    if wish.asked is not None:
        return (_by_hand(path, wish, wish.asked),)
    count = max(int(path.length / GRID_MM), LEAST_GRID)
    at = path.snapped(np.arange(count, dtype=np.float64) * (path.length / count))
    costs = _costs(path, at, wish)
    order = np.argsort(costs, kind="stable")
    ranked = order[costs[order] < BUSY_COST] if costs.min() < BUSY_COST else order
    for lead in wish.leads:
        beside = ranked[_beside_tabs(path, at[ranked], wish, lead.along_mm)]
        tried = beside[:MOST_TRIED]
        free = _free(path, at[tried], lead, wish)
        if free.any():
            best = int(tried[np.argmax(free)])
            others = _as_good(costs, best, np.sort(beside))
            others = others[_free(path, at[others], lead, wish)]
            return tuple(Entry(float(at[row]), lead) for row in (best, *others.tolist()))
    beside = ranked[_beside_tabs(path, at[ranked], wish, 0.0)]
    return (Entry(float(at[[*beside, ranked[0]][0]]), None),)


def _by_hand(path: Unrolled, wish: EntryWish, asked: float) -> Entry:
    """The place asked for, else the nearest beside the lifts over tabs, with the widest lead free there."""
    count = max(int(path.length / GRID_MM), LEAST_GRID)
    steps = np.arange(count, dtype=np.float64) * (path.length / count)
    off = np.minimum(steps, path.length - steps)
    places = path.snapped(asked + steps)[np.argsort(off, kind="stable")] % path.length
    beside = places[_beside_tabs(path, places, wish, 0.0)]
    at = np.array([[*beside, places[0]][0]])
    for lead in wish.leads:
        is_beside = _beside_tabs(path, at, wish, lead.along_mm)[0]
        if is_beside and _free(path, at, lead, wish)[0]:
            return Entry(float(at[0]), lead)
    return Entry(float(at[0]), None)


def _as_good(costs: Floats, best: int, beside: Ints) -> Ints:
    """Others of the places beside that serve as well as the best, MOST_OFFERED of them, spread evenly."""
    good = beside[costs[beside] <= max(GENTLE, costs[best])]
    good = good[good != best]
    count = min(good.size, MOST_OFFERED)
    return np.asarray(good[np.arange(count) * good.size // max(count, 1)])


def _free(path: Unrolled, at: Floats, lead: LeadShape, wish: EntryWish) -> Flags:
    """(n,) whether leads at places at (n,) cut neither into what is kept nor through a strip of waste.

    Nor may they leave the slot, as where the path bends away from them: they run at full depth.
    """
    free = are_free(path, at, lead, wish.overlap_mm, wish.kept)
    ends = (lead.far_ends(path, at, -1), lead.far_ends(path, at + wish.overlap_mm, 1))
    away = np.max([distances((path.loop,), end) for end in ends], axis=0)
    return np.asarray(free & (away <= MOST_ASIDE * wish.bit_mm) & ~_cut_through(path, at, lead, wish))


def _cut_through(path: Unrolled, at: Floats, lead: LeadShape, wish: EntryWish) -> Flags:
    """(n,) whether a lead goes through a strip of waste into the slot behind it: its ends would fly."""
    found = np.zeros(at.size, dtype=np.bool_)
    for end in (at - lead.along_mm, at + wish.overlap_mm + lead.along_mm):
        spots = path.at(end)
        slot, beyond = (
            wish.kept.holds(spots.to_left(lead.scrap * (wish.bit_mm + more))) for more in (0.0, lead.sideways)
        )
        found |= beyond & ~slot
    return found


def _beside_tabs(path: Unrolled, at: Floats, wish: EntryWish, lead_mm: float) -> Flags:
    """(n,) whether leads this long at places at (n,) keep out of every lift: they would cut the tab."""
    half = lead_mm + wish.overlap_mm / 2.0
    return np.asarray(~_is_busy(path, at + wish.overlap_mm / 2.0, wish.busy, half))


def _costs(path: Unrolled, at: Floats, wish: EntryWish) -> Floats:
    half = min(STRAIGHT_MM, path.length / 2.0)
    turning = turned_within(path, at, half)
    ramp = turned_within(path, at + wish.ramp_mm, half)
    return turning + RAMP_SHARE * ramp + np.where(_is_busy(path, at, wish.busy, STRAIGHT_MM), BUSY_COST, 0.0)


def _is_busy(path: Unrolled, at: Floats, busy: Floats, near_mm: float) -> np.ndarray:
    """(n,) bool: whether a tab is lifted within near_mm of each place."""
    if not len(busy):
        return np.zeros(at.size, dtype=np.bool_)
    middles, halves = busy.mean(axis=1), (busy[:, 1] - busy[:, 0]) / 2.0
    off = np.abs((at[:, None] - middles + path.length / 2.0) % path.length - path.length / 2.0)
    return np.asarray((off < halves + near_mm).any(axis=1))
