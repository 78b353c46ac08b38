"""A Toolpath in the program's own coordinates, its arcs cut into pieces that every controller can take."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from core.errors import BadShape
from core.findings import Point
from core.outline.segments import Floats, Segments
from core.program.write.dialect import Dialect
from core.router.toolpath import Ints, Motion, Toolpath

Flags = NDArray[np.bool_]

#: mm; past it a controller that counts in 32-bit floats loses more than 0.0001 mm (2000 mm * 2**-24).
LARGEST_RADIUS_MM = 2000.0
#: rad; an arc of more than half a turn is written as several, since none is then near a whole turn, which
#: some controllers mistake for no turn at all. The excess lets an exact half turn stay one piece.
MOST_SWEEP = np.pi * (1.0 + 1e-9)


@dataclass(frozen=True)
class ProgramZero:
    """Where the work zero is: its place in the frame, mm, and what is added to z above the stock's top.

    surface: what Z counts from, in words that the program shows; "" shows none.
    """

    at: Point = (0.0, 0.0)
    z_shift_mm: float = 0.0
    surface: str = ""


@dataclass(frozen=True, eq=False)
class Moves:
    """starts, ends (n, 3) mm from the work zero; bulges, motions, feeds (mm/min), operations (n,).

    sides (n,): 1 where the part lies to the left of the move, -1 to its right, 0 where it leaves no edge.
    """

    starts: Floats
    ends: Floats
    bulges: Floats
    motions: Ints
    feeds: Floats
    operations: Ints
    sides: Ints

    def segments(self) -> Segments:
        """The moves as seen from above."""
        return Segments(self.starts[:, :2], self.ends[:, :2], self.bulges)


def moves_of(toolpath: Toolpath, zero: ProgramZero) -> Moves:
    """The Toolpath counted from the work zero. Raises BadShape for what no program can say."""
    shift = np.array([-zero.at[0], -zero.at[1], zero.z_shift_mm])
    starts, ends = toolpath.starts() + shift, toolpath.ends + shift
    if not (np.isfinite(starts).all() and np.isfinite(ends).all() and np.isfinite(toolpath.bulges).all()):
        raise BadShape("a Toolpath has a place that is no number")
    is_rapid = toolpath.motions == Motion.RAPID
    if (toolpath.bulges[is_rapid] != 0.0).any():
        raise BadShape("a rapid of a Toolpath is an arc")
    if not (toolpath.feeds[~is_rapid] > 0.0).all():
        raise BadShape("a cutting move of a Toolpath has no feed")
    return Moves(
        starts,
        ends,
        toolpath.bulges,
        toolpath.motions,
        toolpath.feeds,
        toolpath.operations,
        toolpath.sides_of_part(),
    )


def suited(moves: Moves, dialect: Dialect) -> Moves:
    """The same path with arcs of at most half a turn, or as chords where the controller takes no arc."""
    straightened = _without_flat_arcs(moves, dialect.step_mm())
    is_arc = straightened.bulges != 0.0
    if dialect.takes_arcs:
        is_arc &= _radii(straightened) > LARGEST_RADIUS_MM
    chorded = as_chords(straightened, is_arc, dialect.chord_tolerance_mm)
    sweeps = 2.0 * np.abs(chorded.segments().half_sweeps())
    return split(chorded, np.ceil(sweeps / MOST_SWEEP).astype(np.int64).clip(1))


def as_chords(moves: Moves, which: Flags, tolerance: float) -> Moves:
    """The same path with the chosen arcs as chords, each within tolerance mm of its arc.

    No chord comes nearer to the part than its arc, since an error there grows by 1 / sin of half the angle
    at a sharp tip. So an arc round the part, which its chords would cut off, becomes a run of its tangents:
    their corners lie at 1 / cos of half a step outside it, in the middle between the places they touch.
    """
    with np.errstate(invalid="ignore"):  # a plunge has no chord, so that its radius is no number
        counts = np.where(which, moves.segments().steps(tolerance), 1)
        is_round_part = which & (moves.sides * moves.bulges > 0.0)
        tangents = _tangents(moves, tolerance)
    counts = np.where(is_round_part, tangents, counts)
    pieces = _split(moves, counts, is_round_part)
    rows = np.repeat(np.arange(counts.size), counts + is_round_part)
    return replace(pieces, bulges=np.where(which[rows], 0.0, pieces.bulges))


def _tangents(moves: Moves, tolerance: float) -> Ints:
    """(n,) how many tangents keep the corners between them within tolerance mm: r (1 / cos(a / 2) - 1)."""
    segments = moves.segments()
    radii = segments.radii()
    widest = 2.0 * np.arccos(radii / (radii + tolerance))
    counts = np.abs(2.0 * segments.half_sweeps()) / np.where(widest > 0.0, widest, 1.0)
    return np.maximum(np.ceil(np.nan_to_num(counts)), 1.0).astype(np.int64)


def split(moves: Moves, counts: Ints) -> Moves:
    """Every move as counts[i] moves of equal sweep; z runs in proportion."""
    return _split(moves, counts, np.zeros(counts.size, dtype=np.bool_))


def _split(moves: Moves, counts: Ints, as_tangents: Flags) -> Moves:
    """The same, the chosen arcs as the corners of counts[i] tangents and both their ends."""
    pieces = counts + as_tangents
    rows = np.repeat(np.arange(counts.size), pieces)
    within = np.arange(rows.size) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    share = np.minimum((within + np.where(as_tangents[rows], 0.5, 1.0)) / counts[rows], 1.0)
    ends = _ends_at(moves, rows, share)
    is_corner = as_tangents[rows] & (share < 1.0)
    if is_corner.any():
        ends[is_corner, :2] += _outward(moves, counts, rows[is_corner], ends[is_corner, :2])
    return Moves(
        starts=np.vstack((moves.starts[:1], ends[:-1])),
        ends=ends,
        bulges=np.tan(np.arctan(moves.bulges) / counts)[rows],
        motions=moves.motions[rows],
        feeds=moves.feeds[rows],
        operations=moves.operations[rows],
        sides=moves.sides[rows],
    )


def _outward(moves: Moves, counts: Ints, rows: Ints, places: Floats) -> Floats:
    """(m, 2) mm from places on arcs to where the tangents beside them meet."""
    own = Segments(moves.starts[rows, :2], moves.ends[rows, :2], moves.bulges[rows])
    half_steps = own.half_sweeps() / counts[rows]
    return np.asarray((places - own.centres()) * (1.0 / np.cos(half_steps) - 1.0)[:, None])


def _radii(moves: Moves) -> Floats:
    with np.errstate(invalid="ignore"):  # the same plunge
        return moves.segments().radii()


def _ends_at(moves: Moves, rows: Ints, share: Floats) -> Floats:
    picked = Segments(moves.starts[rows, :2], moves.ends[rows, :2], moves.bulges[rows])
    z = moves.starts[rows, 2] + share * (moves.ends[rows, 2] - moves.starts[rows, 2])
    inner = np.column_stack((picked.points_at(share), z))
    return np.where((share == 1.0)[:, None], moves.ends[rows], inner)


def _without_flat_arcs(moves: Moves, step_mm: float) -> Moves:
    """An arc that leaves its chord by less than half a step is the chord, as far as the file can say."""
    sagitta = np.abs(moves.bulges) * moves.segments().chord_lengths() / 2.0
    return replace(moves, bulges=np.where(sagitta < step_mm / 2.0, 0.0, moves.bulges))
