"""Where strips meet the fitted chains: the nearest point of its chain, looked for near its own piece."""

import numpy as np

from core.outline.chain import Chain
from core.outline.segments import Floats, Segments
from core.trace.faces import Ints
from core.trace.pieces import Run
from core.trace.refine import LEAST_CHORD, LEAST_HALF
from core.trace.rows import rows_of
from core.trace.strips import Strips


def pieces_at(run: Run, step: Ints, count: int) -> Ints:
    """(n,) for cracks step (n,) the index of the segment, of count, that runs there."""
    if run.pieces is None or len(run.track.step) == 0:
        return np.zeros(len(step), dtype=np.int64)
    cracks = len(run.chain.directed)
    start = int(run.track.step[0])
    breaks = (run.track.step[run.pieces.breaks[1:-1]] - start) % cracks
    place = (step - start) % cracks if run.chain.is_ring else step - start
    found = np.searchsorted(breaks, place, side="right")
    if run.chain.is_ring and len(run.pieces.is_arc) == 1:  # a circle is two halves of one piece
        found = np.asarray(place * count // cracks)
    return np.minimum(found, count - 1)


def feet(chains: tuple[Chain, ...], runs: tuple[Run, ...], strips: Strips, near: Floats) -> Floats:
    """(n, 2) px on each strip's chain: nearest to near (n, 2), on the segment at its crack or next to it."""
    rows, own = strips.rows, rows_of(tuple(chain.bulges for chain in chains))
    segments = joined(chains)
    here = np.concatenate(
        [
            pieces_at(run, strips.step[rows.own(at)], len(chain.bulges))
            for at, (run, chain) in enumerate(zip(runs, chains, strict=True))
        ]
    )
    is_ring = np.array([chain.is_ring for chain in chains])[rows.owner]
    count, first = own.count[rows.owner], own.first[rows.owner]
    best = np.full(len(near), np.inf)
    found = near.copy()
    for off in (0, -1, 1):
        which = np.where(is_ring, (here + off) % count, np.clip(here + off, 0, count - 1))
        there = nearest_on(segments, first + which, near)
        away = np.hypot(*(there - near).T)
        closer = away < best
        best[closer], found[closer] = away[closer], there[closer]
    return found


def joined(chains: tuple[Chain, ...]) -> Segments:
    """The segments of all chains, one chain behind the other."""
    return Segments(
        np.concatenate([chain.points[:-1] for chain in chains]),
        np.concatenate([chain.points[1:] for chain in chains]),
        np.concatenate([chain.bulges for chain in chains]),
    )


def nearest_on(segments: Segments, which: Ints, near: Floats) -> Floats:
    """(n, 2) px: the point of segment which[i] nearest to near[i]."""
    start, end = segments.starts[which], segments.ends[which]
    half = segments.half_sweeps()[which]
    half = np.where(np.abs(half) < LEAST_HALF, LEAST_HALF, half)
    chord = end - start
    chord[(chord == 0.0).all(axis=1)] = LEAST_CHORD
    unit = ((near - start)[:, 0] + 1j * (near - start)[:, 1]) / (chord[:, 0] + 1j * chord[:, 1])
    spoke = unit - (0.5 + 0.5j / np.tan(half))
    share = 0.5 + np.angle(spoke * np.where(half > 0.0, 1j, -1j)) / (2.0 * half)
    picked = Segments(start, end, segments.bulges[which])
    return picked.points_at(np.clip(share, 0.0, 1.0))
