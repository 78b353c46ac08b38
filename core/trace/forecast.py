"""What every pixel should read if an outline were true: exact area coverage, then the blur of the picture.

By Green's theorem, pixel by pixel: a piece of edge that climbs by dy inside a pixel makes everything to its
right in that row differ, by dy times (colour on its right less colour on its left); within its own pixel
only the part to the right of it. Summing along the rows turns these steps into colours.
"""

import math

import cv2
import numpy as np
from numpy.typing import NDArray

from core.outline.chain import Chain
from core.outline.segments import Floats, Segments
from core.trace.bands import Bands
from core.trace.faces import Ints
from core.trace.feet import joined
from core.trace.hue import thinned, with_lightness_of

#: px; arcs are flattened this finely: coverage is then off by less than 1/1000, less than 8 bits can say.
FLATNESS = 5e-4

#: px beyond the page at which an outline that has run away is cut off.
RUNAWAY = 100.0

#: px; less blur than this changes no pixel by a grey level.
LEAST_BLUR = 0.12


#: Noise this weak is rounding; and pixels this far from black and white (0..1) show noise whole.
LEAST_GRAIN, CLEAR_OF_LIMITS = 0.004, 0.08

#: Median of the absolute value of a normal deviate, in sigmas; and the pixels needed to measure it.
MEDIAN_OF_NOISE, ENOUGH_GRAIN = 0.6745, 400

#: Every so many rows are enough to measure noise.
THINNED = 3


def forecast(
    chains: tuple[Chain, ...], colours: Floats, ground: Floats, size: tuple[int, int], blur: float
) -> NDArray[np.float32]:
    """(h + 2, w + 2, 3), y up, rim of ground: chains between faces of colours (n, 3), blurred by blur px."""
    height, width = size[0] - 2, size[1] - 2
    sides = np.array([(chain.left, chain.right) for chain in chains])
    owner = np.repeat(np.arange(len(chains)), [len(chain.bulges) for chain in chains])
    jump = (colours[sides[:, 1]] - colours[sides[:, 0]])[owner]
    cells, owner, climb = _steps(joined(chains), height, width)
    bands = []
    rim = ground.astype(np.float32)
    for band in range(3):
        steps = np.bincount(cells, weights=jump[owner, band] * climb, minlength=height * (width + 1))
        columns = steps.astype(np.float64).reshape(width + 1, height)  # no steps at all are whole numbers
        columns[0] += ground[band]
        for column in range(1, width):  # a whole column at a time is many times as quick as cumsum
            columns[column] += columns[column - 1]
        page = np.full((width + 2, height + 2), rim[band])
        page[1:-1, 1:-1] = _blurred(columns[:width].astype(np.float32), blur)
        bands.append(cv2.transpose(page))
    return np.asarray(cv2.merge(bands), dtype=np.float32)


def grain_of(pixels: NDArray[np.float32], told: NDArray[np.float32]) -> float:
    """Sigma of a picture's noise, 0..1: its typical distance from a forecast, off black and white."""
    pixels, told = pixels[::THINNED], told[::THINNED]
    middling = (told > CLEAR_OF_LIMITS) & (told < 1.0 - CLEAR_OF_LIMITS)
    off = np.abs(pixels[middling] - told[middling])
    return float(np.median(off)) / MEDIAN_OF_NOISE if off.size >= ENOUGH_GRAIN else 0.0


def cut_off(told: NDArray[np.float32], grain: float) -> NDArray[np.float32]:
    """What the mean of a pixel reads where noise of sigma grain is cut off at black and white.

    The mean of min(z, 0) for z normal about m < 0 is m - (density(m) + m (1 - below(m))) in sigmas.
    """
    if grain < LEAST_GRAIN:
        return told
    away = np.linspace(0.0, 4.0, 65)
    above = np.array([math.erfc(z / math.sqrt(2.0)) / 2.0 for z in away.tolist()])
    lost = np.exp(-(away**2) / 2.0) / math.sqrt(2.0 * math.pi) - away * above
    changed = told.astype(np.float64)
    for limit, sign in ((0.0, 1.0), (1.0, -1.0)):
        near = np.abs(told - limit) < 4.0 * grain
        changed[near] += sign * grain * np.interp(np.abs(told[near] - limit) / grain, away, lost)
    return changed.astype(np.float32)


def hue_softened(told: NDArray[np.float32], bands: Bands) -> NDArray[np.float32]:
    """The same lightness, hue as coarse or soft as the picture's, cut off at black and white."""
    if bands.pairs:
        return thinned(told, bands.pairs)
    if bands.hue_blur <= LEAST_BLUR:
        return told
    soft = cv2.GaussianBlur(told, (0, 0), bands.hue_blur, borderType=cv2.BORDER_REPLICATE)
    return with_lightness_of(told, np.asarray(soft, dtype=np.float32))


def _blurred(band: NDArray[np.float32], blur: float) -> NDArray[np.float32]:
    if blur <= LEAST_BLUR:
        return band
    soft = cv2.GaussianBlur(band, (0, 0), blur, borderType=cv2.BORDER_REPLICATE)
    return np.asarray(soft, dtype=np.float32)


def _steps(segments: Segments, height: int, width: int) -> tuple[Ints, Ints, Floats]:
    """Cells (m,) of the (width + 1, height) table of steps, the segments (m,) that step there, how much."""
    counts = segments.steps(FLATNESS)
    corners = segments.corners(FLATNESS)
    owner = np.repeat(np.arange(len(segments)), counts)
    final = np.cumsum(counts) - 1
    ends = np.empty_like(corners)
    ends[:-1] = corners[1:]
    ends[final] = segments.ends
    least, most = np.full(2, -RUNAWAY), np.array([width, height]) + RUNAWAY
    corners, ends = np.clip(corners, least, most), np.clip(ends, least, most)
    starts, ends, owner = _cut(corners, ends, owner, 1)
    starts, ends, owner = _cut(starts, ends, owner, 0)
    middle, climb = (starts + ends) / 2.0, ends[:, 1] - starts[:, 1]
    row = np.floor(middle[:, 1]).astype(np.int64)
    x = np.clip(middle[:, 0], 0.0, float(width))
    column = np.minimum(np.floor(x).astype(np.int64), width - 1)
    share = x - column
    inside = (row >= 0) & (row < height)
    row, column, climb, share, owner = (
        row[inside],
        column[inside],
        climb[inside],
        share[inside],
        owner[inside],
    )
    cell = column * height + row
    return (
        np.concatenate((cell, cell + height)),
        np.concatenate((owner, owner)),
        np.concatenate((climb * (1.0 - share), climb * share)),
    )


def _cut(starts: Floats, ends: Floats, owner: Ints, axis: int) -> tuple[Floats, Floats, Ints]:
    """The same straight pieces, cut wherever they cross a whole number on one axis."""
    one, other = starts[:, axis], ends[:, axis]
    low, high = np.minimum(one, other), np.maximum(one, other)
    base = np.floor(low)
    counts = np.maximum(np.ceil(high) - base, 1.0).astype(np.int64)
    rows = np.repeat(np.arange(len(starts)), counts)
    within = np.arange(rows.size) - np.repeat(np.cumsum(counts) - counts, counts)
    span = np.where(high > low, high - low, 1.0)
    first = np.maximum((base[rows] + within - low[rows]) / span[rows], 0.0)
    last = np.where(within == counts[rows] - 1, 1.0, (base[rows] + within + 1.0 - low[rows]) / span[rows])
    back = (other < one)[rows]
    first, last = np.where(back, 1.0 - last, first), np.where(back, 1.0 - first, last)
    step = (ends - starts)[rows]
    return starts[rows] + first[:, None] * step, starts[rows] + last[:, None] * step, owner[rows]
