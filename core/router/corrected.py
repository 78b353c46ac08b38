"""A path as it is written for a machine whose scales and skew were measured."""

import numpy as np

from core.findings import Point
from core.outline.bent import bent, pieces_for
from core.outline.segments import Floats, Segments
from core.router.toolpath import Toolpath
from core.sheet.correction import Correction


def corrected(toolpath: Toolpath, correction: Correction, zero_at: Point) -> Toolpath:
    """The path by the controller's numbers, zero_at added: corrected about the work zero; arcs in pieces."""
    if correction.is_none or not len(toolpath.ends):
        return toolpath
    zero = np.array(zero_at)

    def moved(points: Floats) -> Floats:
        return np.asarray(correction.of(points - zero) + zero)

    starts, ends = toolpath.starts(), toolpath.ends
    segments = Segments(starts[:, :2], ends[:, :2], toolpath.bulges)
    flat, rows, share = bent(segments, _counts(segments, correction), moved)
    z = starts[rows, 2] + share * (ends - starts)[rows, 2]
    return Toolpath(
        np.append(moved(toolpath.start[None, :2])[0], toolpath.start[2]),
        np.column_stack((flat.ends, z)),
        flat.bulges,
        toolpath.motions[rows],
        toolpath.feeds[rows],
        toolpath.operations[rows],
        toolpath.names,
        toolpath.sides_of_part()[rows],
    )


def _counts(segments: Segments, correction: Correction) -> np.ndarray:
    """A move that goes nowhere seen from above has no radius."""
    counts = np.ones(len(segments), dtype=np.int64)
    arcs = np.flatnonzero(segments.bulges != 0.0)
    own = Segments(segments.starts[arcs], segments.ends[arcs], segments.bulges[arcs])
    counts[arcs] = pieces_for(own, correction.bends)
    return counts
