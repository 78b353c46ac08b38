"""Areas painted over one another become an Outline: faces that tile, neighbours sharing one Chain.

1. All edges are cut where they meet, and edges that coincide become one (noding.py).
2. The map of the pieces (arrangement.py) says which cycle of edges lies on each side of each.
3. From the outside in, every cycle gets how often each paint winds round it; crossing a piece adds what
   runs along it. The last paint that covers a cycle is what is seen there.
4. Neighbouring cycles that look alike are one face; faces thinner than a hair go to the neighbour with
   which they share most edge.
5. Pieces between two faces are strung into Chains (strung.py), whole lines and arcs again where nothing
   visible cut them.
"""

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from core.errors import BadShape
from core.outline.arrangement import NOWHERE, Arrangement, arranged, cycle_areas
from core.outline.collapse import collapsed
from core.outline.curve import Ints, joined
from core.outline.faces import regions_of
from core.outline.noding import Pieces, noded
from core.outline.outline import Face, Outline
from core.outline.polygon import to_polygon
from core.outline.segments import Segments
from core.outline.strung import chains_of

#: Shares of the drawing's size: how short a piece may be that is taken for a crumb, tried one after another.
HAIRS = (0.0, 1e-6, 1e-5, 4e-5, 2e-4)

#: Share of a face's smaller side to which its innermost point is found.
INNERMOST = 0.05

#: Share of the whole drawing's size to which arcs are flattened to find it.
FLATNESS = 1e-4


@dataclass(frozen=True, eq=False)
class Paint:
    """Closed runs of segments, filled by one rule with one colour (an index of the palette)."""

    segments: Segments
    is_even_odd: bool
    colour: int

    def covers(self, winding: int) -> bool:
        """Whether a place that the segments wind round so often is painted."""
        return winding % 2 == 1 if self.is_even_odd else winding != 0


def partition(paints: Sequence[Paint], ground: int, thinnest: float, doubt: float) -> Outline:
    """The Outline of what is seen of paints, later ones on top, on a ground of that colour.

    thinnest is a width in the Outline's unit below which a face is no patch, doubt what each Chain is given.
    """
    sources = joined([paint.segments for paint in paints])
    covered = _covered(sources, paints) if len(sources) else None
    if covered is None:
        return Outline((), (Face(ground, (0.0, 0.0)),), ())
    on_map = covered.on_map
    colours = [_colour(each, paints, ground) for each in covered.windings]
    sides = _sides(on_map, colours, thinnest)
    chains = chains_of(covered.pieces, sources, on_map.nodes, sides.faces)
    bare = Outline(
        chains, tuple(Face(colour, (0.0, 0.0)) for colour in sides.colours), (doubt,) * len(chains)
    )
    return _with_insides(bare)


Winding = dict[int, int]
"""How often each paint winds round a place; paints that do not are left out."""

Runs = list[Winding]
"""For every Piece by how much the winding of each paint is greater to its left than to its right."""


def _runs(pieces: Pieces, paints: Sequence[Paint]) -> Runs:
    owners = np.repeat(np.arange(len(paints)), [len(paint.segments) for paint in paints])
    runs: Runs = [{} for _ in range(len(pieces.segments))]
    rows = zip(
        pieces.owners.tolist(), owners[pieces.sources].tolist(), pieces.is_against.tolist(), strict=True
    )
    for piece, paint, against in rows:
        runs[piece][paint] = runs[piece].get(paint, 0) + (-1 if against else 1)
    return runs


@dataclass(frozen=True, eq=False)
class Covered:
    """Pieces, the map of them, and the winding of every cycle."""

    pieces: Pieces
    on_map: Arrangement
    windings: list[Winding]


def _covered(sources: Segments, paints: Sequence[Paint]) -> Covered | None:
    """The map of all edges: the exact one where it agrees with itself, else one without crumbs.

    None when there are no edges. Raises BadShape when no map agrees with itself.
    """
    exact = noded(sources)
    size = float(np.ptp(np.vstack((sources.starts, sources.ends)), axis=0).max())
    for share in HAIRS:
        pieces = collapsed(exact, sources, share * size) if share else exact
        if not len(pieces.segments):
            return None
        on_map, runs = arranged(pieces.segments), _runs(pieces, paints)
        windings = _windings(on_map, runs)
        if _agrees(on_map, runs, windings):
            return Covered(pieces, on_map, windings)
    raise BadShape("painted areas whose edges do not say what lies on either side")


def _agrees(on_map: Arrangement, runs: Runs, windings: list[Winding]) -> bool:
    """Whether crossing any Piece leads from the winding on its right to that on its left."""
    lefts, rights = on_map.cycles[0::2].tolist(), on_map.cycles[1::2].tolist()
    return all(
        _across(windings[right], run, 1) == windings[left]
        for left, right, run in zip(lefts, rights, runs, strict=True)
    )


def _colour(winding: dict[int, int], paints: Sequence[Paint], ground: int) -> int:
    top = max((paint for paint, count in winding.items() if paints[paint].covers(count)), default=None)
    return ground if top is None else paints[top].colour


def _windings(on_map: Arrangement, runs: Runs) -> list[dict[int, int]]:
    """For every cycle how often each paint winds round it; paints that do not are left out."""
    count = int(on_map.cycles.max()) + 1
    found: list[dict[int, int] | None] = [None] * count
    beside: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    for half, cycle in enumerate(on_map.cycles.tolist()):
        beside[cycle].append((int(on_map.cycles[half ^ 1]), half))
    for one in _outer_first(on_map):
        home = int(on_map.home[one])
        begin = int(on_map.around[one])
        found[begin] = {} if home == NOWHERE else dict(found[home] or {})
        waiting = deque([begin])
        while waiting:
            here = waiting.popleft()
            for other, half in beside[here]:
                if found[other] is None:
                    found[other] = _across(found[here] or {}, runs[half // 2], 1 if half % 2 else -1)
                    waiting.append(other)
    return [each or {} for each in found]


def _across(here: dict[int, int], run: dict[int, int], sign: int) -> dict[int, int]:
    """The winding on the other side of a Piece; sign is 1 where that is its left."""
    there = dict(here)
    for paint, more in run.items():
        count = there.get(paint, 0) + sign * more
        if count:
            there[paint] = count
        else:
            there.pop(paint, None)
    return there


def _outer_first(on_map: Arrangement) -> list[int]:
    """The components, each after the one that it lies in."""
    owner = _component_of_cycle(on_map)
    inside: list[list[int]] = [[] for _ in range(len(on_map.around))]
    order: list[int] = []
    for one, home in enumerate(on_map.home.tolist()):
        (order if home == NOWHERE else inside[int(owner[home])]).append(one)
    for one in order:  # grows while it is walked
        order.extend(inside[one])
    return order


def _component_of_cycle(on_map: Arrangement) -> Ints:
    owner = np.zeros(int(on_map.cycles.max()) + 1, dtype=np.int64)
    owner[on_map.cycles] = np.repeat(on_map.components, 2)
    return owner


@dataclass(frozen=True, eq=False)
class Sides:
    """faces (n, 2): the face to the left and to the right of every Piece; the colour of each face."""

    faces: Ints
    colours: tuple[int, ...]


class _Joined:
    """Cycles put together: each knows the first of those it belongs with; -1 + 1 = 0 stands for beyond."""

    def __init__(self, count: int) -> None:
        self.lead = list(range(count))

    def of(self, one: int) -> int:
        while self.lead[one] != one:
            self.lead[one] = self.lead[self.lead[one]]
            one = self.lead[one]
        return one

    def join(self, one: int, other: int) -> None:
        low, high = sorted((self.of(one), self.of(other)))
        self.lead[high] = low


def _sides(on_map: Arrangement, colours: list[int], thinnest: float) -> Sides:
    """Cycles put together into faces, beyond first; place k + 1 is cycle k."""
    together = _Joined(len(colours) + 1)
    for around, home in zip(on_map.around.tolist(), on_map.home.tolist(), strict=True):
        together.join(around + 1, home + 1)
    lefts, rights = on_map.cycles[0::2].tolist(), on_map.cycles[1::2].tolist()
    for left, right in zip(lefts, rights, strict=True):
        if colours[left] == colours[right]:
            together.join(left + 1, right + 1)
    seen = {together.of(cycle + 1): colour for cycle, colour in reversed(list(enumerate(colours)))}
    _absorb(on_map, together, seen, thinnest)
    leads = np.array([together.of(place) for place in range(len(colours) + 1)])
    kept, faces = np.unique(leads, return_inverse=True)
    both = np.column_stack((faces[on_map.cycles[0::2] + 1], faces[on_map.cycles[1::2] + 1]))
    return Sides(both, tuple(seen[int(lead)] for lead in kept))


def _absorb(on_map: Arrangement, together: _Joined, seen: dict[int, int], thinnest: float) -> None:
    """Faces whose area is less than thinnest along half their edge go to the neighbour that shares most."""
    areas = _face_areas(on_map, together)
    shared = _shared_edges(on_map, together)
    for lead in sorted(areas, key=lambda one: (areas[one], one)):
        edge = sum(shared.get(lead, {}).values())
        if lead == together.of(0) or areas[lead] > thinnest * edge / 2.0 or not shared.get(lead):
            continue
        host = max(sorted(shared[lead]), key=shared[lead].__getitem__)
        colour = seen[together.of(host)]
        together.join(lead, host)
        seen[together.of(host)] = colour


def _face_areas(on_map: Arrangement, together: _Joined) -> dict[int, float]:
    areas: dict[int, float] = {}
    for cycle, area in enumerate(cycle_areas(on_map.pieces, on_map.cycles).tolist()):
        lead = together.of(cycle + 1)
        areas[lead] = areas.get(lead, 0.0) + area
    return areas


def _shared_edges(on_map: Arrangement, together: _Joined) -> dict[int, dict[int, float]]:
    shared: dict[int, dict[int, float]] = {}
    lengths = on_map.pieces.lengths().tolist()
    for piece, length in enumerate(lengths):
        left, right = (together.of(int(on_map.cycles[2 * piece + side]) + 1) for side in (0, 1))
        if left != right:
            for one, other in ((left, right), (right, left)):
                beside = shared.setdefault(one, {})
                beside[other] = beside.get(other, 0.0) + length
    return shared


def _with_insides(bare: Outline) -> Outline:
    """The faces with a point well inside each; beyond has one outside everything."""
    if not bare.chains:
        return bare
    points = np.vstack([chain.points for chain in bare.chains])
    low, high = points.min(axis=0), points.max(axis=0)
    size = float((high - low).max())
    beyond = (float(low[0]) - size, float(low[1]) - size)
    faces = [Face(bare.faces[0].colour, beyond)]
    for index, face in enumerate(bare.faces[1:], start=1):
        faces.append(Face(face.colour, _innermost(bare, index, size)))
    return Outline(bare.chains, tuple(faces), bare.doubt)


def _innermost(outline: Outline, face: int, size: float) -> tuple[float, float]:
    """The middle of the largest circle in a face, as near as INNERMOST asks."""
    flat = to_polygon(regions_of(outline, {face}), size * FLATNESS)
    solid = max(shapely.get_parts(shapely.make_valid(flat)), key=shapely.area)
    x_min, y_min, x_max, y_max = shapely.bounds(solid).tolist()
    middle = shapely.maximum_inscribed_circle(solid, INNERMOST * min(x_max - x_min, y_max - y_min))
    x, y = shapely.get_coordinates(middle)[0].tolist()
    return x, y
