"""From strand to strand: straight up, across at the safe height, down by feed, never otherwise."""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.router.setup import Setup
from core.router.strand import Strand
from core.router.toolpath import Ints, Motion, Operation, Toolpath
from core.router.unrolled import SHORTEST_MM

#: The first descent after the spindle starts: its last SLOW_MM are fed at SLOW_FEED, which gives any
#: spindle five seconds to spin up even where a dwell is misread (bench practice, no source).
SLOW_MM, SLOW_FEED_MM_MIN = 10.0, 120.0


@dataclass(frozen=True, eq=False)
class _Piece:
    """Moves of one operation: ends (n, 3), bulges, motions, feeds and sides (n,)."""

    name: str
    ends: Floats
    bulges: Floats
    motions: Ints
    feeds: Floats
    sides: Ints


def linked(strands: tuple[Strand, ...], setup: Setup) -> Toolpath:
    """One path through all strands, from above the work zero to the safe height over the last cut."""
    zero = setup.layout.zero_at
    start = np.array([zero[0], zero[1], setup.safe_z])
    pieces: list[_Piece] = []
    here = start
    for strand in strands:
        if np.linalg.norm(strand.points[0] - here) >= SHORTEST_MM:
            pieces.append(_across(strand, here, setup, is_first=not pieces))
        pieces.append(_fed(strand))
        here = strand.points[-1]
    if pieces:
        pieces.append(_rapids(pieces[-1].name, [_raised(here, setup)]))
    return _joined(start, pieces)


def _raised(place: Floats, setup: Setup) -> Floats:
    return np.array([place[0], place[1], setup.safe_z])


def _across(strand: Strand, here: Floats, setup: Setup, *, is_first: bool) -> _Piece:
    """From here to where the strand begins."""
    target = strand.points[0]
    rapids = _rapids(strand.name, [_raised(here, setup), _raised(target, setup)])
    heights = [target[2]]
    feeds = [setup.cutting.feed_mm_min]
    if is_first:
        heights = [max(target[2], min(setup.safe_z, target[2] + SLOW_MM)), target[2]]
        feeds = [setup.cutting.feed_mm_min, min(SLOW_FEED_MM_MIN, setup.cutting.feed_mm_min)]
    ends = np.array([[target[0], target[1], z] for z in heights])
    motions = np.full(len(ends), int(Motion.FEED))
    down = _Piece(strand.name, ends, np.zeros(len(ends)), motions, np.array(feeds), _nowhere(len(ends)))
    return _stacked(strand.name, (rapids, down))


def _rapids(name: str, ends: list[Floats]) -> _Piece:
    count = len(ends)
    motions = np.full(count, int(Motion.RAPID))
    return _Piece(name, np.vstack(ends), np.zeros(count), motions, np.zeros(count), _nowhere(count))


def _nowhere(count: int) -> Ints:
    return np.zeros(count, dtype=np.int64)


def _fed(strand: Strand) -> _Piece:
    motions = np.full(strand.bulges.size, int(Motion.FEED))
    sides = np.full(strand.bulges.size, strand.side)
    return _Piece(strand.name, strand.points[1:], strand.bulges, motions, strand.feeds, sides)


def _stacked(name: str, pieces: tuple[_Piece, ...]) -> _Piece:
    return _Piece(
        name,
        np.vstack([piece.ends for piece in pieces]),
        np.concatenate([piece.bulges for piece in pieces]),
        np.concatenate([piece.motions for piece in pieces]),
        np.concatenate([piece.feeds for piece in pieces]),
        np.concatenate([piece.sides for piece in pieces]),
    )


def _joined(start: Floats, pieces: list[_Piece]) -> Toolpath:
    """The Toolpath of all pieces, moves too short to be any left out."""
    names = tuple(dict.fromkeys(piece.name for piece in pieces))
    if not pieces:
        none = np.empty(0, dtype=np.int64)
        return Toolpath(start, np.empty((0, 3)), np.empty(0), none, np.empty(0), none, ())
    whole = _stacked("", tuple(pieces))
    marks = np.concatenate([np.full(len(piece.ends), names.index(piece.name)) for piece in pieces])
    steps = np.diff(np.vstack((start[None, :], whole.ends)), axis=0)
    real = np.linalg.norm(steps, axis=1) >= SHORTEST_MM / 2.0
    return Toolpath(
        start,
        whole.ends[real],
        whole.bulges[real],
        whole.motions[real],
        whole.feeds[real],
        marks[real],
        tuple(Operation(name) for name in names),
        whole.sides[real],
    )
