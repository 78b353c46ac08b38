"""That no chain crosses itself or another: checked, and mended by falling back to the chain of cracks.

Cracks never cross, nor do polygons through their midpoints (each stays within half a px of its own cracks),
so segments that the fit has driven across others are drawn as such polygons instead; where their neighbours
cross those as well, or the chain is turned inside out, all of it is.
Where even that crosses something, because the fit has moved a node, the node goes back to its lattice corner
and all chains that meet there become polygons. Each round makes more of them so; the last would make all.
"""

from dataclasses import dataclass, field

import numpy as np
import shapely

from core.outline.chain import Chain
from core.outline.segments import Floats
from core.trace.faces import Ints
from core.trace.pieces import Run
from core.trace.rows import rows_of
from core.trace.together import Traced

#: px; arcs are flattened this finely to look for crossings.
FLATNESS = 0.005

#: px; standard deviation of a polygon through midpoints of cracks, at worst.
CRUDE = 0.5


#: px by which a chain may leave the box round its cracks; a sharp tip that blur has rounded off needs most.
STRAY = 8.0


@dataclass(eq=False)
class Mending:
    """How far chains are given up: some of their segments, all of them, and their nodes as well."""

    chains: Traced
    runs: tuple[Run, ...]
    segments: dict[int, set[int]] = field(default_factory=dict)
    polygons: set[int] = field(default_factory=set)
    lattice: set[int] = field(default_factory=set)

    def give_up(self, lost: set[int]) -> None:
        """All of these chains."""
        self.polygons |= lost

    def mend(self, crossed: dict[int, set[int]]) -> bool:
        """One more step for every chain by its segments that cross; whether there was one left to take."""
        before = self._given_up()
        for index in sorted(crossed):
            if index in self.polygons:
                self.lattice |= self._nodes(index)
            elif not self._give_up_some(index, crossed[index]):
                self.polygons.add(index)
        self.polygons |= {at for at in range(len(self.runs)) if not self._nodes(at).isdisjoint(self.lattice)}
        return self._given_up() > before

    def _given_up(self) -> int:
        return len(self.polygons) + len(self.lattice) + sum(len(own) for own in self.segments.values())

    def _give_up_some(self, index: int, crossed: set[int]) -> bool:
        """Give up segments that cross, and the neighbours of those that still do; False if none is left."""
        run, chain = self.runs[index], self.chains[index][0]
        if run.pieces is None or len(run.pieces.is_arc) != len(chain.bulges):
            return False
        before = self.segments.setdefault(index, set())
        wider = {at + step for at in crossed & before for step in (-1, 1)}
        after = before | crossed | {at % len(chain.bulges) for at in wider}
        self.segments[index] = after
        return len(before) < len(after) < len(chain.bulges)

    def _nodes(self, index: int) -> set[int]:
        chain = self.runs[index].chain
        return set() if chain.is_ring else {chain.tail, chain.head}

    def mended(self) -> tuple["Mended", ...]:
        """All chains as they are by now."""
        found = []
        for index, (chain, doubt) in enumerate(self.chains):
            if index in self.polygons:
                found.append(Mended(polygon := self._polygon(index), CRUDE, _rising(polygon)))
            elif index in self.segments:
                found.append(_patched(chain, self.runs[index], self.segments[index]))
            else:
                found.append(Mended(chain, doubt, _rising(chain)))
        return tuple(found)

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


@dataclass(frozen=True, eq=False)
class Mended:
    """A chain as it is now, its doubt in px, and for each of its segments the one (n,) it was before."""

    chain: Chain
    doubt: float
    origin: Ints


def _rising(chain: Chain) -> Ints:
    return np.arange(len(chain.bulges))


def _patched(chain: Chain, run: Run, gone: set[int]) -> Mended:
    """The chain with some segments, not all, drawn through the midpoints of their cracks."""
    assert run.pieces is not None  # noqa: S101 - only runs in pieces are patched
    count, cracks = len(chain.bulges), len(run.corners) - 1
    start = 0
    if run.chain.is_ring:  # begin with a segment that stays, so that no patch runs past the end
        start = next(at for at in range(count) if at not in gone)
    middles = (run.corners[:-1] + run.corners[1:]) / 2.0
    steps = run.track.step[run.pieces.breaks]
    points, bulges, origin = [chain.points[start]], [], []
    for at in ((start + turn) % count for turn in range(count)):
        if at not in gone:
            ends, bulge = [chain.points[at + 1]], float(chain.bulges[at])
        else:
            span = int(steps[at + 1] - steps[at])
            span = span % cracks if run.chain.is_ring else span
            inner = middles[(int(steps[at]) + np.arange(1, span)) % cracks]
            last = (at + 1) % count if run.chain.is_ring else at + 1
            # A joint between two patches may be what went astray; the next patch goes on from here.
            ends, bulge = [*inner, *([] if last in gone else [chain.points[at + 1]])], 0.0
        points += ends
        bulges += [bulge] * len(ends)
        origin += [at] * len(ends)
    drawn = Chain(np.array(points), np.array(bulges), chain.left, chain.right)
    return Mended(drawn, CRUDE, np.array(origin))


def made_planar(chains: Traced, runs: tuple[Run, ...]) -> Traced:
    """The same chains; what crosses, strays or lies inside out goes through the midpoints of its cracks."""
    work = Mending(chains, runs)
    # First and alone: what they cross is not to blame.
    work.give_up({at for at, (chain, _) in enumerate(chains) if _is_lost(chain, _line(chain), runs[at])})
    now = work.mended()
    crossed = _crossing_segments(now)
    while crossed and work.mend(crossed):
        now = work.mended()
        crossed = _crossing_segments(now)
    return tuple((one.chain, one.doubt) for one in now)


def _crossing_segments(now: tuple[Mended, ...]) -> dict[int, set[int]]:
    """For every chain that crosses something, its former segments that do."""
    suspects = sorted(crossing(tuple(one.chain for one in now)))
    if not suspects:
        return {}
    lines, owners = [], []
    for index in suspects:
        parts = now[index].chain.segments()
        ends = np.cumsum(parts.steps(FLATNESS))
        corners = _line(now[index].chain)
        for origin, low, high in zip(now[index].origin.tolist(), [0, *ends[:-1]], ends, strict=True):
            lines.append(shapely.LineString(corners[low : high + 1]))
            owners.append((index, origin))
    found: dict[int, set[int]] = {index: set() for index in suspects}
    one, other = shapely.STRtree(lines).query(lines, predicate="intersects")
    for a, b in zip(one.tolist(), other.tolist(), strict=True):
        if a < b and not _meet_at_ends_only(lines[a], lines[b]):
            for index, origin in (owners[a], owners[b]):
                found[index].add(origin)
    return found


def astray(chains: Traced, runs: tuple[Run, ...]) -> set[int]:
    """Indices of the chains that have lost their cracks or cross one that has not, or one another."""
    lines = [_line(chain) for chain, _ in chains]
    lost = {at for at, (chain, _) in enumerate(chains) if _is_lost(chain, lines[at], runs[at])}
    sound = [at for at in range(len(chains)) if at not in lost]
    return lost | {sound[at] for at in _crossing([lines[at] for at in sound])}


def _is_lost(chain: Chain, line: Floats, run: Run) -> bool:
    """Whether the fit has lost a chain's cracks: it strays from the box round them, or lies inside out."""
    beyond = np.maximum(
        run.corners.min(axis=0) - line.min(axis=0), line.max(axis=0) - run.corners.max(axis=0)
    )
    return bool(beyond.max() > STRAY) or _is_inside_out(chain, line, run)


def _is_inside_out(chain: Chain, line: Floats, run: Run) -> bool:
    """Whether a ring runs the other way round than its cracks, or a segment has no length."""
    if not chain.segments().chord_lengths().all():
        return True
    closed = run.chain.is_ring or run.chain.tail == run.chain.head
    return closed and bool(_area(line) * _area(run.corners) <= 0.0)


def _area(ring: Floats) -> float:
    """Twice the area round which a closed polygon (n + 1, 2) runs counter-clockwise."""
    x, y = (ring - ring[0]).T
    return float(np.sum(x[:-1] * y[1:] - y[:-1] * x[1:]))


def _line(chain: Chain) -> Floats:
    return np.vstack((chain.segments().corners(FLATNESS), chain.points[-1]))


def crossing(chains: tuple[Chain, ...]) -> set[int]:
    """Indices of the chains that cross or touch themselves or another but for the nodes they share."""
    return _crossing([_line(chain) for chain in chains])


def _crossing(drawn: list[Floats]) -> set[int]:
    rows = rows_of(drawn)
    points = np.concatenate([np.empty((0, 2)), *drawn])
    lines = np.array(shapely.linestrings(points, indices=rows.owner), dtype=object)
    bad = set(np.nonzero(~shapely.is_simple(lines))[0].tolist())
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
