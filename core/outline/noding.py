"""Segments cut into Pieces that meet at their ends only.

1. Segments whose boxes overlap are looked at in pairs; where they meet (crossing.py) both get a cut.
2. Places within SNAP become one node; an end that a segment had before wins, to the last bit.
3. Every segment is cut at its nodes. Pieces between the same nodes that lie on one another become one
   Piece, which remembers all the segments it is part of.
4. A Piece is flattened the same way whichever way it is run, so that what coincides stays coincident.
"""

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely

from core.outline.crossing import SNAP, Meetings, meetings
from core.outline.curve import Ints, part_between, picked
from core.outline.segments import Floats, Segments

#: mm; two pieces between the same nodes are one if their middles are nearer. Ten times SNAP, because two
#: arcs that touch within SNAP part by some of it between the nodes where they cross.
SAME = 10.0 * SNAP


@dataclass(frozen=True, eq=False)
class Pieces:
    """segments (n): what is left when all cuts are made and coincident pieces are one.

    Cut row k (all in the order of their source, then along it) says: segment sources[k] of those that were
    noded runs, from fraction firsts[k] to lasts[k] of its sweep, over Piece owners[k], in its direction
    or, where is_against[k], against it. Ends of Pieces that meet are equal to the last bit.
    """

    segments: Segments
    sources: Ints
    firsts: Floats
    lasts: Floats
    owners: Ints
    is_against: np.ndarray

    def rows_of(self, source: int) -> range:
        """The cut rows of one source, in order along it."""
        bounds = self._bounds
        return range(*bounds[source : source + 2]) if source + 1 < len(bounds) else range(0)

    @cached_property  # it is asked for once for every source
    def _bounds(self) -> list[int]:
        """The first cut row of each source that has any, and one beyond the last."""
        last = int(self.sources[-1]) if len(self.sources) else -1
        return [int(row) for row in np.searchsorted(self.sources, np.arange(last + 2))]


def noded(segments: Segments) -> Pieces:
    """The segments (ends of each at least SNAP apart, or they vanish) cut where they meet one another."""
    firsts, seconds = _neighbours(segments)
    met = meetings(segments, firsts, seconds)
    places, nodes = _nodes(segments, met)
    return _merged(*_cut(segments, met, places, nodes))


def boxes(segments: Segments, margin: float) -> np.ndarray:
    """(n,) shapely boxes round the segments, bellies included, margin mm wider all round."""
    low = np.minimum(segments.starts, segments.ends)
    high = np.maximum(segments.starts, segments.ends)
    # the sagitta c / 2 |bulge| is the farthest that an arc, minor or major, gets from its chord's box
    wide = segments.chord_lengths() / 2.0 * np.abs(segments.bulges) + margin
    return np.asarray(shapely.box(low[:, 0] - wide, low[:, 1] - wide, high[:, 0] + wide, high[:, 1] + wide))


def _neighbours(segments: Segments) -> tuple[Ints, Ints]:
    around = boxes(segments, SNAP)
    rows, others = shapely.STRtree(around).query(around)
    once = rows < others
    order = np.lexsort((others[once], rows[once]))
    return rows[once][order], others[once][order]


def _nodes(segments: Segments, met: Meetings) -> tuple[Floats, Ints]:
    """Places (starts, ends, then meetings) and for each the index of the place that stands for it."""
    places = np.vstack((segments.starts, segments.ends, met.places))
    _, first_of, which = np.unique(places[:, 0] + 1j * places[:, 1], return_index=True, return_inverse=True)
    stands = _clustered(places, first_of)
    return places, stands[which]


def _clustered(places: Floats, distinct: Ints) -> Ints:
    """For each of the distinct places the earliest one within SNAP, by steps."""
    spots = np.asarray(shapely.points(places[distinct]))
    a, b = shapely.STRtree(spots).query(spots, predicate="dwithin", distance=SNAP)
    stands = distinct.copy()
    close = a < b
    pairs = np.column_stack((a[close], b[close]))
    changed = len(pairs) > 0
    while changed:
        lowest = np.minimum(stands[pairs[:, 0]], stands[pairs[:, 1]])
        before = stands.copy()
        np.minimum.at(stands, pairs[:, 0], lowest)
        np.minimum.at(stands, pairs[:, 1], lowest)
        changed = bool((before != stands).any())
    return stands


@dataclass(frozen=True, eq=False)
class _Cuts:
    """Every part of every source, before coincident ones are one."""

    sources: Ints
    firsts: Floats
    lasts: Floats
    start_nodes: Ints
    end_nodes: Ints


def _cut(segments: Segments, met: Meetings, places: Floats, nodes: Ints) -> tuple[_Cuts, Segments]:
    count = len(segments)
    index = np.arange(count)
    owner = np.concatenate((index, index, met.firsts, met.seconds))
    at = np.concatenate((np.zeros(count), np.ones(count), met.first_at, met.second_at))
    node = np.concatenate((nodes[: 2 * count], nodes[2 * count :], nodes[2 * count :]))
    at = _at_ends(at, owner, node, nodes, count)
    order = np.lexsort((node, at, owner))
    owner, at, node = owner[order], at[order], node[order]
    real = (owner[:-1] == owner[1:]) & (node[:-1] != node[1:])
    k = np.flatnonzero(real)
    cuts = _Cuts(owner[k], at[k], at[k + 1], node[k], node[k + 1])
    whole = (cuts.firsts == 0.0) & (cuts.lasts == 1.0)
    bulges = part_between(picked(segments, cuts.sources), cuts.firsts, cuts.lasts)
    bulges = np.where(whole, segments.bulges[cuts.sources], bulges)
    return cuts, Segments(places[cuts.start_nodes], places[cuts.end_nodes], bulges)


def _at_ends(at: Floats, owner: Ints, node: Ints, nodes: Ints, count: int) -> Floats:
    """A cut whose node is an end's own node lies exactly at that end."""
    is_start = (node == nodes[owner]) & (at < 0.5)
    is_end = (node == nodes[count + owner]) & (at > 0.5)
    return np.where(is_start, 0.0, np.where(is_end, 1.0, at))


def _merged(cuts: _Cuts, parts: Segments) -> Pieces:
    """Parts between the same nodes that lie on one another become one, the earliest."""
    low = np.minimum(cuts.start_nodes, cuts.end_nodes)
    high = np.maximum(cuts.start_nodes, cuts.end_nodes)
    middles = parts.midpoints()
    stands = np.arange(len(parts))
    order = np.lexsort((stands, high, low))
    same = (low[order][:-1] == low[order][1:]) & (high[order][:-1] == high[order][1:])
    for at in np.flatnonzero(same).tolist():  # rare: few parts share both nodes with another
        later = int(order[at + 1])
        back = at
        while back >= 0 and low[order[back]] == low[later] and high[order[back]] == high[later]:
            earlier = int(order[back])
            if np.hypot(*(middles[earlier] - middles[later])) <= SAME:
                stands[later] = stands[earlier]
            back -= 1
    kept, owners = np.unique(stands, return_inverse=True)
    against = cuts.start_nodes != cuts.start_nodes[stands]
    return Pieces(picked(parts, kept), cuts.sources, cuts.firsts, cuts.lasts, owners, against)


def flat_lines(segments: Segments, tolerance: float) -> list[Floats]:
    """For each segment its corners (m, 2) from start to end, within tolerance mm, ends to the last bit.

    The same segment run the other way gives the same corners in the other order.
    """
    if not len(segments):
        return []
    backward = _is_backward(segments)
    counts = segments.steps(tolerance)
    steady = Segments(
        np.where(backward[:, None], segments.ends, segments.starts),
        np.where(backward[:, None], segments.starts, segments.ends),
        np.where(backward, -segments.bulges, segments.bulges),
    )
    rows = np.repeat(np.arange(len(segments)), counts + 1)
    offsets = np.concatenate(([0], np.cumsum(counts + 1)))
    within = np.arange(rows.size) - offsets[rows]
    corners = picked(steady, rows).points_at(within / counts[rows])
    corners[offsets[:-1]], corners[offsets[1:] - 1] = steady.starts, steady.ends
    cuts = offsets.tolist()
    lines = [corners[first:last] for first, last in pairwise(cuts)]
    return [line[::-1] if turn else line for line, turn in zip(lines, backward.tolist(), strict=True)]


def _is_backward(segments: Segments) -> np.ndarray:
    (x0, y0), (x1, y1) = segments.starts.T, segments.ends.T
    return np.asarray((x0 > x1) | ((x0 == x1) & (y0 > y1)))
