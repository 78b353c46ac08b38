"""Which face of an Outline lies round a point."""

import numpy as np

from core.findings import Point
from core.outline.outline import BEYOND, Outline

#: Share of an arc's chord that its flattening may stray; a press nearer to an edge than that could mean
#: either side of it.
FLATNESS = 1e-3


def face_at(outline: Outline, point: Point) -> int:
    """The index of the face round the point: BEYOND outside of everything.

    A ray to the right crosses the edge of the face it starts in an odd number of times, and that of
    every other face an even number; BEYOND has no outer edge and is what is left.
    """
    odd = np.zeros(len(outline.faces), dtype=bool)
    for chain in outline.chains:
        segments = chain.segments()
        flatness = max(float(segments.chord_lengths().max()) * FLATNESS, np.finfo(float).tiny)
        corners = np.vstack((segments.corners(flatness), chain.points[-1:]))
        if _crossings(corners[:, 0], corners[:, 1], point) % 2:
            odd[[chain.left, chain.right]] ^= chain.left != chain.right
    odd[BEYOND] = False
    return int(odd.argmax()) if odd.any() else BEYOND


def _crossings(x: np.ndarray, y: np.ndarray, point: Point) -> int:
    """How often an open chain of corners crosses the ray from the point to the right."""
    above = y > point[1]
    steps = np.flatnonzero(above[1:] != above[:-1])
    share = (point[1] - y[steps]) / (y[steps + 1] - y[steps])
    return int(np.count_nonzero(x[steps] + share * (x[steps + 1] - x[steps]) > point[0]))
