"""That no chain crosses itself or another: checked, and mended by falling back to the chain of cracks.

Cracks never cross, nor do polygons through their midpoints (each stays within half a px of its own cracks),
so a chain that the fit has driven across another, or turned inside out, is drawn as such a polygon instead.
Where even that crosses something, because the fit has moved a node, the node goes back to its lattice corner
and all chains that meet there become polygons. Each round makes more of them so; the last would make all.
"""

from dataclasses import dataclass, field

import numpy as np
import shapely

from core.outline.chain import Chain
from core.outline.segments import Floats
from core.trace.pieces import Run
from core.trace.together import Traced

#: px; arcs are flattened this finely to look for crossings.
FLATNESS = 0.005

#: px; standard deviation of a polygon through midpoints of cracks, at worst.
CRUDE = 0.5


#: px by which a chain may leave the box round its cracks; a sharp tip that blur has rounded off needs most.
STRAY = 8.0


@dataclass(eq=False)
class Mending:
    """Which chains are polygons by now, and which nodes are back on the lattice."""

    chains: Traced
    runs: tuple[Run, ...]
    polygons: set[int] = field(default_factory=set)
    lattice: set[int] = field(default_factory=set)

    def mend(self, crossed: set[int]) -> bool:
        """One more step for every chain that crosses something; whether there was one left to take."""
        before = len(self.polygons) + len(self.lattice)
        for index in sorted(crossed & self.polygons):
            self.lattice |= self._nodes(index)
        self.polygons |= crossed
        self.polygons |= {at for at in range(len(self.runs)) if not self._nodes(at).isdisjoint(self.lattice)}
        return len(self.polygons) + len(self.lattice) > before

    def _nodes(self, index: int) -> set[int]:
        chain = self.runs[index].chain
        return set() if chain.is_ring else {chain.tail, chain.head}

    def mended(self) -> Traced:
        """All chains as they are by now."""
        return tuple(
            (self._polygon(index), CRUDE) if index in self.polygons else self.chains[index]
            for index in range(len(self.chains))
        )

    def _polygon(self, index: int) -> Chain:
        run, chain = self.runs[index], self.chains[index][0]
        middles = (run.corners[:-1] + run.corners[1:]) / 2.0
        if run.chain.is_ring:
            points = np.vstack((middles, middles[:1]))
        else:
            tail = run.corners[0] if run.chain.tail in self.lattice else chain.points[0]
            head = run.corners[-1] if run.chain.head in self.lattice else chain.points[-1]
            points = np.vstack((tail, middles, head))
        return Chain(points, np.zeros(len(points) - 1), chain.left, chain.right)


def made_planar(chains: Traced, runs: tuple[Run, ...]) -> Traced:
    """The same chains; those that cross, stray or lie inside out go through the midpoints of their cracks."""
    work = Mending(chains, runs)
    lost = {at for at, (chain, _) in enumerate(chains) if _is_lost(chain, runs[at])}
    work.mend(lost)  # first and alone: what they cross is not to blame
    crossed = crossing(tuple(chain for chain, _ in work.mended()))
    while crossed and work.mend(crossed):
        crossed = crossing(tuple(chain for chain, _ in work.mended()))
    return work.mended()


def astray(chains: Traced, runs: tuple[Run, ...]) -> set[int]:
    """Indices of the chains that have lost their cracks or cross one that has not, or one another."""
    lost = {at for at, (chain, _) in enumerate(chains) if _is_lost(chain, runs[at])}
    sound = [at for at in range(len(chains)) if at not in lost]
    return lost | {sound[at] for at in crossing(tuple(chains[at][0] for at in sound))}


def _is_lost(chain: Chain, run: Run) -> bool:
    """Whether the fit has lost a chain's cracks: it strays from the box round them, or lies inside out."""
    line = _line(chain)
    beyond = np.maximum(
        run.corners.min(axis=0) - line.min(axis=0), line.max(axis=0) - run.corners.max(axis=0)
    )
    return bool(beyond.max() > STRAY) or _is_inside_out(chain, run)


def _is_inside_out(chain: Chain, run: Run) -> bool:
    """Whether a ring runs the other way round than its cracks, or a segment has no length."""
    if not chain.segments().chord_lengths().all():
        return True
    closed = run.chain.is_ring or run.chain.tail == run.chain.head
    return closed and bool(_area(_line(chain)) * _area(run.corners) <= 0.0)


def _area(ring: Floats) -> float:
    """Twice the area round which a closed polygon (n + 1, 2) runs counter-clockwise."""
    x, y = (ring - ring[0]).T
    return float(np.sum(x[:-1] * y[1:] - y[:-1] * x[1:]))


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
    ends = [{line.coords[0], line.coords[-1]} for line in (one, other)]
    return bool(shapely.difference(shared, shapely.MultiPoint(sorted(ends[0] & ends[1]))).is_empty)
