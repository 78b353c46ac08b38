"""Lines and arcs that meet at their ends only, as a map: which cycle of edges lies to either side of each.

1. Every Piece (noding.py) is two half-edges, one each way: 2 k along Piece k, 2 k + 1 against it.
2. Round each node the half-edges that leave it are put in order of their direction. Pieces tangent to one
   another part only further on, so all are looked at the same short way from the node.
3. At the head of a half-edge the next one round the same face is the first to the right of the way back;
   what follows from that are cycles, each with one face to its left.
4. Pieces that hang together are a component; the cycle round its outside has a negative area. The face
   that the component lies in is found by a ray from its farthest point, in a direction that nobody draws in.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.crossing import meetings
from core.outline.curve import Ints, joined, picked
from core.outline.segments import Floats, Segments

#: rad; the rays' direction. Art is full of level, upright and slanting edges of simple angles; a ray along
#: one would meet ends instead of edges. No other property of the number is used.
RAY = 0.73205

#: The cycle beyond everything.
NOWHERE = -1

#: Share of the shortest Piece at a node at which directions are compared.
REACH = 0.5


@dataclass(frozen=True, eq=False)
class Arrangement:
    """pieces (n); cycles (2 n,) the cycle to the left of each half-edge; components (n,) of each Piece.

    around (components,) is the cycle round each component's outside, home (components,) the cycle of
    another component that it lies in, or NOWHERE.
    """

    pieces: Segments
    nodes: Ints
    cycles: Ints
    components: Ints
    around: Ints
    home: Ints


def arranged(pieces: Segments) -> Arrangement:
    """The map of Pieces, at least one, whose ends are equal to the last bit where they meet."""
    nodes = _nodes_of(pieces)
    cycles = _cycles(_next(pieces, nodes))
    components = _components(nodes)
    around = _around(pieces, cycles, components)
    turned = _turned(pieces)
    home = np.array([_home(turned, cycles, components, one) for one in range(len(around))], dtype=np.int64)
    return Arrangement(pieces, nodes, cycles, components, around, home)


def _nodes_of(pieces: Segments) -> Ints:
    """(2 n,) the node that each half-edge leaves."""
    ends = np.column_stack((pieces.starts, pieces.ends)).reshape(-1, 2)
    keys = ends[:, 0] + 1j * ends[:, 1]
    return np.asarray(np.unique(keys, return_inverse=True)[1], dtype=np.int64)


def _next(pieces: Segments, nodes: Ints) -> Ints:
    """(2 n,) the half-edge that follows each one round the face to its left."""
    order = np.lexsort((_directions(pieces, nodes), nodes))
    first = np.searchsorted(nodes[order], nodes[order])
    place = np.arange(len(order))
    last = np.searchsorted(nodes[order], nodes[order], side="right") - 1
    right = np.empty(len(order), dtype=np.int64)  # the neighbour clockwise round the node
    right[order] = order[np.where(place == first, last, place - 1)]
    return np.asarray(right[np.arange(len(order)) ^ 1])


def _directions(pieces: Segments, nodes: Ints) -> Floats:
    """(2 n,) rad: where each half-edge has got to, a short way from its node."""
    rows = np.arange(2 * len(pieces)) // 2
    lengths = pieces.lengths()[rows]
    reach = np.full(int(nodes.max()) + 1, np.inf)
    np.minimum.at(reach, nodes, lengths)
    share = REACH * reach[nodes] / lengths
    share[1::2] = 1.0 - share[1::2]
    starts = np.column_stack((pieces.starts, pieces.ends)).reshape(-1, 2)
    way = picked(pieces, rows).points_at(share) - starts
    return np.asarray(np.arctan2(way[:, 1], way[:, 0]))


def _cycles(following: Ints) -> Ints:
    """(2 n,) the cycle of each half-edge, numbered as they come."""
    cycles = [NOWHERE] * len(following)
    after = following.tolist()
    count = 0
    for first in range(len(after)):
        if cycles[first] != NOWHERE:
            continue
        step = first
        while cycles[step] == NOWHERE:
            cycles[step] = count
            step = after[step]
        count += 1
    return np.array(cycles, dtype=np.int64)


def _components(nodes: Ints) -> Ints:
    """(n,) the component of each Piece: what hangs together by nodes, numbered as they come."""
    tails, heads = nodes[0::2], nodes[1::2]
    lead = np.arange(int(nodes.max()) + 1)
    while True:
        low = np.minimum(lead[tails], lead[heads])
        before = lead.copy()
        np.minimum.at(lead, tails, low)
        np.minimum.at(lead, heads, low)
        lead = lead[lead]
        if (lead == before).all():
            break
    return np.asarray(np.unique(lead[tails], return_inverse=True)[1], dtype=np.int64)


def cycle_areas(pieces: Segments, cycles: Ints) -> Floats:
    """(cycles,) signed area swept by each cycle: positive where its face lies within it."""
    origin = pieces.starts[0]
    a, b = pieces.starts - origin, pieces.ends - origin
    swept = (a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]) / 2.0 + pieces.cap_areas()
    areas = np.zeros(int(cycles.max()) + 1)
    np.add.at(areas, cycles[0::2], swept)
    np.subtract.at(areas, cycles[1::2], swept)
    return areas


def _around(pieces: Segments, cycles: Ints, components: Ints) -> Ints:
    """(components,) the cycle of least area, which runs round the outside."""
    areas = cycle_areas(pieces, cycles)
    owner = np.zeros(len(areas), dtype=np.int64)
    owner[cycles] = np.repeat(components, 2)
    order = np.lexsort((areas, owner))
    return order[np.searchsorted(owner[order], np.arange(int(components.max()) + 1))]


def _turned(pieces: Segments) -> Segments:
    """The Pieces turned so that rays run to +x."""
    cos, sin = np.cos(RAY), np.sin(RAY)
    turn = np.array([[cos, sin], [-sin, cos]])
    return Segments(pieces.starts @ turn, pieces.ends @ turn, pieces.bulges)


def _home(turned: Segments, cycles: Ints, components: Ints, one: int) -> int:
    """The cycle that faces the farthest point of a component, along the ray that leaves it there."""
    own = components == one
    mine = picked(turned, np.flatnonzero(own))
    tips = np.vstack((mine.starts, mine.ends, mine.turning_points()))
    x, y = tips[int(tips[:, 0].argmax())].tolist()
    low = np.minimum(turned.starts[:, 1], turned.ends[:, 1])
    high = np.maximum(turned.starts[:, 1], turned.ends[:, 1])
    belly = turned.chord_lengths() * np.abs(turned.bulges) / 2.0
    right = np.maximum(turned.starts[:, 0], turned.ends[:, 0]) + belly
    crossed = np.flatnonzero(~own & (low - belly <= y) & (high + belly >= y) & (right > x))
    if not len(crossed):
        return NOWHERE
    far = float(right[crossed].max()) + 1.0
    ray = Segments(np.array([[x, y]]), np.array([[far, y]]), np.zeros(1))
    rows = np.arange(1, len(crossed) + 1)
    met = meetings(joined([ray, picked(turned, crossed)]), 0 * rows, rows)
    if not len(met.firsts):
        return NOWHERE
    nearest = int(met.places[:, 0].argmin())
    piece = int(crossed[met.seconds[nearest] - 1])
    heading = picked(turned, np.array([piece])).headings_at(met.second_at[nearest : nearest + 1])
    return int(cycles[2 * piece + (0 if np.sin(heading[0]) > 0.0 else 1)])
