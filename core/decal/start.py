"""Where the knife is set down on a contour: off the corners that are seen, on a straight run.

Nothing of the contour changes: it begins elsewhere. Only where every point is a corner may a line be cut
in its middle, which no drawing that shares its edges with a neighbour does.
"""

from math import pi, radians

import numpy as np

from core.outline.loop import Loop
from core.outline.segments import Floats, Segments

#: rad; a smaller turn is no corner that anyone sees (blades need no swivel below 15 to 20 degrees).
NO_CORNER = radians(15.0)


def begun_off_corners(loop: Loop) -> Loop:
    """The same Loop from the point without a corner that has the longest runs on both sides; else itself."""
    smooth = np.abs(_turns(loop)) <= NO_CORNER
    if not smooth.any():
        return loop
    lengths = loop.segments().lengths()
    runs = np.where(smooth, np.minimum(lengths, np.roll(lengths, 1)), -1.0)
    return rolled(loop, int(runs.argmax()))


def begun_midway(loop: Loop) -> Loop:
    """The same Loop from a point without a corner, from the middle of its longest segment if it has none."""
    turns = np.abs(_turns(loop))
    if turns[0] <= NO_CORNER:
        return loop
    if (turns <= NO_CORNER).any():
        return begun_off_corners(loop)
    segments = loop.segments()
    row = int(segments.lengths().argmax())
    one = Segments(
        segments.starts[row : row + 1], segments.ends[row : row + 1], segments.bulges[row : row + 1]
    )
    half = float(np.tan(one.half_sweeps()[0] / 4.0))
    points = np.insert(loop.points, row + 1, one.midpoints()[0], axis=0)
    bulges = np.insert(loop.bulges, row + 1, half)
    bulges[row] = half
    return rolled(Loop(points, bulges), row + 1)


def rolled(loop: Loop, row: int) -> Loop:
    """The same Loop from another of its points."""
    return Loop(np.roll(loop.points, -row, axis=0), np.roll(loop.bulges, -row)) if row else loop


def _turns(loop: Loop) -> Floats:
    """(n,) rad by which the direction turns at each point."""
    segments = loop.segments()
    first, last = segments.headings_at(np.zeros(len(segments))), segments.headings_at(np.ones(len(segments)))
    return np.asarray((first - np.roll(last, 1) + pi) % (2.0 * pi) - pi)
