"""Spans: a ring of flattened corners told as a row of Pieces, each from where to where.

A Span that covers only some of its Piece, though the ring comes by the Piece's end nearby, swallows what
lies between: there the chords crossed, not the arcs.
"""

from dataclasses import dataclass, replace

import numpy as np

from core.outline.curve import Ints, distances_between, picked
from core.outline.segments import Floats
from core.outline.weave import FLAT, LOOSE, Weave

#: Spans between a partial one and the end of its Piece that are looked through: chords of two arcs that
#: part slowly cross a few times at most.
LOOK_BACK = 8
#: mm; what is swallowed lies nearer to the Piece than this: two flattenings, either side, and the gap.
SWALLOWED = 4.0 * FLAT


@dataclass(frozen=True)
class Span:
    """A Piece, whether it is run against its direction, and the corners where the ring joins and leaves."""

    piece: int
    is_against: bool
    start: int
    end: int


@dataclass(frozen=True, eq=False)
class Ring:
    """A ring of shapely: corners (n + 1, 2) mm and the index of each in the Weave, -1 - k for a new one."""

    corners: Floats
    ids: Ints
    weave: Weave

    @classmethod
    def of(cls, corners: Floats, weave: Weave) -> "Ring":
        """With new corners numbered by their first place in the ring."""
        ids = weave.corner_ids(corners)
        ids = np.where(ids < 0, -1 - np.arange(len(ids)), ids)
        ids[-1] = ids[0]
        return cls(corners, ids, weave)

    def place(self, corner: int) -> Floats:
        """(2,) mm."""
        if corner < 0:
            return np.asarray(self.corners[-1 - corner])
        key = self.weave.corners[corner]
        return np.array([key.real, key.imag])


def spans_of(ring: Ring) -> list[Span]:
    """The ring as Spans, from a change of Piece on; none if all of it is one Piece, which cannot close."""
    piece, against = ring.weave.pieces_of(ring.corners, ring.ids)
    changes = np.flatnonzero((piece != _before(piece)) | (against != _before(against)))
    if len(changes) < 2:
        return []
    starts, ends = ring.ids[changes], ring.ids[np.append(changes[1:], changes[:1])]
    rows = zip(
        piece[changes].tolist(), against[changes].tolist(), starts.tolist(), ends.tolist(), strict=True
    )
    return [Span(*row) for row in rows]


def _before(values: np.ndarray) -> np.ndarray:
    """The value before each, the last before the first."""
    return np.concatenate((values[-1:], values[:-1]))


def piece_start(span: Span, weave: Weave) -> int:
    """The corner where the Piece begins, the way it is run."""
    return int((weave.ends if span.is_against else weave.starts)[span.piece])


def piece_end(span: Span, weave: Weave) -> int:
    """The corner where the Piece ends, the way it is run."""
    return int((weave.starts if span.is_against else weave.ends)[span.piece])


def is_whole(span: Span, weave: Weave) -> bool:
    """Whether it covers all of its Piece; a loose one never does."""
    if span.piece == LOOSE:
        return False
    return span.start == piece_start(span, weave) and span.end == piece_end(span, weave)


def mended(spans: list[Span], ring: Ring) -> list[Span]:
    """The Spans, partial ones made whole where the ring allows, loose ones left out."""
    at = 0
    while at < len(spans):
        done = spans[at].piece == LOOSE or is_whole(spans[at], ring.weave)
        swallowed = None if done else _grown(spans, at, ring)
        if swallowed is None:
            at += 1
        else:
            spans, at = swallowed, 0
    return [span for span in spans if span.piece != LOOSE]


def _grown(spans: list[Span], at: int, ring: Ring) -> list[Span] | None:
    """The row with Span at grown over its neighbours, or None if it cannot be."""
    turned = spans[at:] + spans[:at]
    for count in range(1, min(LOOK_BACK, len(spans) - 1) + 1):
        before, after = turned[-count:], turned[1 : count + 1]
        if _begins(before[0], turned[0], ring) and _are_close(before, turned[0], ring):
            return [replace(turned[0], start=before[0].start), *turned[1:-count]]
        if _finishes(after[-1], turned[0], ring) and _are_close(after, turned[0], ring):
            return [replace(turned[0], end=after[-1].end), *turned[count + 1 :]]
    return None


def _begins(other: Span, span: Span, ring: Ring) -> bool:
    start = piece_start(span, ring.weave)
    return span.start != start and (other.start == start or _continues(other, span))


def _finishes(other: Span, span: Span, ring: Ring) -> bool:
    end = piece_end(span, ring.weave)
    return span.end != end and (other.end == end or _continues(other, span))


def _continues(other: Span, span: Span) -> bool:
    return other.piece == span.piece and other.is_against == span.is_against


def _are_close(others: list[Span], span: Span, ring: Ring) -> bool:
    """Whether the ring along the others keeps near the Piece of span."""
    corners = [ring.place(corner) for other in others for corner in (other.start, other.end)]
    rows = np.array([other.piece for other in others if is_whole(other, ring.weave)], dtype=np.int64)
    middles = picked(ring.weave.cloth.pieces.segments, rows).midpoints()
    points = np.vstack([*corners, middles])
    along = picked(ring.weave.cloth.pieces.segments, np.full(len(points), span.piece))
    return bool((distances_between(along, points) <= SWALLOWED).all())
