"""Points and straight pieces that lie near each other, found through a grid of cells.

A piece is filed in every cell that places along it, half a cell apart, fall into. A point looks at the nine
cells round its own: a piece nearer than half a cell has one of those places in one of them.
"""

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Ints = NDArray[np.int64]

#: Cells in a row of the grid: far more than any sheet has.
_ROW = 1 << 26
#: The three rows of cells round a cell; in each, three neighbours follow each other.
_ROWS_AROUND = np.array([-_ROW, 0, _ROW])


def nearest_among(points: Points, starts: Points, ends: Points, reach: float) -> Points:
    """(n,) mm from each point to the nearest of the pieces starts to ends (m, 2).

    Infinite where none comes nearer than reach, mm; sure to be found where one does.
    """
    cell = 2.0 * reach
    keys, pieces = _filed(starts, ends, cell)
    rows, filed = _candidates(cell_keys(points, cell), keys)
    gaps = np.full(len(points), np.inf)
    if rows.size:
        near = pieces[filed]
        apart = _to_pieces(points[rows], starts[near], ends[near])
        first = np.nonzero(np.append(True, rows[1:] != rows[:-1]))[0]
        gaps[rows[first]] = np.minimum.reduceat(apart, first)
    gaps[gaps >= reach] = np.inf
    return gaps


def pairs_within(points: Points, others: Points, reach: float) -> tuple[Ints, Ints]:
    """Rows (k,) of points and of others (m, 2) within reach of each other, mm, in order of points."""
    keys = cell_keys(others, reach)
    order = np.argsort(keys, kind="stable")
    rows, filed = _candidates(cell_keys(points, reach), keys[order])
    found = order[filed]
    near = np.hypot(*(points[rows] - others[found]).T) <= reach
    return rows[near], found[near]


def cell_keys(points: Points, cell: float) -> Ints:
    """(n,) a number for the cell of this side, mm, that each point (n, 2) lies in."""
    x, y = np.floor(points / cell).astype(np.int64).T
    return np.asarray(x + y * _ROW)


def _filed(starts: Points, ends: Points, cell: float) -> tuple[Ints, Ints]:
    """Cells in order, and the piece that lies in each."""
    lengths = np.hypot(*(ends - starts).T)
    counts = np.ceil(2.0 * lengths / cell).astype(np.int64) + 1
    pieces = np.repeat(np.arange(len(starts)), counts)
    within = np.arange(pieces.size) - np.repeat(np.cumsum(counts) - counts, counts)
    share = (within / np.maximum(counts - 1, 1)[pieces])[:, None]
    keys = cell_keys(starts[pieces] + share * (ends - starts)[pieces], cell)
    order = np.argsort(keys, kind="stable")
    return keys[order], pieces[order]


def _candidates(wanted: Ints, keys: Ints) -> tuple[Ints, Ints]:
    """Which point looks at which row of the file, in the order of the points."""
    around = (wanted[:, None] + _ROWS_AROUND).ravel()
    first = np.searchsorted(keys, around - 1)
    counts = np.searchsorted(keys, around + 1, side="right") - first
    rows = np.repeat(np.arange(around.size), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    return rows // _ROWS_AROUND.size, first[rows] + within


def _to_pieces(points: Points, starts: Points, ends: Points) -> Points:
    """(n,) mm from each point to the piece beside it."""
    along = ends - starts
    squared = (along**2).sum(axis=1)
    share = ((points - starts) * along).sum(axis=1) / np.where(squared > 0.0, squared, 1.0)
    foot = starts + np.clip(share, 0.0, 1.0)[:, None] * along
    return np.asarray(np.hypot(*(points - foot).T))
