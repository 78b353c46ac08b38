"""Faces too small to keep, each given to the neighbour it shares most edge with.

The smallest goes first; what has swallowed a speck counts with it from then on. Only areas and lengths
of Chains are asked: nothing is fitted again, the Chains inside are simply dropped by whoever makes
Regions of the faces.
"""

import heapq
from collections import defaultdict
from collections.abc import Set as AbstractSet

import numpy as np

from core.outline.chain import Chain
from core.outline.outline import BEYOND, Outline
from core.outline.segments import Floats

Edges = defaultdict[int, defaultdict[int, float]]


def face_areas(outline: Outline) -> Floats:
    """(faces,) area in the Outline's unit squared; that of BEYOND, which has no end, is infinite."""
    areas = np.zeros(len(outline.faces))
    if outline.chains:
        origin = outline.chains[0].points[0]
        for chain in outline.chains:
            swept = _swept_area(chain, origin)
            areas[chain.left] += swept
            areas[chain.right] -= swept
    areas[BEYOND] = np.inf
    return areas


def _swept_area(chain: Chain, origin: Floats) -> float:
    """Signed area between the Chain and the origin; round a whole face these add up to its area."""
    x, y = (chain.points - origin).T
    caps = chain.segments().cap_areas().sum()
    return float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1]) / 2.0 + caps)


def shared_edges(outline: Outline) -> Edges:
    """How much edge every face shares with each of its neighbours."""
    shared: Edges = defaultdict(lambda: defaultdict(float))
    for chain in outline.chains:
        if chain.left != chain.right:
            length = float(chain.segments().lengths().sum())
            shared[chain.left][chain.right] += length
            shared[chain.right][chain.left] += length
    return shared


def absorbed(outline: Outline, smallest: float, kept: AbstractSet[int] = frozenset()) -> dict[int, int]:
    """The face each speck goes to, specks in rising order; every face in ``kept`` stays what it is.

    smallest is an area in the Outline's unit squared. The faces given to are themselves no specks.
    """
    areas, shared = face_areas(outline), shared_edges(outline)
    taken_by: dict[int, int] = {}
    waiting = [(float(area), face) for face, area in enumerate(areas) if area < smallest]
    heapq.heapify(waiting)
    while waiting:
        area, face = heapq.heappop(waiting)
        if face in taken_by or face in kept or area != areas[face] or not shared[face]:
            continue
        host = max(sorted(shared[face]), key=shared[face].__getitem__)
        _merge(face, host, areas, shared)
        taken_by[face] = host
        if areas[host] < smallest:
            heapq.heappush(waiting, (float(areas[host]), host))
    return {face: _last_host(face, taken_by) for face in sorted(taken_by)}


def _merge(face: int, host: int, areas: Floats, shared: Edges) -> None:
    areas[host] += areas[face]
    for neighbour, length in shared.pop(face).items():
        del shared[neighbour][face]
        if neighbour != host:
            shared[host][neighbour] += length
            shared[neighbour][host] += length


def _last_host(face: int, taken_by: dict[int, int]) -> int:
    while face in taken_by:
        face = taken_by[face]
    return face
