"""From pixels and their colours to the Outline: every edge as lines and arcs, shared by both its patches.

Plot:
  1. faces: connected areas of one colour, the ground round everything first (faces.py);
  2. cracks between them strung into chains from node to node, and rings (cracks.py);
  3. edge samples of each chain to a fraction of a pixel, the blur common to all (samples.py);
  4. how far the samples scatter (noise.py), and the fewest lines and arcs within that (breaks.py);
  5. joints from crossings (joints.py), then joints, nodes and bulges of all chains that hang together by
     Gauss-Newton, smooth joints held tangent where the samples allow it (refine.py);
  6. the Outline, checked that no chain crosses itself or another (planar.py).
"""

from dataclasses import dataclass

import numpy as np

from core.cancel import CancelToken
from core.outline.outline import Face, Outline
from core.picture.colours import Colours
from core.picture.picture import Picture
from core.trace.breaks import Judge
from core.trace.cracks import CrackChain, Cracks, find_cracks, string_together
from core.trace.faces import Areas, Framed, framed, inside_points, settled
from core.trace.noise import scatter_of, sigmas
from core.trace.pieces import Run, run_of
from core.trace.planar import made_planar
from core.trace.samples import Samples, blur_of, reach_of, sample
from core.trace.together import fitted

#: px of blur supposed until it is measured.
FIRST_BLUR = 0.6


@dataclass(frozen=True, eq=False)
class Edges:
    """Everything read from the picture: its areas, cracks, chains of cracks and their samples."""

    areas: Areas
    cracks: Cracks
    chains: tuple[CrackChain, ...]
    samples: tuple[Samples, ...]
    blur: float


def read_edges(frame: Framed, found: Areas) -> Edges:
    """Steps 2 and 3."""
    cracks = find_cracks(found)
    chains = string_together(cracks, found)
    reach = reach_of(FIRST_BLUR)
    samples = tuple(sample(frame, cracks, chain, reach) for chain in chains)
    blur = blur_of(samples)
    if reach_of(blur) > reach:
        samples = tuple(sample(frame, cracks, chain, reach_of(blur)) for chain in chains)
        blur = blur_of(samples)
    if reach_of(blur) != reach:
        samples = tuple(sample(frame, cracks, chain, reach_of(blur)) for chain in chains)
    return Edges(found, cracks, chains, samples, blur)


def runs_of(edges: Edges) -> tuple[Run, ...]:
    """Step 4: the pieces of every chain."""
    windows = tuple(
        scatter_of(s.places, is_ring=c.is_ring) for s, c in zip(edges.samples, edges.chains, strict=True)
    )
    sigma = sigmas(windows)
    trim = int(np.ceil(1.5 + 3.0 * edges.blur))
    return tuple(
        run_of(chain, edges.cracks, samples, Judge(noise, trim), edges.blur)
        for chain, samples, noise in zip(edges.chains, edges.samples, sigma, strict=True)
    )


def trace(picture: Picture, colours: Colours, token: CancelToken) -> Outline:
    """The Outline of a picture in px: x right from its left edge, y up from its bottom edge.

    Pixel (row r, column c) covers x from c to c + 1 and y from h - 1 - r to h - r. Raises Cancelled.
    """
    token.check()
    frame, found = settled(framed(picture, colours))
    token.check()
    edges = read_edges(frame, found)
    token.check()
    runs = runs_of(edges)
    token.check()
    chains = made_planar(fitted(runs), runs)
    inside = inside_points(found)
    faces = tuple(
        Face(int(colour), (float(x), float(y))) for colour, (x, y) in zip(found.colour, inside, strict=True)
    )
    return Outline(tuple(chain for chain, _ in chains), faces, tuple(doubt for _, doubt in chains))
