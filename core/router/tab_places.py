"""Where tabs go.

The plot: every contour is looked at on an even grid. A place costs what its run is bent, much more at a
corner, and most where nothing stands behind it to hold on to. What each part hangs on (the frame, or the
piece of waste round it) gets tabs on the part's edge, spread round; then every piece of waste that is not
milled away gets tabs of its own, on the contour that frees it.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from core.findings import Finding, Point
from core.outline.measure import Nearest, all_loops, contains
from core.outline.region import Region, Regions
from core.outline.segments import Floats
from core.router.setup import Setup
from core.router.tab import TabPlace, lifted_runs
from core.router.tab_findings import (
    bare,
    bent,
    few,
    no_room,
    nothing_behind,
    tabs_together,
    waste_not_held,
    wide_gap,
)
from core.router.tab_grid import (
    FRAME,
    GENTLE,
    MARGIN_MM,
    ROUNDING_MM,
    Contour,
    Grid,
    Ints,
    grid_of,
    lifted_mm,
    nearest_contour,
    with_crooked,
)
from core.router.tab_spread import Gaps, spread_among, spread_round
from core.router.waste import Waste

#: Tabs that hold a piece of waste in a bay; an opening's waste gets as many as a part.
LEAST_IN_BAY = 2
#: Numbers of tabs tried beyond the least one, to get round corners.
MORE_TABS = 3
#: rad; a run that turns no more is told as straight.
STRAIGHT = 0.05
#: Share of an opening's contour that must face its waste for tabs to be spread all round it.
ALL_ROUND = 0.9


@dataclass(frozen=True, eq=False)
class Tabbed:
    """The tabs of each contour, in the order of the contours, and what is to be said about them."""

    places: tuple[tuple[TabPlace, ...], ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class _Want:
    """Tabs wanted on one contour (its index), holding on to what is behind it; at least so many."""

    contour: int
    behind: int
    least: int
    is_round: bool


def tab_places(
    contours: tuple[Contour, ...], parts: Regions, wastes: tuple[Waste, ...], setup: Setup
) -> Tabbed:
    """Tabs for all contours; parts as cut, in the frame."""
    walls = Nearest.of(all_loops(parts))
    grids = tuple(grid_of(contour, walls, wastes, setup) for contour in contours)
    by_hand = _placed_by_hand(contours, setup)
    places = list(by_hand)
    findings = list(_loose(grids, contours, wastes))
    for want in _wants(contours, grids, wastes, setup):
        contour, grid, spots = contours[want.contour], grids[want.contour], by_hand[want.contour]
        grid = grid if spots else with_crooked(grid, contour.path, setup)
        chosen = _nearest_on(contour, grid, spots) if spots else _chosen(contour, grid, want, setup)
        if spots:
            findings += _by_hand_together(contour, spots, setup)
        else:
            chosen = _apart(contour, grid, _with_footing(chosen, grid, want), setup)
            spots = _spots(contour, grid, chosen, setup)
            places[want.contour] = (*places[want.contour], *spots)
        findings += _judged(contour, grid, want, chosen, spots)
        findings += _far_apart(contour, grid, want, chosen, setup)
    return Tabbed(tuple(places), tuple(findings))


def _placed_by_hand(contours: tuple[Contour, ...], setup: Setup) -> list[tuple[TabPlace, ...]]:
    """Every point the maker placed, on the contour nearest to it."""
    found: list[list[float]] = [[] for _ in contours]
    for point in setup.tab_rule.placed or ():
        index, along = nearest_contour(contours, point)
        found[index].append(along)
    return [
        _tabs_at(contour, np.array(sorted(at)), setup) if at else ()
        for contour, at in zip(contours, found, strict=True)
    ]


def _tabs_at(contour: Contour, at: np.ndarray, setup: Setup) -> tuple[TabPlace, ...]:
    spots = contour.path.at(at)
    walls = spots.to_left(setup.bit.radius_mm)
    return tuple(
        TabPlace((float(on[0]), float(on[1])), (float(wall[0]), float(wall[1])))
        for on, wall in zip(spots.points, walls, strict=True)
    )


def _nearest_on(contour: Contour, grid: Grid, spots: tuple[TabPlace, ...]) -> Ints:
    """The places of the grid, rising, nearest to tabs set by hand."""
    at = np.array([contour.path.nearest(spot.on) for spot in spots])
    step = grid.length / grid.at.size
    return np.sort(np.rint(at / step).astype(np.int64) % grid.at.size)


def _wants(
    contours: tuple[Contour, ...], grids: tuple[Grid, ...], wastes: tuple[Waste, ...], setup: Setup
) -> list[_Want]:
    least = setup.tab_rule.least_count
    surrounds = [_surround(contour, wastes) for contour in contours]
    edges = [
        _Want(index, surrounds[index], least, is_round=True)
        for index, contour in enumerate(contours)
        if contour.is_edge
    ]
    own = []
    for number, waste in enumerate(wastes):
        facing = _facing(number, grids, surrounds)
        if not waste.is_milled and max(facing) > 0.0:
            index = int(np.argmax(facing))
            is_edge = contours[index].is_edge
            all_round = not is_edge and facing[index] >= ALL_ROUND * contours[index].path.length
            own.append(_Want(index, number, LEAST_IN_BAY if is_edge else least, is_round=all_round))
    return edges + own


def _facing(number: int, grids: tuple[Grid, ...], surrounds: list[int]) -> list[float]:
    """How many mm of each contour face a piece of waste, those not counted that lie within it."""
    return [
        0.0 if surround == number else float(np.mean(grid.behind == number)) * grid.length
        for grid, surround in zip(grids, surrounds, strict=True)
    ]


def _surround(contour: Contour, wastes: tuple[Waste, ...]) -> int:
    """What a part's edge is cut out of: the frame, or the piece of waste round it."""
    if not contour.is_edge:
        return FRAME
    corner = contour.path.loop.points[:1]
    for number, waste in enumerate(wastes):
        if contains((Region(waste.piece.outer),), corner)[0]:
            return number
    return FRAME


def _loose(
    grids: tuple[Grid, ...], contours: tuple[Contour, ...], wastes: tuple[Waste, ...]
) -> tuple[Finding, ...]:
    """Pieces of waste that no contour can hold."""
    surrounds = [_surround(contour, wastes) for contour in contours]
    return tuple(
        waste_not_held(_middle(waste))
        for number, waste in enumerate(wastes)
        if not waste.is_milled and max(_facing(number, grids, surrounds)) <= 0.0
    )


def _middle(waste: Waste) -> Point:
    x_min, y_min, x_max, y_max = waste.piece.outer.bounds()
    return ((x_min + x_max) / 2.0, (y_min + y_max) / 2.0)


def _chosen(contour: Contour, grid: Grid, want: _Want, setup: Setup) -> Ints:
    """Places on the grid, with as few faults as there can be."""
    costs, length = grid.costs(want.behind), contour.path.length
    if not want.is_round:
        facing = np.flatnonzero(grid.behind == want.behind)
        span = facing.size * length / grid.at.size
        count = _count(span, want.least, setup)
        return spread_among(costs, facing, count) if count else np.empty(0, dtype=np.int64)
    step = length / grid.at.size
    least = _count(length, want.least, setup)
    shortest = max(math.ceil(_room_mm(setup) / step), 1)
    longest = max(int(setup.tab_rule.spacing_mm / step), 1)
    counts = range(least, least + MORE_TABS + 1)
    return _fewest_faults(costs, [Gaps(count, shortest, longest) for count in counts])


def _with_footing(found: Ints, grid: Grid, want: _Want) -> Ints:
    """Without those that hold on to nothing, as beside a bay that is milled away, or that cannot be made."""
    return np.asarray(found[grid.stands(want.behind)[found] & ~grid.is_crooked[found]], dtype=np.int64)


def _apart(contour: Contour, grid: Grid, chosen: Ints, setup: Setup) -> Ints:
    """Without those that would run into the one before: round a bend a tab takes more of the path."""
    kept = np.sort(chosen)
    while kept.size:
        touching = _touching(contour, grid.at[kept], setup)
        if not touching.size:
            break
        kept = np.delete(kept, touching[0])
    return kept


def _touching(contour: Contour, at: Floats, setup: Setup) -> Ints:
    """Indices of tabs, at rising distances (n,) mm, that run into the next one round the contour."""
    runs = lifted_runs(contour.path, at, setup)
    following = np.roll(runs[:, 0], -1)
    following[-1] += contour.path.length
    return np.flatnonzero(runs[:, 1] >= following)


def _by_hand_together(contour: Contour, spots: tuple[TabPlace, ...], setup: Setup) -> list[Finding]:
    at = np.array([contour.path.nearest(spot.on) for spot in spots])
    order = np.argsort(at, kind="stable")
    touching = _touching(contour, at[order], setup)
    return [tabs_together(spots[order[index]].at) for index in touching.tolist()]


def _fewest_faults(costs: Floats, ways: list[Gaps]) -> Ints:
    """The first way round without a fault, else that with the fewest; empty when none closes the round."""
    best, least = np.empty(0, dtype=np.int64), math.inf
    for gaps in ways:
        found = spread_round(costs, gaps)
        faults = int((costs[found] > 1.0).sum())
        if found.size and faults < least:
            best, least = found, faults
        if least == 0:
            break
    return best


def _count(length: float, least: int, setup: Setup) -> int:
    """How many tabs a run asks for, and has room for."""
    wanted = max(least, math.ceil(length / setup.tab_rule.spacing_mm))
    return min(wanted, int(length / _room_mm(setup)))


def _room_mm(setup: Setup) -> float:
    """The least distance from the middle of one tab to that of the next."""
    return lifted_mm(setup) + 2.0 * MARGIN_MM


def _spots(contour: Contour, grid: Grid, chosen: Ints, setup: Setup) -> tuple[TabPlace, ...]:
    if not chosen.size:
        return ()
    places = np.sort(chosen)
    spots = zip(_tabs_at(contour, grid.at[places], setup), grid.turns[places].tolist(), strict=True)
    return tuple(replace(spot, why=_why(turn)) for spot, turn in spots)


def _why(turn: float) -> str:
    """What speaks for a place on a run that turns so far, rad."""
    if turn <= STRAIGHT:
        return "spread evenly, on a straight run"
    return (
        "spread evenly, on a gentle bend" if turn <= GENTLE else "on a bend, since no straighter run is free"
    )


def _judged(
    contour: Contour, grid: Grid, want: _Want, chosen: Ints, spots: tuple[TabPlace, ...]
) -> list[Finding]:
    start = contour.path.loop.points[0]
    if chosen.size < min(want.least, 2):
        is_bare = not (grid.behind == want.behind).any()
        return [(nothing_behind if is_bare else no_room)((float(start[0]), float(start[1])))]
    found = [few(spots[0].at, chosen.size, want.least)] if chosen.size < want.least else []
    stands = grid.stands(want.behind)
    for index, spot in zip(np.sort(chosen).tolist(), spots, strict=True):
        if not stands[index]:
            found.append(bare(spot.at))
        elif grid.turns[index] > GENTLE:
            found.append(bent(spot.at))
    return found


def _far_apart(contour: Contour, grid: Grid, want: _Want, chosen: Ints, setup: Setup) -> list[Finding]:
    """Cautions in the middle of each run without a tab that is longer than asked."""
    if not (want.is_round and chosen.size):
        return []
    at = np.sort(grid.at[chosen])
    gaps = np.diff(np.append(at, at[0] + grid.length))
    wide = np.flatnonzero(gaps > setup.tab_rule.spacing_mm + ROUNDING_MM)
    middles = (at[wide] + gaps[wide] / 2.0) % grid.length
    spots = _tabs_at(contour, middles, setup) if wide.size else ()
    return [wide_gap(spot.at, float(gap)) for spot, gap in zip(spots, gaps[wide], strict=True)]
