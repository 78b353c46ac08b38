"""A plot as HP-GL: whole plotter units, pen up to go, pen down to cut (HP, PCL 5 Technical Reference, II).

Every command ends with a semicolon, every number is absolute. A long run is told in several PD commands,
since small cutters hold no more than a short line in their buffer (common practice, no source).
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from core.drawing.plot import Plot, Stroke

#: Plotter units in a millimetre: one is 0.025 mm.
UNITS_PER_MM = 40
#: Units; older controllers keep a coordinate in 16 bits.
LEAST_UNIT, MOST_UNIT = -32768, 32767
#: Pairs of coordinates in one command.
PAIRS = 12

Ints = NDArray[np.int64]


def write_hpgl(plot: Plot) -> bytes:
    """The file as ASCII; coordinates are rounded to the nearest unit."""
    return "\n".join([*_lines(plot), ""]).encode("ascii")


def reach_units(plot: Plot) -> tuple[int, int]:
    """The least and the greatest number that the plot needs; (0, 0) for one without strokes."""
    if not plot.strokes:
        return 0, 0
    units = np.vstack([_units(stroke) for stroke in plot.strokes])
    return int(units.min()), int(units.max())


def is_in_range(plot: Plot) -> bool:
    """Whether every controller can hold the plot's numbers."""
    least, most = reach_units(plot)
    return least >= LEAST_UNIT and most <= MOST_UNIT


def _lines(plot: Plot) -> Iterator[str]:
    yield "IN;PA;"
    pen = 0
    for stroke in plot.strokes:
        units = _units(stroke)
        if len(units) < 2:
            continue
        if stroke.pen != pen:
            pen = int(stroke.pen)
            yield f"SP{pen};"
        yield f"PU{_pair(units[0])};"
        for first in range(1, len(units), PAIRS):
            yield f"PD{','.join(map(_pair, units[first : first + PAIRS]))};"
        yield "PU;"
    yield "SP0;"


def _units(stroke: Stroke) -> Ints:
    """Whole units, none twice in a row."""
    units = np.rint(stroke.points * UNITS_PER_MM).astype(np.int64)
    moves = np.any(units[1:] != units[:-1], axis=1)
    return np.asarray(units[np.concatenate(([True], moves))])


def _pair(point: Ints) -> str:
    return f"{point[0]},{point[1]}"
