"""How long the machine really takes: trapezoids of speed, with look-ahead over the corners.

The plot: every move has a length, a top speed and an acceleration; every corner a speed at which it may
be taken. A backward pass lowers corner speeds so that each move can still brake for what follows, a
forward pass so that each can be reached; then every move is one trapezoid (or triangle) of speed.
Formulas: constant acceleration; corner speed by deviation, v^2 = a R with
R = d sin(t/2) / (1 - sin(t/2)) for the interior angle t and R at most half a neighbour times tan(t/2),
as public sources of small open controllers have it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats, Segments
from core.router.machine import Machine

Flags = NDArray[np.bool_]

#: mm; a shorter move is none: it takes no time and its direction means nothing.
NO_MOVE_MM = 1e-9
#: Share of a right angle's sine that counts as straight; the corner speed there is beyond any feed.
STRAIGHT = 1.0 - 1e-12
SECONDS_PER_MINUTE = 60.0


@dataclass(frozen=True, eq=False)
class Timing:
    """For each move, (n,): speeds at its start, highest and at its end, mm/s; the time it takes, s.

    lengths in mm and accelerations in mm/s2 along it, from which the speed at any place of it follows.
    """

    entry: Floats
    peak: Floats
    exit: Floats
    seconds: Floats
    lengths: Floats
    accelerations: Floats

    def total(self) -> float:
        """Seconds for all of it, without dwells."""
        return float(self.seconds.sum())


@dataclass(frozen=True, eq=False)
class _Moves:
    lengths: Floats
    tops: Floats
    accelerations: Floats
    heads: Floats
    tails: Floats


def timed(
    starts: Floats, ends: Floats, bulges: Floats, feeds: Floats, is_rapid: Flags, machine: Machine
) -> Timing:
    """Speeds and seconds of moves starts (n, 3) to ends (n, 3) mm, from rest to rest.

    bulges (n,) of the moves seen from above, feeds (n,) mm/min along the path, is_rapid (n,): at the
    machine's top feed, whatever feeds says.
    """
    spans = _lengths(starts, ends, bulges)
    real = spans > NO_MOVE_MM
    moves = _moves(starts[real], ends[real], bulges[real], _tops(feeds, is_rapid, machine)[real], machine)
    entry, leave = _looked_ahead(moves, machine)
    peak, seconds = _trapezoids(moves, entry, leave)
    every = (entry, peak, leave, seconds, moves.lengths, moves.accelerations)
    return Timing(*(_spread(values, real) for values in every))


def _spread(values: Floats, real: Flags) -> Floats:
    whole = np.zeros(real.size)
    whole[real] = values
    return whole


def _flat(starts: Floats, ends: Floats, bulges: Floats) -> Segments:
    return Segments(starts[:, :2], ends[:, :2], bulges)


def _lengths(starts: Floats, ends: Floats, bulges: Floats) -> Floats:
    flat = _flat(starts, ends, bulges).lengths()
    return np.hypot(flat, ends[:, 2] - starts[:, 2])


def _tops(feeds: Floats, is_rapid: Flags, machine: Machine) -> Floats:
    asked = np.where(is_rapid, machine.top_feed_mm_min, np.minimum(feeds, machine.top_feed_mm_min))
    return np.asarray(asked / SECONDS_PER_MINUTE)


def _moves(starts: Floats, ends: Floats, bulges: Floats, tops: Floats, machine: Machine) -> _Moves:
    segments = _flat(starts, ends, bulges)
    lengths = _lengths(starts, ends, bulges)
    level = segments.lengths() / lengths
    heads, tails = (_tangents(segments, at, level, ends[:, 2] - starts[:, 2]) for at in (0.0, 1.0))
    with np.errstate(divide="ignore", invalid="ignore"):
        on_arc = np.sqrt(machine.acceleration_mm_s2 * segments.radii()) / level
    curved = bulges != 0.0
    tops = np.where(curved, np.fmin(tops, np.where(curved, on_arc, np.inf)), tops)
    return _Moves(lengths, tops, _accelerations(heads, level, curved, machine), heads, tails)


def _tangents(segments: Segments, at: float, level: Floats, rises: Floats) -> Floats:
    """(n, 3) unit directions of travel at a fraction of each move."""
    headings = segments.headings_at(np.full(len(segments), at))
    steep = np.sqrt(np.maximum(0.0, 1.0 - level**2)) * np.sign(rises)
    return np.column_stack((np.cos(headings) * level, np.sin(headings) * level, steep))


def _accelerations(heads: Floats, level: Floats, curved: Flags, machine: Machine) -> Floats:
    """(n,) mm/s2 along each move that asks no axis for more than it has; an arc meets every direction."""
    wide = np.where(curved, level, np.abs(heads[:, :2]).max(axis=1))
    with np.errstate(divide="ignore"):
        steep = machine.acceleration_z_mm_s2 / np.abs(heads[:, 2])
        return np.asarray(np.fmin(machine.acceleration_mm_s2 / wide, steep))


def _corner_squares(moves: _Moves, machine: Machine) -> Floats:
    """(n - 1,) mm2/s2: the square of the speed at which each corner may be taken."""
    before, after = moves.tails[:-1], moves.heads[1:]
    cosine = np.clip(-(before * after).sum(axis=1), -1.0, 1.0)
    sine = np.sqrt((1.0 - cosine) / 2.0)
    straight = sine >= STRAIGHT
    safe = np.where(straight, 0.5, sine)
    radius = machine.corner_deviation_mm * safe / (1.0 - safe)
    shorter = np.minimum(moves.lengths[:-1], moves.lengths[1:])
    radius = np.minimum(radius, shorter / 2.0 * safe / np.sqrt(1.0 - safe**2))
    return np.where(straight, np.inf, _corner_accelerations(before, after, machine) * radius)


def _corner_accelerations(before: Floats, after: Floats, machine: Machine) -> Floats:
    """(n,) mm/s2 across each corner; where z turns too, no more than z has."""
    turn = after - before
    size = np.maximum(np.linalg.norm(turn, axis=1), 1e-300)  # a straight corner divides nothing by nothing
    with np.errstate(divide="ignore"):
        rising = machine.acceleration_z_mm_s2 / (np.abs(turn[:, 2]) / size)
    return np.asarray(np.fmin(machine.acceleration_mm_s2, rising))


def _looked_ahead(moves: _Moves, machine: Machine) -> tuple[Floats, Floats]:
    """Entry and exit speed of every move, (n,) mm/s each."""
    squares = moves.tops**2
    joints = np.minimum(_corner_squares(moves, machine), np.minimum(squares[:-1], squares[1:]))
    limits = [0.0, *joints.tolist(), 0.0]
    gains = (2.0 * moves.accelerations * moves.lengths).tolist()
    for index in range(len(gains) - 1, -1, -1):
        limits[index] = min(limits[index], limits[index + 1] + gains[index])
    for index, gain in enumerate(gains):
        limits[index + 1] = min(limits[index + 1], limits[index] + gain)
    speeds = np.sqrt(np.array(limits))
    return speeds[:-1], speeds[1:]


def _trapezoids(moves: _Moves, entry: Floats, leave: Floats) -> tuple[Floats, Floats]:
    """Peak speed (n,) mm/s and seconds (n,) of every move."""
    reachable = moves.accelerations * moves.lengths + (entry**2 + leave**2) / 2.0
    peak = np.minimum(moves.tops, np.sqrt(reachable))
    ramps = (2.0 * peak**2 - entry**2 - leave**2) / (2.0 * moves.accelerations)
    cruise = np.maximum(moves.lengths - ramps, 0.0) / peak
    return peak, (2.0 * peak - entry - leave) / moves.accelerations + cruise
