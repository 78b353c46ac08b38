"""Sample points along the edges of a picture: where both pictures are asked whether they are one."""

from dataclasses import dataclass

import numpy as np

from core.outline.curve import joined, lefts, picked
from core.outline.outline import BEYOND, Outline
from core.outline.segments import Floats, Segments

#: px from the picture's side, and cosine to it, within which an edge is where the picture was cut.
SIDE_REACH, ALONG_SIDE = 1.5, 0.9


@dataclass(frozen=True, eq=False)
class Traced:
    """An Outline in px with its picture's size (width, height) px and how light its colours are (0..1).

    only_silhouette: nothing but the edge to the ground beyond is asked.
    """

    outline: Outline
    size: tuple[int, int]
    lightness: tuple[float, ...]
    ground: int = 0
    only_silhouette: bool = False


@dataclass(frozen=True, eq=False)
class Edge:
    """segments (px) of every Chain asked; lighter (n,) is +1 where their left is lighter, else -1."""

    segments: Segments
    lighter: Floats

    def length(self) -> float:
        """Px of all edges."""
        return float(self.segments.lengths().sum())


@dataclass(frozen=True, eq=False)
class Samples:
    """at (n, 2) px, to_light (n, 2) unit normals to the lighter side, weight (n,) px, piece (n,) segment."""

    at: Floats
    to_light: Floats
    weight: Floats
    piece: np.ndarray

    def thinned(self, count: int) -> "Samples":
        """About so many of them, evenly."""
        rows = slice(None, None, max(len(self.at) // count, 1))
        return Samples(self.at[rows], self.to_light[rows], self.weight[rows], self.piece[rows])

    def kept(self, rows: np.ndarray) -> "Samples":
        """Those of the rows."""
        return Samples(self.at[rows], self.to_light[rows], self.weight[rows], self.piece[rows])


def edge_of(traced: Traced) -> Edge:
    """The edges to be matched; those along a side of the picture are left out sample by sample, later."""
    outline = traced.outline
    open_ground = _open_ground(traced) if traced.only_silhouette else frozenset()
    many, lighter = [], []
    for chain in outline.chains:
        if traced.only_silhouette and (chain.left in open_ground) == (chain.right in open_ground):
            continue
        segments = chain.segments()
        many.append(segments)
        lighter.append(np.full(len(segments), _lighter(traced, chain.left, chain.right, open_ground)))
    return Edge(joined(many), np.concatenate(lighter) if lighter else np.empty(0))


def _open_ground(traced: Traced) -> frozenset[int]:
    """Beyond, and the ground that reaches it."""
    faces = traced.outline.faces
    near = (face for face in traced.outline.neighbours(BEYOND) if faces[face].colour == traced.ground)
    return frozenset({BEYOND, *near})


def _lighter(traced: Traced, left: int, right: int, open_ground: frozenset[int]) -> float:
    if open_ground:
        return 1.0 if left in open_ground else -1.0
    faces, lightness = traced.outline.faces, traced.lightness
    return 1.0 if lightness[faces[left].colour] >= lightness[faces[right].colour] else -1.0


def samples_of(edge: Edge, size: tuple[int, int], step: float) -> Samples:
    """Points at most step px apart along every segment, those along the sides of the picture left out."""
    segments = edge.segments
    lengths = segments.lengths()
    counts = np.maximum(np.ceil(lengths / step), 1).astype(np.int64)
    rows = np.repeat(np.arange(len(segments)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    share = (within + 0.5) / counts[rows]
    each = picked(segments, rows)
    headings = each.headings_at(share)
    ahead = np.column_stack((np.cos(headings), np.sin(headings)))
    found = Samples(
        each.points_at(share), lefts(ahead) * edge.lighter[rows, None], (lengths / counts)[rows], rows
    )
    return found.kept(~along_sides(found.at, ahead, size))


def along_sides(at: Floats, ahead: Floats, size: tuple[int, int]) -> np.ndarray:
    """(n,) whether an edge at a point, running ahead, is a side of the picture rather than of the shape."""
    near = np.minimum(at, np.array(size) - at) < SIDE_REACH
    along = np.abs(ahead) > ALONG_SIDE
    return np.asarray((near[:, 0] & along[:, 1]) | (near[:, 1] & along[:, 0]))
