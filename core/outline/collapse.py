"""Pieces shorter than a hair taken out, their ends made one node.

Where two curves touch, the places at which they cross are known no better than the square root of SNAP over
their curvature: between such places lie crumbs whose order round a node rounding decides. Without them the
order is plain. An end that a source had before stays where it is.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.curve import Ints, picked
from core.outline.noding import Pieces
from core.outline.segments import Floats, Segments


def collapsed(pieces: Pieces, sources: Segments, hair: float) -> Pieces:
    """The Pieces without those whose ends are at most a hair apart; two nearer than a hair become one."""
    ends = _Ends.of(pieces, sources, hair)
    alive = ends.starts != ends.ends
    kept = _without(pieces, alive[pieces.owners])
    segments = Segments(ends.places[ends.starts], ends.places[ends.ends], pieces.segments.bulges)
    stands, against = _one_of_each(segments, ends, alive, hair)
    left = np.unique(stands[alive])
    owners = np.searchsorted(left, stands[kept.owners])
    turned = kept.is_against ^ against[kept.owners]
    return Pieces(picked(segments, left), kept.sources, kept.firsts, kept.lasts, owners, turned)


@dataclass(frozen=True, eq=False)
class _Ends:
    """starts and ends (n,) of the Pieces as indices of places (m, 2)."""

    starts: Ints
    ends: Ints
    places: Floats

    @classmethod
    def of(cls, pieces: Pieces, sources: Segments, hair: float) -> "_Ends":
        """Nodes of short Pieces put together; the one that was an end of a source stands for them."""
        both = np.vstack((pieces.segments.starts, pieces.segments.ends))
        keys, first, which = np.unique(_keys(both), return_index=True, return_inverse=True)
        known = np.isin(keys, _keys(np.vstack((sources.starts, sources.ends))))
        rank = np.empty(len(keys), dtype=np.int64)
        rank[np.lexsort((np.arange(len(keys)), ~known))] = np.arange(len(keys))
        count = len(pieces.segments)
        tails, heads = rank[which[:count]], rank[which[count:]]
        short = np.flatnonzero(pieces.segments.chord_lengths() <= hair)
        lead = _led(len(keys), tails[short], heads[short])
        places = np.empty((len(keys), 2))
        places[rank] = both[first]
        return cls(lead[tails], lead[heads], places)


def _keys(points: Floats) -> np.ndarray:
    return np.asarray(points[:, 0] + 1j * points[:, 1])


def _led(count: int, tails: Ints, heads: Ints) -> Ints:
    """(count,) the lowest node that each hangs together with."""
    lead = np.arange(count)
    before = np.empty(0, dtype=np.int64)
    while not np.array_equal(lead, before):
        before = lead.copy()
        low = np.minimum(lead[tails], lead[heads])
        np.minimum.at(lead, tails, low)
        np.minimum.at(lead, heads, low)
        lead = lead[lead]
    return lead


def _without(pieces: Pieces, alive: np.ndarray) -> Pieces:
    """The rows that are alive; each reaches over dead ones beside it on its source."""
    firsts, lasts = pieces.firsts.copy(), pieces.lasts.copy()
    rows = np.flatnonzero(alive)
    for row, following in zip(rows.tolist(), [*rows[1:].tolist(), len(alive)], strict=True):
        same = following < len(alive) and pieces.sources[following] == pieces.sources[row]
        lasts[row] = pieces.firsts[following] if same else 1.0
    before = np.concatenate(([-1], pieces.sources[rows][:-1])) if len(rows) else rows
    firsts[rows[before != pieces.sources[rows]]] = 0.0
    return Pieces(
        pieces.segments,
        pieces.sources[rows],
        firsts[rows],
        lasts[rows],
        pieces.owners[rows],
        pieces.is_against[rows],
    )


def _one_of_each(segments: Segments, ends: _Ends, alive: np.ndarray, hair: float) -> tuple[Ints, np.ndarray]:
    """(n,) the Piece that stands for each, and whether it runs the other way."""
    stands, against = np.arange(len(segments)), np.zeros(len(segments), dtype=np.bool_)
    middles = segments.midpoints()
    between: dict[tuple[int, int], list[int]] = {}
    for piece in np.flatnonzero(alive).tolist():
        tail, head = int(ends.starts[piece]), int(ends.ends[piece])
        others = between.setdefault((min(tail, head), max(tail, head)), [])
        near = [one for one in others if np.hypot(*(middles[one] - middles[piece])) <= hair]
        if near:
            stands[piece], against[piece] = near[0], ends.starts[near[0]] != tail
        else:
            others.append(piece)
    return stands, against
