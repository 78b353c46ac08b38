"""Where a part touches the wall of its nest, and where fingers get hold of it.

Fingers first, since they ask for more room; then six to eight short runs of wall, where the edge is even and
no tab has left a stub, so chosen that they oppose every motion.
"""

from dataclasses import dataclass

import numpy as np

from core.findings import Point
from core.nest.hold import chosen_walls, farthest_move, free_corners, wrenches
from core.outline.loop import Loop
from core.outline.region import Regions
from core.outline.segments import Floats
from core.sheet.edge_places import EdgePlaces, Ints, RunRule, middles_of_runs

#: mm that stay between part and wall where it touches, and what is cut for them: a round bit leaves up to
#: a hundredth in the kinks of a run.
CLEARANCE_MM, CUT_CLEARANCE_MM = 0.15, 0.16
#: Runs of wall that a part touches, at most and at least.
MOST_RUNS, LEAST_RUNS = 8, 6
#: mm: the longest and the shortest run, the share of the whole edge that one takes at most, and shorter
#: runs that are tried where that leaves no room for enough of them.
LONGEST_RUN_MM, SHORTEST_RUN_MM, SHARE_OF_EDGE = 10.0, 2.0, 1.0 / 24.0
SHORTER = (1.0, 0.7, 0.4)
#: mm of play above which a nest is no help: the eye lays a film as well.
LOOSE_MM = 0.5
#: mm: no tighter bend along a run, as along a sight edge.
LEAST_RADIUS_MM = 5.0
#: mm of the board behind a wall that stays a wall.
ROOM_MM = 4.0
#: mm between two runs, or between a run and a notch.
BETWEEN_MM = 1.0
#: mm: a finger notch, round, its middle on the part's edge.
NOTCH_MM = 16.0


@dataclass(frozen=True, eq=False)
class Contact:
    """One run of wall: points (n, 2) of the part's edge, mm, and the normals (n, 2) toward the wall."""

    points: Floats
    normals: Floats


@dataclass(frozen=True, eq=False)
class Contacts:
    """Of one loose piece: its runs of wall, its finger notches, how far it can move; None: not held."""

    runs: tuple[Contact, ...]
    notches: tuple[Point, ...]
    play_mm: float | None


@dataclass(frozen=True, eq=False)
class Beside:
    """What the pocket keeps clear of, as seen from the first copy; mm.

    tabs: each with how far contact stays from it; pins (n, 2); others: how far any other copy is.
    """

    tabs: tuple[tuple[Point, float], ...]
    pins: Floats
    pin_radius_mm: float
    others: "Others"


class Others:
    """How far the other copies are; nobody is there unless told."""

    def distances(self, points: Floats) -> Floats:
        """(n,) mm."""
        return np.full(len(points), np.inf)


def contacts_of(outer: Loop, parts: Regions, beside: Beside) -> Contacts:
    """For the piece with this outer edge (counter-clockwise), among all parts of the shape; mm.

    Two notches and long runs are tried first; a small piece may have room for fewer and shorter ones only.
    """
    places = EdgePlaces.of(outer)
    every = _notches(places, beside)
    longest = min(LONGEST_RUN_MM, SHARE_OF_EDGE * places.length)
    lengths = dict.fromkeys(max(SHORTEST_RUN_MM, longest * share) for share in SHORTER)
    held: Contacts | None = None
    for count in range(every.size, -1, -1):
        tried = [_walls(places, parts, beside, every[:count], length) for length in lengths]
        best = min(tried, key=lambda found: np.inf if found.play_mm is None else found.play_mm)
        if best.play_mm is not None and best.play_mm <= LOOSE_MM:
            return best
        if held is None and best.play_mm is not None:
            held = best
    return held or Contacts((), _points(places, every), None)


def _walls(places: EdgePlaces, parts: Regions, beside: Beside, notches: Ints, length: float) -> Contacts:
    rule = RunRule(length, LEAST_RADIUS_MM, ROOM_MM, beside.tabs)
    middles = _clear_of_notches(places, middles_of_runs(places, parts, rule), notches, length)
    windows = np.array([places.window(middle, length) for middle in middles.tolist()], dtype=np.int64)
    if not len(windows):
        return Contacts((), _points(places, notches), None)
    middle, reach = _middle_and_reach(places.points)
    every = wrenches(places.points, places.normals, middle, reach)
    ends = windows[:, [0, windows.shape[1] // 2, -1]]
    gaps = np.hypot(*(places.points[middles][:, None] - places.points[middles][None]).transpose(2, 0, 1))
    picks = chosen_walls(every[ends], gaps >= length + BETWEEN_MM, MOST_RUNS)
    runs = tuple(Contact(places.points[windows[pick]], places.normals[windows[pick]]) for pick in picks)
    walls = every[ends[picks]].reshape(-1, 3) if len(picks) >= LEAST_RUNS else np.empty((0, 3))
    corners = free_corners(walls, CUT_CLEARANCE_MM)
    play = None if corners is None else farthest_move(corners, places.points, middle, reach)
    return Contacts(runs, _points(places, notches), play)


def _middle_and_reach(points: Floats) -> tuple[Floats, float]:
    low, high = points.min(axis=0), points.max(axis=0)
    return (low + high) / 2.0, float(np.hypot(*(high - low))) / 2.0


def _notches(places: EdgePlaces, beside: Beside) -> Ints:
    """Two places for fingers as far apart as they can be, one or none where there is no room."""
    half = NOTCH_MM / 2.0
    free = beside.others.distances(places.points) >= half + ROOM_MM
    for pin in beside.pins:
        free &= np.hypot(*(places.points - pin).T) >= half + beside.pin_radius_mm + BETWEEN_MM
    free &= len(places.points) * places.step >= 4.0 * NOTCH_MM
    where = np.flatnonzero(free)
    if not where.size:
        return where
    at = places.points[where]
    gaps = np.hypot(*(at[:, None] - at[None]).transpose(2, 0, 1))
    first, second = np.unravel_index(int(gaps.argmax()), gaps.shape)
    if gaps[first, second] < NOTCH_MM + BETWEEN_MM:
        return where[:1]
    return where[[first, second]]


def _clear_of_notches(places: EdgePlaces, middles: Ints, notches: Ints, length: float) -> Ints:
    away = NOTCH_MM / 2.0 + length / 2.0 + BETWEEN_MM
    free = np.ones(middles.size, dtype=bool)
    for notch in notches.tolist():
        free &= np.hypot(*(places.points[middles] - places.points[notch]).T) >= away
    return middles[free]


def _points(places: EdgePlaces, rows: Ints) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in places.points[rows].tolist())
