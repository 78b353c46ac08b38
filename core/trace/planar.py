"""That no chain crosses itself or another: checked, and mended by falling back to the chain of cracks.

Cracks never cross, nor do polygons through their midpoints (each stays within half a px of its own cracks),
so a chain that the fit has driven across another is drawn as such a polygon instead.
"""

import numpy as np
import shapely

from core.outline.chain import Chain
from core.outline.segments import Floats
from core.trace.pieces import Run
from core.trace.together import Traced

#: px; arcs are flattened this finely to look for crossings.
FLATNESS = 0.005


def made_planar(chains: Traced, runs: tuple[Run, ...]) -> Traced:
    """The same chains, those that cross drawn through the midpoints of their cracks."""
    mended = list(chains)
    for index in sorted(crossing(tuple(chain for chain, _ in chains))):
        mended[index] = (through_cracks(mended[index][0], runs[index]), 0.5)
    return tuple(mended)


def _line(chain: Chain) -> Floats:
    return np.vstack((chain.segments().corners(FLATNESS), chain.points[-1]))


def crossing(chains: tuple[Chain, ...]) -> set[int]:
    """Indices of the chains that cross or touch themselves or another but for the nodes they share."""
    lines = np.array([shapely.LineString(_line(chain)) for chain in chains], dtype=object)
    bad = {index for index, line in enumerate(lines) if not line.is_simple}
    tree = shapely.STRtree(lines)
    one, other = tree.query(lines, predicate="intersects")
    for a, b in zip(one.tolist(), other.tolist(), strict=True):
        if a < b and not _meet_at_ends_only(lines[a], lines[b]):
            bad |= {a, b}
    return bad


def _meet_at_ends_only(one: shapely.LineString, other: shapely.LineString) -> bool:
    shared = shapely.intersection(one, other)
    return bool(shapely.difference(shared, shapely.intersection(one.boundary, other.boundary)).is_empty)


def through_cracks(chain: Chain, run: Run) -> Chain:
    """The polygon through the midpoints of the chain's cracks, its nodes kept where the fit has them."""
    middles = (run.corners[:-1] + run.corners[1:]) / 2.0
    if run.chain.is_ring:
        points = np.vstack((middles, middles[:1]))
    else:
        points = np.vstack((chain.points[:1], middles, chain.points[-1:]))
    return Chain(points, np.zeros(len(points) - 1), chain.left, chain.right)
