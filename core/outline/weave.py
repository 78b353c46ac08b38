"""Flattened Pieces whose corners and edges can be looked up: which Piece does an edge of a ring belong to.

Every corner of a flattened Piece is known to the last bit, so an edge that joins two neighbouring ones says
which Piece it is part of and which way that is run. An edge with a new corner (two arcs nearer than the
flattening tolerance seem to cross) is part of the Piece on whose chord it lies, or LOOSE.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from core.outline.curve import Flags, Ints, fractions_of, picked
from core.outline.noding import Pieces, flat_lines
from core.outline.segments import Floats, Segments

#: mm; how finely arcs are flattened, a fifteenth of what a part may be off; finer only makes more corners.
#: What is thinner than this is dropped; the exact curves decide all else.
FLAT = 3e-4
#: the Piece of an edge that is part of none: a seam between two bands that rounding has opened
LOOSE = -1
#: mm; what shapely leaves of a chord that it cuts lies this near to it, by rounding.
ON_CHORD = 1e-9


@dataclass(frozen=True, eq=False)
class Cloth:
    """Sources, the Pieces they were cut into, and the corners of each flattened Piece."""

    sources: Segments
    pieces: Pieces
    lines: list[Floats]

    @classmethod
    def of(cls, sources: Segments, pieces: Pieces) -> "Cloth":
        """With arcs flattened within FLAT."""
        return cls(sources, pieces, flat_lines(pieces.segments, FLAT))

    def way(self, source: int) -> Floats:
        """(m, 2) mm: the corners along one source, from its start to its end."""
        owners, against = self._runs
        ways = [
            self.lines[owners[row]][::-1] if against[row] else self.lines[owners[row]]
            for row in self.pieces.rows_of(source)
        ]
        if not ways:
            return self.sources.starts[source : source + 1]
        if len(ways) == 1:
            return ways[0]
        return np.concatenate([*(way[:-1] for way in ways), ways[-1][-1:]])

    @cached_property  # plain lists: single rows are asked for, source by source
    def _runs(self) -> tuple[list[int], list[bool]]:
        return self.pieces.owners.tolist(), self.pieces.is_against.tolist()

    @cached_property  # all that is made of one cloth is knitted by the same
    def weave(self) -> "Weave":
        """The corners and edges of its Pieces."""
        return Weave(self)


class Weave:
    """The corners and edges of all flattened Pieces, ready to be looked up."""

    def __init__(self, cloth: Cloth) -> None:
        self.cloth = cloth
        lines = cloth.lines
        flat = np.concatenate(lines)
        self.corners, ids = np.unique(_keys(flat), return_inverse=True)
        sizes = np.array([len(line) for line in lines])
        last = np.cumsum(sizes) - 1
        self.starts, self.ends = ids[last - sizes + 1], ids[last]
        inner = np.ones(len(flat), dtype=np.bool_)
        inner[last] = False
        k = np.flatnonzero(inner)
        piece = np.repeat(np.arange(len(lines)), sizes)[k]
        ahead, back = self._edge(ids[k], ids[k + 1]), self._edge(ids[k + 1], ids[k])
        edges = np.concatenate((ahead, back))
        order = np.argsort(edges, kind="stable")
        self.edges = edges[order]
        self.edge_pieces = np.concatenate((piece, piece))[order]
        self.edge_against = (np.arange(2 * len(k)) >= len(k))[order]
        self._rows = np.argsort(cloth.pieces.owners, kind="stable")
        self._first_rows = np.searchsorted(cloth.pieces.owners[self._rows], np.arange(len(lines) + 1))
        self._tree: shapely.STRtree | None = None

    def rows_of(self, piece: int) -> list[int]:
        """The cut rows (noding.py) of the sources that share a Piece."""
        low, high = self._first_rows[piece : piece + 2].tolist()
        return [int(row) for row in self._rows[low:high]]

    def _edge(self, a: Ints, b: Ints) -> Ints:
        return np.asarray(a * len(self.corners) + b)

    def corner_ids(self, points: Floats) -> Ints:
        """(n,) index of each of points (n, 2) among the corners, or -1 for a new one."""
        keys = _keys(points)
        at = np.minimum(np.searchsorted(self.corners, keys), len(self.corners) - 1)
        return np.where(self.corners[at] == keys, at, -1)

    def pieces_of(self, ring: Floats, ids: Ints) -> tuple[Ints, Flags]:
        """For each edge of a ring (n + 1, 2) its Piece, or LOOSE, and whether it is run against."""
        a, b = ids[:-1], ids[1:]
        edges = self._edge(a, b)
        at = np.minimum(np.searchsorted(self.edges, edges), len(self.edges) - 1)
        known = (self.edges[at] == edges) & (a >= 0) & (b >= 0)
        piece, against = self.edge_pieces[at].copy(), self.edge_against[at].copy()
        lost = np.flatnonzero(~known)
        if len(lost):
            piece[lost], against[lost] = self._nearest(ring[lost], ring[lost + 1])
        return piece, against

    def _nearest(self, starts: Floats, ends: Floats) -> tuple[Ints, Flags]:
        if self._tree is None:
            sizes = [len(line) for line in self.cloth.lines]
            rows = np.repeat(np.arange(len(sizes)), sizes)
            lines = shapely.linestrings(np.concatenate(self.cloth.lines), indices=rows)
            self._tree = shapely.STRtree(np.asarray(lines))
        middles = (starts + ends) / 2.0
        (rows, found), gaps = self._tree.query_nearest(
            np.asarray(shapely.points(middles)), all_matches=False, return_distance=True
        )
        piece = np.empty(len(middles), dtype=np.int64)
        piece[rows] = found
        along = picked(self.cloth.pieces.segments, piece)
        against = fractions_of(along, ends) < fractions_of(along, starts)
        piece[rows[gaps > ON_CHORD]] = LOOSE
        return piece, against & (piece != LOOSE)


def _keys(points: Floats) -> np.ndarray:
    return np.asarray(points[:, 0] + 1j * points[:, 1])
