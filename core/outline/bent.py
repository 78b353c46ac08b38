"""Lines and arcs under a map that keeps lines but not arcs: each arc as short arcs that stay within BENT_MM.

An arc of radius r and sweep s, stretched by a share e across, leaves the arc through its own ends and middle
by at most e r s^2 / 8 (the part of the stretch that turns with twice the angle, to second order in s).
"""

from collections.abc import Callable

import numpy as np

from core.outline.curve import curvatures, picked
from core.outline.segments import Floats, Segments

#: mm that a bent arc may be off (design: curves under a measured correction are fitted again within 0.002).
BENT_MM = 1e-3
#: rad of an arc in one piece at most, however little it is bent.
LONGEST = np.pi / 2.0

Map = Callable[[Floats], Floats]


def pieces_for(segments: Segments, bends: float) -> np.ndarray:
    """(n,) how many short arcs each segment needs; 1 for lines, and for all where nothing bends."""
    radii = 1.0 / np.maximum(np.abs(curvatures(segments)), 1e-12)
    sweeps = np.abs(2.0 * segments.half_sweeps())
    if bends == 0.0:
        return np.ones(len(segments), dtype=np.int64)
    longest = np.minimum(np.sqrt(8.0 * BENT_MM / (bends * radii)), LONGEST)
    return np.maximum(np.ceil(sweeps / longest), 1.0).astype(np.int64)


def bent(segments: Segments, counts: np.ndarray, moved: Map) -> tuple[Segments, np.ndarray, Floats]:
    """The segments mapped, each as counts (n,) short arcs.

    (m,) segments, the row that each came from, and the share of that row at which it ends.
    """
    rows = np.repeat(np.arange(len(segments)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    first, last = within / counts[rows], (within + 1.0) / counts[rows]
    own = picked(segments, rows)
    starts, middles, ends = (moved(own.points_at(share)) for share in (first, (first + last) / 2.0, last))
    is_arc = own.bulges != 0.0
    bulges = np.where(is_arc, _bulges(starts, middles, ends), 0.0)
    return Segments(starts, ends, bulges), rows, last


def _bulges(starts: Floats, middles: Floats, ends: Floats) -> Floats:
    """(n,) of the arcs through three points: the turn at the middle is half the sweep (inscribed angle)."""
    one = (middles - starts) @ np.array([1.0, 1.0j])
    other = (ends - middles) @ np.array([1.0, 1.0j])
    return np.asarray(np.tan(np.angle(other * np.conj(one)) / 2.0))
