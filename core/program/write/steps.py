"""The moves on the grid of what a file can say: whole numbers of steps.

1. Every end is rounded once; a move starts where the one before has ended, so that nothing adds up.
2. The centre of an arc is found anew from its rounded ends, so that only the rounding of I and J is left
   in its mismatch, then the nearest step that keeps it inside the rule is taken.
3. An arc that no step can keep inside the rule, or whose chord is only a few steps, becomes chords.
4. A move that goes nowhere on this grid is left out.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np

from core.outline.segments import Floats
from core.program.write.dialect import Dialect
from core.program.write.moves import Moves, as_chords
from core.router.toolpath import Ints

#: NISTIR 6556 3.5.3.2, the difference of an arc's radii that is still allowed.
MISMATCH_MM, MISMATCH_INCH = 0.002, 0.0002
#: The share of it that we use, since the controller computes with its own rounding.
MISMATCH_SHARE = 0.75
#: An arc of at most half a turn over so short a chord (0.001 mm at four decimals) leaves it by less still.
SHORTEST_ARC_STEPS = 10


@dataclass(frozen=True, eq=False)
class Steps:
    """starts, ends (n, 3), offsets (n, 2) from start to centre, in steps; the rest as in Moves."""

    starts: Ints
    ends: Ints
    offsets: Ints
    turns: Ints
    motions: Ints
    feeds: Floats
    operations: Ints


def stepped(moves: Moves, dialect: Dialect) -> Steps:
    """The moves in whole steps, arcs inside the mismatch rule."""
    limit = _mismatch_limit(dialect)
    first = _rounded(moves, dialect.step_mm(), limit)
    broken = (first.turns != 0) & (_mismatch(first.offsets, _chords(first)) > limit)
    if broken.any():
        moves = as_chords(moves, broken, dialect.chord_tolerance_mm)
        first = _rounded(moves, dialect.step_mm(), limit)
    return _moving(first)


def _mismatch_limit(dialect: Dialect) -> float:
    allowed_mm = MISMATCH_MM if dialect.unit == "mm" else MISMATCH_INCH * dialect.mm_per_unit()
    return MISMATCH_SHARE * allowed_mm / dialect.step_mm()


def _rounded(moves: Moves, step_mm: float, limit: float) -> Steps:
    starts, ends = _on_grid(moves.starts, step_mm), _on_grid(moves.ends, step_mm)
    chords = (ends - starts)[:, :2]
    is_arc = (moves.bulges != 0.0) & (np.hypot(*chords.T) >= SHORTEST_ARC_STEPS)
    bulges = np.where(is_arc, moves.bulges, 1.0)
    offsets = np.where(is_arc[:, None], _offsets(chords, bulges, limit), 0)
    turns = np.where(is_arc, np.sign(moves.bulges), 0.0).astype(np.int64)
    return Steps(starts, ends, offsets, turns, moves.motions, moves.feeds, moves.operations)


def _on_grid(places: Floats, step_mm: float) -> Ints:
    return np.rint(places / step_mm).astype(np.int64)


def _chords(steps: Steps) -> Ints:
    return np.asarray((steps.ends - steps.starts)[:, :2])


def _offsets(chords: Ints, bulges: Floats, limit: float) -> Ints:
    """(n, 2) from start to centre: half the chord, and (1 - b^2) / 4b of it to the left."""
    left = np.column_stack((-chords[:, 1], chords[:, 0]))
    exact = chords / 2.0 + left * ((1.0 - bulges**2) / (4.0 * bulges))[:, None]
    nearest = np.rint(exact).astype(np.int64)
    poor = _mismatch(nearest, chords) > limit
    nearest[poor] = _best_neighbours(nearest[poor], chords[poor])
    return nearest


def _best_neighbours(offsets: Ints, chords: Ints) -> Ints:
    """Of each offset and its eight neighbours the one with the least mismatch."""
    tries = np.array(sorted(product((-1, 0, 1), repeat=2), key=lambda by: (abs(by[0]) + abs(by[1]), by)))
    candidates = offsets[:, None, :] + tries[None, :, :]
    misses = _mismatch(candidates, chords[:, None, :])
    return np.asarray(candidates[np.arange(offsets.shape[0]), np.argmin(misses, axis=1)])


def _mismatch(offsets: Ints, chords: Ints) -> Floats:
    """Difference of the radii at start and end, steps."""
    back = chords - offsets
    first = np.hypot(offsets[..., 0], offsets[..., 1])
    return np.asarray(np.abs(first - np.hypot(back[..., 0], back[..., 1])))


def _moving(steps: Steps) -> Steps:
    keep = (steps.ends != steps.starts).any(axis=1)
    return Steps(
        steps.starts[keep],
        steps.ends[keep],
        steps.offsets[keep],
        steps.turns[keep],
        steps.motions[keep],
        steps.feeds[keep],
        steps.operations[keep],
    )
