"""Where a picture is flat: the pixels that show a colour itself and not the blend at an edge."""

from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
import numpy.typing as npt

from core.picture.picture import Pixels

Bytes = npt.NDArray[np.uint8]
Mask = npt.NDArray[np.bool_]

#: Grey levels of 255 by which a flat neighbourhood may differ: the ripple of a good JPEG, and well under
#: the slope of any edge that can be traced (3 per px even for two greys that are hardly told apart).
FLAT_RANGE = 6
#: A noisy picture is as flat as it gets where its range is no wider than this many times the usual range.
_USUAL = 1.3
#: Grey levels; a neighbourhood that differs by more is an edge whatever the noise.
_WIDEST_FLAT = 60
#: Grey levels: the spread in the midst of any edge that waves would be seen beside.
_EDGE_RANGE = 24
#: px from an edge between which waves are looked for: past the foot of an edge blurred by 2 px, within the
#: block of 8 px that lossy formats compress at once.
_FOOT, _BLOCK = 4, 7
#: Share of that ring which is not quite flat: 0 in clean art, over a half in a fine JPEG.
_RIPPLED = 0.25
#: Rows of a large picture that the waves are looked for in, spread over it in bands.
_BAND, _BANDS = 128, 8
#: px on the side of the tiles in which grain is measured; share that surely holds no edge; fewest asked.
_TILE, _FLAT_TILES, _ASKED_TILES = 12, 0.4, 12
#: Share of the tiles that are calmest, and by how much grain is rougher than there at most.
_CALM_TILES, _EVEN = 0.1, 1.4
#: Rows that are worked on together, so that the numbers between two steps stay in the cache.
_STRIP = 128


@dataclass(frozen=True, eq=False)  # no ==: arrays have no single truth value
class Plateaus:
    """The picture in 255ths, bytes (h, w, 3), and the range in each 3 by 3, worst channel, spread (h, w).

    flat_range is the spread up to which a pixel counts as flat in this picture, grown with its noise;
    is_rippled tells of small waves beside edges, as noise and lossy compression leave them. Colours are
    then coarser than lightness: most lossy formats keep one colour for four pixels. grain, 0..1 of full
    scale, is the deviation of lightness that is left in flat places when single pixels are smoothed; 0 if
    the picture is not noisy.
    """

    bytes: Bytes
    spread: Bytes
    flat_range: int
    is_rippled: bool
    grain: float = 0.0

    def flat(self) -> Mask:
        """(h, w): the pixels that show a colour itself."""
        return self.spread <= self.flat_range

    @property
    def is_noisy(self) -> bool:
        """Whether most of the picture ripples more than flat art does."""
        return self.flat_range > FLAT_RANGE

    @property
    def noise(self) -> float:
        """How much wider than usual a flat neighbourhood ranges, 0..1 of full scale; 0 for clean art."""
        return (self.flat_range - FLAT_RANGE) / 255.0


def plateaus_of(pixels: Pixels) -> Plateaus:
    """Measure how flat each pixel's neighbourhood is, and what flat means here."""
    whole = in_bytes(pixels)
    spread = _spread(whole)
    usual = float(np.median(spread[:: max(1, spread.shape[0] // 512), :: max(1, spread.shape[1] // 512)]))
    flat_range = int(min(max(FLAT_RANGE, np.ceil(usual * _USUAL)), _WIDEST_FLAT))
    is_noisy = flat_range > FLAT_RANGE
    is_rippled = is_noisy or has_waves(spread)
    return Plateaus(whole, spread, flat_range, is_rippled, grain_of(whole) if is_noisy else 0.0)


def grain_of(whole: Bytes) -> float:
    """The deviation of lightness, 0..1, within tiles where no edge is, single pixels smoothed.

    Dark and light tiles are asked apart, since noise is cut off at white and at black; the worse counts.
    Grain is alike all over; what is rough in some places only is what a photograph shows.
    """
    grey = cv2.blur(cv2.cvtColor(whole, cv2.COLOR_RGB2GRAY), (3, 3))
    rows, columns = grey.shape[0] // _TILE, grey.shape[1] // _TILE
    tiles = np.asarray(grey, dtype=np.float32)[: rows * _TILE, : columns * _TILE]
    tiles = tiles.reshape(rows, _TILE, columns, _TILE)
    deviations, means = tiles.std(axis=(1, 3)), tiles.mean(axis=(1, 3))
    halves = (deviations[means < 128.0], deviations[means >= 128.0])
    asked = [np.quantile(half, (_CALM_TILES, _FLAT_TILES)) for half in halves if half.size >= _ASKED_TILES]
    return max((float(min(_EVEN * calm, flat)) for calm, flat in asked), default=0.0) / 255.0


def smoothed(whole: Bytes) -> Bytes:
    """Take out grain that is finer than any shape in a photograph: the median of 5 by 5."""
    return np.asarray(cv2.medianBlur(whole, 5), dtype=np.uint8)


def has_waves(spread: Bytes) -> bool:
    """Tell whether the flats a few px from the edges ripple, in a few bands of rows."""
    step = max(_BAND, spread.shape[0] // _BANDS)
    bands = [_waves(spread[top : top + _BAND]) for top in range(0, spread.shape[0], step)]
    rippled, looked_at = np.sum(bands, axis=0)
    return bool(rippled > _RIPPLED * looked_at)


def _waves(spread: Bytes) -> tuple[int, int]:
    """Count the pixels of the ring beside edges that ripple, and all of it."""
    edge = (spread > _EDGE_RANGE).astype(np.uint8)
    near, far = (cv2.dilate(edge, _square(2 * reach + 1)) for reach in (_FOOT, _BLOCK))
    ring = spread[(near == 0) & (far > 0)]
    return int(np.count_nonzero(ring)), int(ring.size)


def _square(side: int) -> Any:
    return np.ones((side, side), np.uint8)


def in_bytes(pixels: Pixels) -> Bytes:
    """Round (h, w, 3) in 0..1 to 255ths."""
    return np.asarray(cv2.convertScaleAbs(pixels, alpha=255.0), dtype=np.uint8)


def _spread(whole: Bytes) -> Bytes:
    square = _square(3)
    out = np.empty(whole.shape[:2], np.uint8)
    for top in range(0, whole.shape[0], _STRIP):
        first, last = max(0, top - 1), min(whole.shape[0], top + _STRIP + 1)
        strip = whole[first:last]
        ranges = cv2.subtract(cv2.dilate(strip, square), cv2.erode(strip, square))
        worst = cv2.max(cv2.max(ranges[..., 0], ranges[..., 1]), ranges[..., 2])
        out[top : top + _STRIP] = worst[top - first :][:_STRIP]
    return out
