"""How narrow a piece of film is at its narrowest.

A piece is shrunk from both sides; the width is twice the distance at which it first falls apart, closes
an opening to the outside, or vanishes. A sharp tip does not count: it is narrow everywhere near its end.
All pieces are tried at once, first in growing steps and then by halving.
"""

import numpy as np
import shapely
from numpy.typing import NDArray

from core.outline.polygon import to_polygon
from core.outline.region import Regions
from core.outline.segments import Floats

#: mm that a piece's polygon strays from its lines and arcs; a width may be off by twice that.
FLATNESS_MM = 0.01
#: mm; first width tried where all are told, and how much the next one is larger.
FIRST_MM, GROWTH = 0.2, 1.6
#: mm, and share of the width, to which a width is told.
FINENESS_MM, FINENESS_SHARE = 0.02, 0.01
#: The chords of a shrunk corner stray by nine thousandths of the distance.
CHORDS_PER_QUARTER = 6

Ints = NDArray[np.int64]


def piece_widths(regions: Regions, enough_mm: float = np.inf) -> Floats:
    """(n,) mm, the smallest width of each Region, within 0.05 mm or two percent; 0 for mere slivers.

    Of pieces wider than enough_mm only the narrowest is told so; the others by a width that they reach.
    """
    solids = np.array([to_polygon((region,), FLATNESS_MM) for region in regions], dtype=object)
    whole = _kinds(solids)
    growing = ~shapely.is_empty(solids)
    low = np.zeros(len(solids))
    high = np.where(growing, np.inf, 0.0)
    tried = FIRST_MM if np.isinf(enough_mm) else enough_mm
    while growing.any() and (tried <= enough_mm or not (np.isfinite(high) & (high > 0.0)).any()):
        rows = np.flatnonzero(growing)
        same = _is_same(solids[rows], np.full(len(rows), tried), whole[rows])
        low[rows[same]], high[rows[~same]] = tried, tried
        growing[rows[~same]] = False
        tried *= GROWTH
    return _halved(solids, whole, low, high, enough_mm)


def _halved(solids: NDArray[np.object_], whole: Ints, low: Floats, high: Floats, enough_mm: float) -> Floats:
    while (coarse := _is_coarse(low, high, enough_mm)).any():
        rows = np.flatnonzero(coarse)
        middle = (low[rows] + high[rows]) / 2.0
        same = _is_same(solids[rows], middle, whole[rows])
        low[rows[same]] = middle[same]
        high[rows[~same]] = middle[~same]
    return np.where(_is_fine(low, high), (low + high) / 2.0, low)


def _is_coarse(low: Floats, high: Floats, enough_mm: float) -> NDArray[np.bool_]:
    """(n,) whether a width is not known well enough yet, and matters."""
    narrowest = np.min(high, initial=np.inf, where=high > 0.0)
    matters = (low < enough_mm) | (low < narrowest)
    return np.asarray(np.isfinite(high) & matters & ~_is_fine(low, high))


def _is_fine(low: Floats, high: Floats) -> NDArray[np.bool_]:
    known = np.isfinite(high)
    bound = np.where(known, high, 0.0)
    return np.asarray(known & (bound - low <= np.maximum(FINENESS_MM, FINENESS_SHARE * bound)))


def _is_same(solids: NDArray[np.object_], widths: Floats, whole: Ints) -> NDArray[np.bool_]:
    shrunk = shapely.buffer(solids, -widths / 2.0, quad_segs=CHORDS_PER_QUARTER)
    return np.asarray((_kinds(shrunk) == whole).all(axis=1))


def _kinds(solids: NDArray[np.object_]) -> Ints:
    """(n, 2): how many pieces, how many openings; an empty one has no piece."""
    pieces, owner = shapely.get_parts(solids, return_index=True)
    solid = ~shapely.is_empty(pieces)
    count = np.bincount(owner[solid], minlength=len(solids))
    openings = np.bincount(
        owner, weights=shapely.get_num_interior_rings(pieces), minlength=len(solids)
    ).astype(int)
    return np.column_stack((count, openings))
