"""The copies of one piece in a program: which moves cut which, and whether all are cut alike.

1. The moves fall into runs: what is fed without a rapid between, and the rapids that follow it.
2. A run that stays within a mark or a break cut belongs to the sheet; any other to the copy whose outline is
   nearest to it.
3. Moved back, the runs of every copy must be those of the first, move by move. Then what is left of the
   sheet follows from the first copy, and only its own moves have to be swept.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from core.program.read.program import Program
from core.proof.breaks import on_cuts
from core.proof.claims import BreakClaim, MarkClaim, Pair, TabClaim
from core.proof.copies import Motion
from core.proof.program_rows import SLACK, in_mark, picked
from core.proof.sweeps import places_at

#: mm by which moves of two copies may differ: twice what a program in inches rounds to, and the middles of
#: arcs whose centres were rounded.
SAME_MOVE = 2e-3
#: The run of moves before the first one that is fed, and runs within marks and break cuts.
OF_SHEET = -1

Ints = NDArray[np.int64]
Points = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Owned:
    """(n,) the copy that each move of a program cuts, OF_SHEET for marks, break cuts and what comes first."""

    copies: Ints

    def of_first(self, program: Program) -> Program:
        """The program with the moves of the sheet and of the first copy alone."""
        return picked(program, np.flatnonzero(self.copies <= 0))


def owned(
    program: Program,
    zero_at: Pair,
    outline: BaseGeometry,
    motions: tuple[Motion, ...],
    marks: Sequence[MarkClaim],
    breaks: Sequence[BreakClaim] = (),
) -> Owned | None:
    """Whose each move is; None where the copies are not cut alike. outline: the first one's, in the frame."""
    runs = _runs(program)
    places = program.ends[:, :2] + np.array(zero_at)
    of_run = np.full(runs.max(initial=0) + 1, OF_SHEET)
    fed = ~program.is_rapid & (runs > 0)
    firsts = np.flatnonzero(fed & np.append(True, np.diff(np.where(fed, runs, 0)) != 0))
    of_sheet = _of_sheet(places, fed, runs, (marks, breaks))
    free = firsts[~of_sheet[runs[firsts]]]
    of_run[runs[free]] = _nearest(places[free], outline, motions)
    copies = of_run[runs]
    return Owned(copies) if _all_alike(program, zero_at, copies, motions) else None


def _runs(program: Program) -> Ints:
    """(n,) the number of each move's run, from 1; 0 before the first move that is fed."""
    begins = ~program.is_rapid & np.append(True, program.is_rapid[:-1])
    return np.cumsum(begins)


def _of_sheet(
    places: Points,
    fed: NDArray[np.bool_],
    runs: Ints,
    claimed: tuple[Sequence[MarkClaim], Sequence[BreakClaim]],
) -> NDArray[np.bool_]:
    """(runs + 1,) whether all of a run's fed moves end within one mark, or on break cuts."""
    marks, breaks = claimed
    within = np.zeros(runs.max(initial=0) + 1, dtype=bool)
    for inside in (*(in_mark(places, mark) for mark in marks), on_cuts(places, breaks)):
        has_left = np.bincount(runs[fed & ~inside], minlength=within.size) > 0
        within |= ~has_left
    return within


def _nearest(places: Points, outline: BaseGeometry, motions: tuple[Motion, ...]) -> Ints:
    """(m,) the copy whose outline, openings filled, lies nearest to each place."""
    filled = shapely.union_all([shapely.Polygon(piece.exterior) for piece in shapely.get_parts(outline)])
    shapely.prepare(filled)
    away = [shapely.distance(filled, shapely.points(motion.back(places))) for motion in motions]
    return np.asarray(np.argmin(np.array(away), axis=0), dtype=np.int64)


def _all_alike(program: Program, zero_at: Pair, copies: Ints, motions: tuple[Motion, ...]) -> bool:
    first = _fingerprint(program, zero_at, copies, 0, motions[0])
    return first.size > 0 and all(
        (own := _fingerprint(program, zero_at, copies, index, motion)).shape == first.shape
        and bool(np.abs(own - first).max() <= SAME_MOVE)
        for index, motion in enumerate(motions)
    )


def _fingerprint(program: Program, zero_at: Pair, copies: Ints, index: int, motion: Motion) -> Points:
    """(m, 8): middle and end of each fed move of a copy moved back to the first, its turn and its feed.

    The first descent of a program is made in steps, slower than others: of moves straight down that follow
    each other only the end of the last one is told. How fast they may be, other rules say.
    """
    is_down = _straight_down(program)
    follows = np.append(is_down[:-1] & is_down[1:], False)
    rows = np.flatnonzero((copies == index) & ~program.is_rapid & ~follows)
    ends = program.ends[rows]
    middles = places_at(program, rows, np.full(rows.size, 0.5))
    middles = np.where(is_down[rows, None], ends, middles)
    zero = np.array(zero_at)
    return np.column_stack(
        (
            motion.back(middles[:, :2] + zero),
            middles[:, 2],
            motion.back(ends[:, :2] + zero),
            ends[:, 2],
            program.turns[rows],
            np.where(is_down[rows], 0.0, program.feeds[rows]),
        )
    )


def _straight_down(program: Program) -> NDArray[np.bool_]:
    """(n,) the fed moves that go nowhere but down."""
    apart = program.ends - program.starts
    still = (np.abs(apart[:, :2]) <= SAME_MOVE).all(axis=1)
    return np.asarray(~program.is_rapid & still & (apart[:, 2] < 0.0) & (program.turns == 0))


def first_tabs(
    tabs: tuple[TabClaim, ...], outline: BaseGeometry, motions: tuple[Motion, ...]
) -> tuple[TabClaim, ...] | None:
    """The stated tabs of the first copy; None where another copy's are not the same."""
    if not tabs:
        return ()
    places = np.array([tab.at for tab in tabs])
    owner = _nearest(places, outline, motions)
    first = tuple(tab for tab, copy in zip(tabs, owner.tolist(), strict=True) if copy == 0)
    for index, motion in enumerate(motions):
        own = [tab for tab, copy in zip(tabs, owner.tolist(), strict=True) if copy == index]
        if len(own) != len(first) or not all(map(_same_tab, own, first, [motion] * len(own))):
            return None
    return first


def _same_tab(tab: TabClaim, first: TabClaim, motion: Motion) -> bool:
    back = motion.back(np.array([tab.at]))[0]
    same = tab.neck_mm == first.neck_mm and tab.height_mm == first.height_mm
    return same and bool(np.abs(back - np.array(first.at)).max() <= SLACK)
