"""What a program leaves of the sheet as a field of heights: the lowest z that the bit reaches at every place.

Every cut is drawn at its own depth with a pen as wide as the bit, from the highest to the lowest, so that
what is lower lies over what is higher. The pen is a whole number of pixels wide and the pixel is made to
suit it, so an edge is within a pixel of its place.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

import cv2
import numpy as np
from numpy.typing import NDArray

from core.program.read.program import Program
from core.proof.removal import Cuts, cuts_below
from core.proof.sweeps import places_at, radii_of, sweeps_of

Floats = NDArray[np.float64]
Field = NDArray[np.float32]

#: x and y of the lower left and the upper right corner, mm in the program's coordinates.
Box = tuple[float, float, float, float]

#: mm by which depths that are drawn in one go may differ: a tone of a picture.
LEVEL_MM = 0.02
#: mm by which a chord may leave its arc: a tenth of a pixel.
SAGITTA_MM = 0.008
#: A pen is told in sixteenths of a pixel.
SHIFT = 4


@dataclass(frozen=True, eq=False)
class Heights:
    """z (rows, columns) mm, top row first; px_mm is the side of a pixel, mm."""

    z: Field
    px_mm: float


def height_field(program: Program, bit_mm: float, box: Box, top_z: float, px_mm: float) -> Heights:
    """The field over a box of stock whose top is at top_z, in pixels of px_mm at most.

    Rapids count too: a bit cuts whatever it is called.
    """
    pen = max(ceil(bit_mm / px_mm), 1)
    px_mm = bit_mm / pen
    x_min, y_min, x_max, y_max = box
    size = (max(ceil((y_max - y_min) / px_mm), 1), max(ceil((x_max - x_min) / px_mm), 1))
    field = np.full(size, top_z, np.float32)
    for z, lines in _by_depth(program, cuts_below(program, top_z - LEVEL_MM)):
        flat = [_pixels(line, (x_min, y_max), px_mm) for line in lines]
        cv2.polylines(field, flat, isClosed=False, color=float(z), thickness=pen, shift=SHIFT)
    return Heights(field, px_mm)


def _pixels(line: Floats, corner: tuple[float, float], px_mm: float) -> NDArray[np.int32]:
    """Places (n, 2) mm as the pen counts them: from the middle of the upper left pixel, y down."""
    x, y = (line[:, 0] - corner[0]) / px_mm - 0.5, (corner[1] - line[:, 1]) / px_mm - 0.5
    return np.rint(np.column_stack((x, y)) * (1 << SHIFT)).astype(np.int32)


def _by_depth(program: Program, cuts: Cuts) -> Iterator[tuple[float, list[Floats]]]:
    """Lines of one depth after the other, the highest first."""
    starts, ends = _chords(program, cuts)
    level = np.rint(np.minimum(starts[:, 2], ends[:, 2]) / LEVEL_MM).astype(np.int64)
    for one in np.unique(level)[::-1]:
        rows = np.nonzero(level == one)[0]
        yield float(one) * LEVEL_MM, _joined(starts[rows, :2], ends[rows, :2])


def _joined(starts: Floats, ends: Floats) -> list[Floats]:
    """Chords that go on from each other as one line, which is drawn faster than they are."""
    is_new = np.append(True, np.abs(starts[1:] - ends[:-1]).max(axis=1, initial=0.0) > 1e-9)
    begins = np.nonzero(is_new)[0]
    return [
        np.vstack((starts[first:last], ends[last - 1]))
        for first, last in zip(begins, [*begins[1:], len(starts)], strict=True)
    ]


def _chords(program: Program, cuts: Cuts) -> tuple[Floats, Floats]:
    """Starts and ends (k, 3) mm of straight pieces of the cuts, each of nearly one depth."""
    rows, share = cuts.rows, cuts.last - cuts.first
    sweeps, radii = np.abs(sweeps_of(program)[rows]) * share, radii_of(program)[rows]
    widest = 2.0 * np.arccos(1.0 - np.clip(SAGITTA_MM / np.maximum(radii, SAGITTA_MM), 0.0, 0.5))
    rises = np.abs(np.nan_to_num(program.ends[rows, 2] - program.starts[rows, 2])) * share
    counts = np.maximum(np.ceil(np.maximum(sweeps / widest, rises / LEVEL_MM)), 1.0).astype(np.int64)
    piece = np.repeat(np.arange(counts.size), counts)
    nth = np.arange(piece.size) - np.repeat(np.cumsum(counts) - counts, counts)
    span = share[piece] / counts[piece]
    first = cuts.first[piece] + nth * span
    return places_at(program, rows[piece], first), places_at(program, rows[piece], first + span)
