"""Uneven light taken out: shading and soft shadows on the ground, so that one colour is one colour again.

The plot. On a small copy the ground is followed from a ring near the picture's rim as long as it changes
slowly: light changes little from pixel to pixel, an edge a lot (ground_of). Through it goes a smooth
surface, of the second degree first, then what is left, smoothed (field_of); under the shape the surface
goes on. Light multiplies what a thing reflects, and stays a factor on a power-law curve such as sRGB's
nearly is: so the picture is divided by the surface, on the brightest ground's terms.
"""

from dataclasses import dataclass, replace

import cv2
import numpy as np
import numpy.typing as npt

from core.findings import Finding, Level
from core.picture.picture import Picture, Pixels
from core.picture.plateau import Bytes, Mask, in_bytes

#: px of the longer side of the copy: light has no finer structure.
_SMALL = 256
#: Share of the shorter side at which the ring lies: within a scan's rim, outside a shape with usual margins.
_RING = 0.09
#: Grey levels of 255 per px of the copy: a shadow's penumbra keeps below it, while an edge of 60 levels
#: blurred by 3 px has 8.
_SLOW = 5
#: px by which the ground keeps from where it ends: the foot of a soft edge.
_FOOT = 3
#: Share of the ring, and of the copy, that the ground must take up to be measured.
_OF_RING, _OF_COPY = 0.6, 0.15
#: Shares of the longer side over which what the surface leaves is smoothed, one after the other: a penumbra
#: is followed.
_FOLLOWED = (0.06, 0.025, 0.01)
#: Share by which enclosed ground may differ from what the surface says there, to be ground as well.
_ENCLOSED = 0.08
#: Share by which the ground's light must fall off before anything is done, and lightness (0..1) below which a
#: ground is too dark to tell the light by.
_FALLS_OFF, _DARK = 0.03, 0.15
#: The light is never multiplied by more than this.
_MOST_GAIN = 4.0
#: Rows of the picture that are divided together.
_STRIP = 256


@dataclass(frozen=True, eq=False)  # no ==: pictures have none
class Evened:
    """The picture in even light: the very same where it was even, and then there is no finding."""

    picture: Picture
    findings: tuple[Finding, ...]


def evened(picture: Picture) -> Evened:
    """The picture as it would be in even light."""
    if picture.alpha is not None:
        return Evened(picture, ())
    copy = small_copy(picture.pixels)
    ground = ground_of(copy)
    if ground is None or not falls_off(_lightness(copy)[ground]):
        return Evened(picture, ())
    coarse = _followed(copy, ground, surface_of(copy, ground), _FOLLOWED[0])
    light = coarse[ground].mean(axis=1)
    if not falls_off(light):
        return Evened(picture, ())
    field = field_of(copy, ground, coarse)
    best = np.quantile(field[ground], 0.99, axis=0).astype(np.float32)
    gain = np.clip(best / np.maximum(field, 1e-3), 1.0 / _MOST_GAIN, _MOST_GAIN)
    pixels = lit(picture.pixels, gain.astype(np.float32))
    return Evened(
        replace(picture, pixels=pixels), (_told(float(1.0 - np.divide(*np.quantile(light, (0.01, 0.99))))),)
    )


def _lightness(copy: Pixels) -> npt.NDArray[np.float32]:
    """(h, w): the mean of the three channels."""
    return np.asarray(cv2.transform(copy, np.full((1, 3), 1.0 / 3.0)), dtype=np.float32)


def falls_off(light: npt.NDArray[np.float32]) -> bool:
    """Whether the lightness (n,) of a ground is uneven, and light enough to tell; grain alone may look so."""
    low, high = np.quantile(light, (0.01, 0.99))
    return bool(_DARK <= low <= (1.0 - _FALLS_OFF) * high)


def small_copy(pixels: Pixels) -> Pixels:
    """The picture (h, w, 3) with its longer side reduced, its grain with it."""
    longest = max(pixels.shape[:2])
    if longest <= _SMALL:
        return pixels
    step = max(1, longest // (4 * _SMALL))
    factor = _SMALL / longest
    size = (max(8, round(pixels.shape[1] * factor)), max(8, round(pixels.shape[0] * factor)))
    fewer = np.ascontiguousarray(pixels[::step, ::step])
    return np.asarray(cv2.resize(fewer, size, interpolation=cv2.INTER_AREA), dtype=np.float32)


def ground_of(copy: Pixels) -> Mask | None:
    """(h, w): the ground, clear of its edges; None where there is too little of it."""
    levels = np.asarray(cv2.GaussianBlur(in_bytes(copy), (5, 5), 0), dtype=np.uint8)
    ring = _ring(levels.shape[:2])
    calm = (_range(levels) <= 2 * _SLOW).astype(np.uint8)
    _, patches = cv2.connectedComponents(calm, connectivity=4)
    shares = np.bincount(patches[ring], minlength=2)
    shares[0] = 0  # what is not calm
    best = patches == int(shares.argmax())
    clear = cv2.erode(best.astype(np.uint8), np.ones((2 * _FOOT + 1,) * 2, np.uint8), borderValue=1)
    ground = clear.astype(bool)
    if best[ring].mean() < _OF_RING or ground.mean() < _OF_COPY:
        return None
    return ground


def _ring(shape: tuple[int, ...]) -> Mask:
    inset = max(1, round(_RING * min(shape[:2])))
    ring = np.zeros(shape[:2], dtype=bool)
    ring[inset:-inset, [inset, -inset - 1]] = True
    ring[[inset, -inset - 1], inset:-inset] = True
    return ring


def _range(levels: Bytes) -> Bytes:
    """(h, w): by how much the neighbours of each pixel differ, the channel that changes most."""
    square = np.ones((3, 3), np.uint8)
    ranges = cv2.subtract(cv2.dilate(levels, square), cv2.erode(levels, square))
    return np.asarray(cv2.max(cv2.max(ranges[..., 0], ranges[..., 1]), ranges[..., 2]), dtype=np.uint8)


def field_of(copy: Pixels, ground: Mask, coarse: Pixels) -> Pixels:
    """(h, w, 3) how bright the ground is, or would be, everywhere on the copy, from what it is about."""
    field = coarse
    off = np.abs(copy - field).max(axis=2) > _ENCLOSED * field.mean(axis=2)
    foot = np.ones((2 * _FOOT + 1,) * 2, np.uint8)
    more = ground | (cv2.dilate(off.astype(np.uint8), foot) == 0)
    for share in _FOLLOWED[1:]:
        field = _followed(copy, more, field, share)
    return field


def _followed(copy: Pixels, ground: Mask, field: Pixels, share: float) -> Pixels:
    """The field, and what it leaves on the ground, smoothed; far from any ground the field alone goes on."""
    weight = ground.astype(np.float32)
    rest = (copy - field) * weight[..., None]
    sigma = share * max(ground.shape)
    smooth, known = (cv2.GaussianBlur(each, (0, 0), sigma) for each in (rest, weight))
    return np.asarray(field + smooth / (known + 0.02)[..., None], dtype=np.float32)


def surface_of(copy: Pixels, where: Mask) -> Pixels:
    """(h, w, 3) the surface of second degree through the pixels where it is asked."""
    rows, columns = where.shape
    y, x = np.mgrid[0:rows, 0:columns].astype(np.float32)
    x, y = 2.0 * x / columns - 1.0, 2.0 * y / rows - 1.0
    terms = np.stack((np.ones_like(x), x, y, x * x, x * y, y * y), axis=-1)
    known = terms[where].astype(np.float64)
    surface, *_ = np.linalg.lstsq(known, copy[where].astype(np.float64), rcond=None)
    return np.asarray(terms @ surface.astype(np.float32), dtype=np.float32)


def lit(pixels: Pixels, gain: Pixels) -> Pixels:
    """Pixels (h, w, 3) times a gain known on a smaller grid, at most 1."""
    rows, columns = pixels.shape[:2]
    out = np.empty_like(pixels)
    across, down = gain.shape[1] / columns, gain.shape[0] / rows
    for top in range(0, rows, _STRIP):
        strip = pixels[top : top + _STRIP]
        # OpenCV counts from the middle of the first pixel.
        onto = np.array([[across, 0.0, across / 2 - 0.5], [0.0, down, down * (top + 0.5) - 0.5]])
        here = cv2.warpAffine(
            gain, onto, (columns, len(strip)), flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
            borderMode=cv2.BORDER_REPLICATE,
        )  # fmt: skip
        np.minimum(strip * here, 1.0, out=out[top : top + _STRIP])
    out.setflags(write=False)
    return out


def _told(falls_off: float) -> Finding:
    return Finding(
        Level.NOTE,
        "light-evened",
        f"The light falls off by {100.0 * falls_off:.0f} % across the picture; it was evened out.",
        "If the ground itself is shaded like that, set picture.light to as it is.",
    )
