"""How far two sets of lines lie from each other, both ways: what a pen drew against what it should draw."""

from collections.abc import Sequence
from math import inf

import numpy as np
from numpy.typing import NDArray

from core.proof.edges import SPACING, EdgeDistance
from core.proof.near import nearest_among

Points = NDArray[np.float64]

#: mm; lines that lie farther apart than this are not the same, however far it is: twice what is allowed.
FARTHEST = 0.1


def closed(ring: Points) -> Points:
    """The corners (n, 2) of a ring as a line (n + 1, 2) that ends where it began."""
    return np.vstack((ring, ring[:1]))


def lines_distance(one: Sequence[Points], other: Sequence[Points]) -> EdgeDistance:
    """Both ways along all lines, each (n, 2) mm; infinite where one has a place the other is not near."""
    if not one and not other:
        return EdgeDistance(0.0, 0.0, None)
    if not one or not other:
        return EdgeDistance(inf, inf, None)
    ways = [_pieces(one), _pieces(other)]
    places = [_places(*pieces) for pieces in ways]
    gaps = [nearest_among(places[i][0], *ways[1 - i], FARTHEST) for i in (0, 1)]
    points, weights = (np.concatenate([place[k] for place in places]) for k in (0, 1))
    gap = np.concatenate(gaps)
    worst = int(gap.argmax())
    rms = float(np.sqrt(np.average(gap**2, weights=weights))) if np.isfinite(gap).all() else inf
    return EdgeDistance(rms, float(gap[worst]), (float(points[worst, 0]), float(points[worst, 1])))


def _pieces(lines: Sequence[Points]) -> tuple[Points, Points]:
    """Starts and ends (m, 2) of all straight pieces."""
    return np.vstack([line[:-1] for line in lines]), np.vstack([line[1:] for line in lines])


def _places(starts: Points, ends: Points) -> tuple[Points, Points]:
    """(k, 2) places along the pieces, no further apart than SPACING, and the length each stands for."""
    lengths = np.hypot(*(ends - starts).T)
    counts = np.maximum(np.ceil(lengths / SPACING), 1).astype(np.int64)
    rows = np.repeat(np.arange(len(counts)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    share = (within / counts[rows])[:, None]
    return starts[rows] * (1 - share) + ends[rows] * share, (lengths / counts)[rows]
