"""From pixels and their colours to the Outline: every edge as lines and arcs, shared by both its patches.

Plot:
  1. faces: connected areas of one colour, the ground round everything first (faces.py);
  2. cracks between them strung into chains from node to node, and rings (cracks.py);
  3. strips of pixels across each chain, and where its edge crosses them (strips.py, samples.py);
  4. how far such samples scatter (noise.py), and the fewest lines and arcs within that (breaks.py);
  5. joints from crossings (joints.py), then joints, nodes and bulges of all chains that hang together by
     Gauss-Newton, smooth joints held tangent where the samples allow it (together.py, refine.py);
  6. what the pixels should read if that outline were true (forecast.py), compared with what they do read:
     better samples, also at corners, nodes and thin places, from which 4 and 5 start again;
  7. a chain that has lost its way is fitted to the midpoints of its cracks instead (pieces.py);
  8. the Outline, checked that no chain crosses itself or another (planar.py).
"""

from collections.abc import Callable

import numpy as np

from core.cancel import CancelToken
from core.outline.outline import Face, Outline
from core.picture.colours import Colours
from core.picture.picture import Picture
from core.trace.edges import Edges, read_edges
from core.trace.ends import blunted
from core.trace.faces import Areas, Framed, framed, inside_points, settled
from core.trace.guess import NOISE_LEFT, guess_from, guess_of, read_again, runs_of
from core.trace.pieces import Run, from_cracks
from core.trace.planar import astray, made_planar
from core.trace.together import FINE, LOOSE, ROUGH, Traced, fitted
from core.trace.trial import SPOILING_BLUR, better, tried

#: Samples on either side of a break left out of its pieces, and the same once corners are forecast.
FIRST_TRIM, LATER_TRIM = 2, 0

#: What is left of a corner's spoiling when it is forecast, a share: one number for every further reading.
READINGS = (0.3, 0.1)

#: Chains beyond which a picture is a photograph in crumbs: it is read once again only, corners are not tried.
CROWDED = 400


def trace(picture: Picture, colours: Colours, token: CancelToken) -> Outline:
    """The Outline of a picture in px: x right from its left edge, y up from its bottom edge.

    Pixel (row r, column c) covers x from c to c + 1 and y from h - 1 - r to h - r. Raises Cancelled.
    """
    return _outline(picture, colours, token, _chains)


def first_outline(picture: Picture, colours: Colours, token: CancelToken) -> Outline:
    """The Outline from a first reading alone, in px as trace gives it: to be looked at while trace works.

    Faces and chains are those of trace, in the same order. Edges differ by hundredths of a px, corners, small
    roundings and thin places by up to 3 px: no forecast has been compared with them yet. Raises Cancelled.
    """
    return _outline(picture, colours, token, _first_chains)


def _outline(
    picture: Picture,
    colours: Colours,
    token: CancelToken,
    draw: Callable[[Framed, Areas, CancelToken], Traced],
) -> Outline:
    token.check()
    frame, found = settled(framed(picture, colours))
    token.check()
    chains = draw(frame, found, token) if len(found.colour) > 1 else ()
    inside = inside_points(found, frame.depth())
    faces = tuple(
        Face(int(colour), (float(x), float(y))) for colour, (x, y) in zip(found.colour, inside, strict=True)
    )
    return Outline(tuple(chain for chain, _ in chains), faces, tuple(doubt for _, doubt in chains))


def _first_chains(frame: Framed, found: Areas, token: CancelToken) -> Traced:
    """The edges as their first samples say, nothing forecast."""
    edges = read_edges(frame, found)
    token.check()
    runs = _first_runs(edges)
    return _made_sound(fitted(runs, ROUGH), runs, edges)


def _first_runs(edges: Edges) -> tuple[Run, ...]:
    return runs_of(edges, edges.samples, np.zeros(len(edges.chains)), FIRST_TRIM)


def _chains(frame: Framed, found: Areas, token: CancelToken) -> Traced:
    """The edges between at least two areas."""
    edges = read_edges(frame, found)
    runs = _first_runs(edges)
    guess = guess_from(edges, runs, fitted(runs, LOOSE))
    crowded = len(edges.chains) > CROWDED
    for distrust in READINGS[:1] if crowded else READINGS:
        token.check()
        is_hard = edges.least_sigma > 0.0 and distrust is READINGS[-1]
        if not crowded and (edges.blur > SPOILING_BLUR or is_hard):  # elsewhere the last trial does as well
            guess = better(edges, guess)
        least = NOISE_LEFT * guess.noise
        guess = guess_of(edges, runs_of(edges, read_again(edges, guess, distrust), least, LATER_TRIM))
    runs = guess.runs if crowded else tried(edges, guess).runs()
    token.check()
    return _made_sound(fitted(runs, FINE), runs, edges)


def _made_sound(chains: Traced, runs: tuple[Run, ...], edges: Edges) -> Traced:
    """The chains, those that have lost their way fitted to their cracks, none crossing anything."""
    lost = astray(chains, runs)
    if not lost:
        return chains
    runs = blunted(from_cracks(runs, lost), edges.blur)
    return made_planar(fitted(runs, FINE), runs)
