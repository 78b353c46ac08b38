"""The cut by the clock: where the bit is at any second, how fast it runs, and what chip it takes there.

The plot: every move of a path is broken where its speed begins or ends to change and where its chip passes
from one kind to the next; arcs are broken once more into straight pieces. On every piece the acceleration is
constant then, so that place and second follow from each other exactly (v^2 = v0^2 + 2 a s).
"""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from core.findings import Point
from core.outline.segments import Floats, Segments
from core.router.feeds import CHIP_FLOOR_MM, LEVEL_MM, chip_load_mm
from core.router.motion import NO_MOVE_MM, SECONDS_PER_MINUTE, Timing, timed
from core.router.setup import Setup
from core.router.toolpath import Ints, Motion, Toolpath

#: mm that a straight piece may miss its arc by: what is looked at, not what is cut.
FLATNESS_MM = 0.02
#: Share of the chip asked for below which it counts as thin: a quarter less is seen on the edge.
THIN_SHARE = 0.75
#: mm/s; slower than anything moves, so that a piece from rest to rest divides nothing by nothing.
STILL_MM_S = 1e-9

Kinds = NDArray[np.int8]


class Chip(IntEnum):
    """What the bit does on a piece of its way: nothing, go down, or take a chip of some thickness."""

    AIR = 0
    DOWN = 1
    RUBS = 2
    THIN = 3
    FULL = 4


@dataclass(frozen=True)
class Stand:
    """Where the bit is at a second: the piece, the place (x, y, z) mm, the speed mm/s."""

    piece: int
    at: tuple[float, float, float]
    mm_s: float


@dataclass(frozen=True, eq=False)
class Played:
    """Piece i runs straight from points[i] to points[i + 1], from seconds[i] to seconds[i + 1].

    points (n + 1, 3) mm, seconds (n + 1,) from the start, speeds (n + 1,) mm/s, moves (n,) of the path,
    kinds (n,) of Chip. Spin-up and dwells are left out.
    """

    points: Floats
    seconds: Floats
    speeds: Floats
    moves: Ints
    kinds: Kinds

    def total(self) -> float:
        """Seconds for all of it."""
        return float(self.seconds[-1])

    def stand(self, second: float) -> Stand:
        """Where the bit is, how fast and on which piece; before the start and after the end it rests."""
        if not self.moves.size:
            x, y, z = self.points[0].tolist()
            return Stand(0, (x, y, z), 0.0)
        piece = int(np.clip(np.searchsorted(self.seconds, second, "right") - 1, 0, self.moves.size - 1))
        begun, done = float(self.seconds[piece]), float(self.seconds[piece + 1])
        v0, v1 = float(self.speeds[piece]), float(self.speeds[piece + 1])
        share = min(max((second - begun) / max(done - begun, STILL_MM_S), 0.0), 1.0)
        gone = share * (2.0 * v0 + share * (v1 - v0)) / max(v0 + v1, STILL_MM_S)
        start, end = self.points[piece], self.points[piece + 1]
        x, y, z = (start + gone * (end - start)).tolist()
        return Stand(piece, (x, y, z), v0 + share * (v1 - v0))

    def second_at(self, piece: int, share: float) -> float:
        """The second at which the bit has run this share (0 to 1) of a piece."""
        begun, done = float(self.seconds[piece]), float(self.seconds[piece + 1])
        v0, v1 = float(self.speeds[piece]), float(self.speeds[piece + 1])
        here = float(np.sqrt(v0**2 + share * (v1**2 - v0**2)))
        return begun + share * (done - begun) * (v0 + v1) / max(v0 + here, STILL_MM_S)

    def seconds_near(self, point: Point, reach_mm: float) -> tuple[float, ...]:
        """The seconds, rising, at which the bit cuts nearest to a point of the frame: one for each pass."""
        cuts = np.flatnonzero(self.kinds != Chip.AIR)
        if not cuts.size:
            return ()
        starts, spans = self.points[cuts, :2], self.points[cuts + 1, :2] - self.points[cuts, :2]
        squares = np.maximum((spans**2).sum(axis=1), NO_MOVE_MM**2)
        shares = np.clip(((np.array(point) - starts) * spans).sum(axis=1) / squares, 0.0, 1.0)
        gaps = np.hypot(*(starts + shares[:, None] * spans - np.array(point)).T)
        near = np.flatnonzero(gaps <= reach_mm)
        if not near.size:
            return ()
        apart = np.flatnonzero(np.diff(cuts[near]) > 1) + 1
        passes = (run[int(np.argmin(gaps[run]))] for run in np.split(near, apart))
        return tuple(self.second_at(int(cuts[index]), float(shares[index])) for index in passes)


def played(toolpath: Toolpath, setup: Setup) -> Played:
    """The path by the machine's accelerations, in the order of the program."""
    rapid = toolpath.motions == Motion.RAPID
    path = (toolpath.starts(), toolpath.ends, toolpath.bulges, toolpath.feeds, rapid)
    timing = timed(*path, setup.machine)
    asked = chip_load_mm(setup.cutting, setup.bit.flutes)
    per_mm = setup.cutting.spindle_rpm * setup.bit.flutes / SECONDS_PER_MINUTE  # mm/s of a chip of 1 mm
    edges = np.array([CHIP_FLOOR_MM, max(THIN_SHARE * asked, CHIP_FLOOR_MM)]) * per_mm
    moves, first, last = _broken(timing, _steps(toolpath), edges)
    speeds = _speeds(timing, moves, first, last)
    seconds = 2.0 * (last - first) / np.maximum(speeds.sum(axis=0), STILL_MM_S)
    return Played(
        np.vstack((toolpath.start[None, :], _places(toolpath, moves, last / timing.lengths[moves]))),
        np.concatenate(([0.0], np.cumsum(seconds))),
        np.concatenate((speeds[0], speeds[1, -1:])),
        moves,
        _kinds(toolpath, setup, moves, (last - first) / np.maximum(seconds, STILL_MM_S), edges),
    )


def _steps(toolpath: Toolpath) -> Ints:
    """(n,) straight pieces that each move is looked at as."""
    flat = Segments(toolpath.starts()[:, :2], toolpath.ends[:, :2], toolpath.bulges)
    return np.asarray(np.where(toolpath.bulges == 0.0, 1, flat.steps(FLATNESS_MM)), dtype=np.int64)


def _broken(timing: Timing, steps: Ints, edges: Floats) -> tuple[Ints, Floats, Floats]:
    """Pieces in order: the move of each (m,), its first and last mm on that move (m,)."""
    real = np.flatnonzero(timing.lengths > NO_MOVE_MM)
    v0, top, v1 = timing.entry[real], timing.peak[real], timing.exit[real]
    spans, twice = timing.lengths[real], 2.0 * timing.accelerations[real]
    at = [np.zeros_like(spans), spans, (top**2 - v0**2) / twice, spans - (top**2 - v1**2) / twice]
    for edge in edges.tolist():
        at.append(np.where((v0 < edge) & (edge < top), (edge**2 - v0**2) / twice, 0.0))
        at.append(np.where((v1 < edge) & (edge < top), spans - (edge**2 - v1**2) / twice, spans))
    marks = np.sort(np.clip(np.column_stack(at), 0.0, spans[:, None]), axis=1)
    rows, columns = np.nonzero(np.diff(marks, axis=1) > NO_MOVE_MM)
    first, last = marks[rows, columns], marks[rows, columns + 1]
    counts = np.ceil((last - first) / spans[rows] * steps[real][rows]).astype(np.int64)
    index = np.repeat(np.arange(rows.size), counts)
    number = np.arange(index.size) - np.repeat(np.cumsum(counts) - counts, counts)
    width = ((last - first) / counts)[index]
    begun = first[index] + number * width
    return real[rows][index], begun, begun + width


def _speeds(timing: Timing, moves: Ints, first: Floats, last: Floats) -> Floats:
    """(2, m) mm/s where each piece begins and ends."""
    twice, spans = 2.0 * timing.accelerations[moves], timing.lengths[moves]
    at = np.stack((first, last))
    gained = np.sqrt(timing.entry[moves] ** 2 + twice * at)
    left = np.sqrt(timing.exit[moves] ** 2 + twice * np.maximum(spans - at, 0.0))
    return np.asarray(np.minimum(np.minimum(gained, left), timing.peak[moves]))


def _places(toolpath: Toolpath, moves: Ints, shares: Floats) -> Floats:
    """(m, 3) mm: where the bit is when it has run a share of each move."""
    starts, ends = toolpath.starts()[moves], toolpath.ends[moves]
    flat = Segments(starts[:, :2], ends[:, :2], toolpath.bulges[moves]).points_at(shares)
    return np.column_stack((flat, starts[:, 2] + shares * (ends[:, 2] - starts[:, 2])))


def _kinds(toolpath: Toolpath, setup: Setup, moves: Ints, mean: Floats, edges: Floats) -> Kinds:
    starts, ends = toolpath.starts()[:, 2], toolpath.ends[:, 2]
    is_cut = (toolpath.motions != Motion.RAPID) & (np.minimum(starts, ends) < setup.top_z)
    kinds = Chip.RUBS + (mean >= edges[0]).astype(np.int8) + (mean >= edges[1]).astype(np.int8)
    kinds = np.where((ends - starts < -LEVEL_MM)[moves], Chip.DOWN, kinds)
    return np.asarray(np.where(is_cut[moves], kinds, Chip.AIR), dtype=np.int8)
