"""The colours of strokes and spots too thin to be flat anywhere.

A pixel of an edge lies between the colours on its two sides. A pixel on the ridge of a thin stroke does
not: some way to either side the picture turns back to the same colour. So of the pixels whose colour is
neither a known one nor a blend of two, those on a ridge are tallied, and the colour that lies farthest out
is a colour of the picture; then the rest are looked at again.
"""

import numpy as np
import numpy.typing as npt

from core.picture.oklab import Floats
from core.picture.plateau import Bytes, Mask, Plateaus
from core.picture.tally import Tally, apart, lightness, off_blend, off_coarse_blend, tally_of

Places = npt.NDArray[np.intp]

#: RGB distance from all colours and their blends at which a colour may be one of its own.
_AWAY = 0.16
#: px from a ridge to either side at which a stroke that is nowhere flat has come to its end.
_REACH = 3
#: By how much (0..1) a ridge rises above both sides, as a distance of colours or, where colours are coarse,
#: in lightness: well over the waves that lossy compression leaves beside an edge (edges.md measures 16/255).
_RISE = 0.12
#: How much farther both must be for each unit of noise: the range of nine pixels is 3 deviations, and of a
#: whole picture's pixels a few lie 4.5 deviations out.
_PER_NOISE = 1.5
#: Pixels that such a colour needs: a spot of 4 px across, or a stroke as long as a letter is wide.
_FEWEST = 8
#: Pixels that are looked at; the ridges of larger pictures are longer.
_LOOKED_AT = 200_000
#: Steps to one side across the four directions in which a stroke can be crossed.
_ACROSS = ((0, 1), (1, 0), (1, 1), (1, -1))


def with_strokes(leaders: Tally, plateaus: Plateaus, same: float, most: int) -> Tally:
    """Add the colours of strokes to the leaders until all is explained or there are ``most``."""
    ridges = ridge_tally(plateaus, leaders)
    while len(leaders) < most:
        outermost = _outermost(ridges.chosen(_is_odd(ridges.rgb, leaders.rgb, plateaus)), leaders, same)
        if outermost is None:
            break
        leaders = Tally(np.vstack((leaders.rgb, outermost.rgb)), np.append(leaders.counts, outermost.counts))
    return leaders


def ridge_tally(plateaus: Plateaus, leaders: Tally) -> Tally:
    """Count the colours of the pixels on a ridge that no blend of two leaders explains."""
    rows, columns = np.nonzero(plateaus.spread > plateaus.flat_range)
    step = max(1, rows.size // _LOOKED_AT)
    rows, columns = rows[::step], columns[::step]
    colours = plateaus.bytes[rows, columns]
    odd = np.flatnonzero(_is_odd_by_table(colours, leaders.rgb, plateaus))
    ridges = odd[on_ridge(plateaus, rows[odd], columns[odd])]
    return tally_of(colours[ridges], float(step))


def _is_odd(colours: Floats, known: Floats, plateaus: Plateaus) -> Mask:
    """Tell of each colour (m, 3) whether it is neither known nor a blend of two that are."""
    off = off_coarse_blend if plateaus.is_rippled else off_blend
    odd: Mask = off(colours, known) > _AWAY + _PER_NOISE * plateaus.noise
    return odd


def _is_odd_by_table(colours: Bytes, known: Floats, plateaus: Plateaus) -> Mask:
    """Do so for many colours in 255ths, by a table of coarse ones."""
    levels = (np.arange(32) + 0.5) / 32
    coarse = np.stack(np.meshgrid(levels, levels, levels, indexing="ij"), axis=-1).reshape(-1, 3)
    red, green, blue = (colours >> 3).astype(np.intp).T
    odd: Mask = _is_odd(coarse, known, plateaus)[(red * 32 + green) * 32 + blue]
    return odd


def on_ridge(plateaus: Plateaus, rows: Places, columns: Places) -> Mask:
    """Tell of each pixel whether both sides fall off from it in the same sense, in one direction at least."""
    padded = np.pad(plateaus.bytes, ((_REACH, _REACH), (_REACH, _REACH), (0, 0)), mode="edge")
    here = _seen(padded[rows + _REACH, columns + _REACH], plateaus)
    rise = _RISE + _PER_NOISE * plateaus.noise
    found = np.zeros(rows.size, dtype=bool)
    for down, right in _ACROSS:
        for reach in range(1, _REACH + 1):
            ends = [
                _seen(padded[rows + _REACH + way * down, columns + _REACH + way * right], plateaus)
                for way in (reach, -reach)
            ]
            found |= ((here - ends[0]) * (here - ends[1])).sum(axis=1) > rise**2
    return found


def _seen(colours: Bytes, plateaus: Plateaus) -> Floats:
    """Take colours (m, 3) as they are, or their lightness (m, 1) where colours are coarser than it."""
    unit = colours / 255.0
    return lightness(unit)[:, np.newaxis] if plateaus.is_rippled else unit


def _outermost(outside: Tally, leaders: Tally, same: float) -> Tally | None:
    """Return the colour that lies farthest from the leaders and has enough pixels about it, if any."""
    if len(outside) == 0:
        return None
    outside = outside.chosen(np.arange(min(len(outside), 2048)))  # the commonest; rarer ones lead nothing
    near = apart(outside.rgb, outside.rgb) <= same
    distance = np.where(near @ outside.counts >= _FEWEST, apart(outside.rgb, leaders.rgb).min(axis=1), -1.0)
    best = int(distance.argmax())
    if distance[best] < 0.0:
        return None
    return outside.gathered(np.where(near[best], 0, 1), 2).chosen(np.array([0]))
