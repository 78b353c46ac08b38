"""A sheet of paper that lies on a table, found in a photograph: where its four corners are.

The plot. On a small copy of the picture whatever differs from its rim, or is lighter than the rest, is
outlined; a large outline with four straight sides may be a sheet. Its sides are then fitted on the picture
itself (sheet_edges.py). It is taken for a sheet only when paper lies all along the inside of its sides,
something darker all along the outside, something is drawn on it, and it is seen in perspective or turned:
a light label on a dark ground, drawn flat and upright, is a shape and no sheet.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from core.picture.light import surface_of
from core.picture.picture import Pixels
from core.picture.sheet_edges import FINE_REACH, Floats, Side, clockwise, filled, is_convex, refined

Mask = npt.NDArray[np.bool_]

#: px of the longer side of the small copy that outlines are looked for in.
_SMALL = 480
#: Share of the picture that a sheet covers at least: less of it would leave the drawing too few pixels.
_LEAST_AREA = 0.2
#: Shares of Otsu's threshold that are tried: shadows make paper and table overlap.
_LEVELS = (1.0, 0.7, 1.3, 0.5)
#: Tolerances of the outline's four corners, shares of its perimeter, and how well they must agree with it.
_TOLERANCES = (0.01, 0.02, 0.035, 0.05)
_AGREES = 0.93
#: Bands beside the sides that are looked at, shares of the way from the sheet's middle to its side.
_INSIDE, _OUTSIDE = (0.93, 0.97), (1.035, 1.08)
#: Colour (0..1) by which paper is brighter than the table; by which it may vary beyond a smooth shading;
#: share of the band that must keep to that; by which what is drawn differs from paper; least share of it.
_BRIGHTER, _EVEN, _ALL_ALONG, _DRAWN, _LEAST_DRAWN = 0.08, 0.1, 0.9, 0.15, 0.002
#: Profiles of each side that must agree with its line, and scatter of them as a share of its length.
_AGREED, _STRAIGHT = 0.7, 0.004
#: rad by which a corner differs from a right angle, and share by which two sides that face each other differ,
#: from which on the sheet is seen in perspective; rad by which it is turned.
_SKEWED, _CONVERGING, _TURNED = np.radians(0.7), 0.012, np.radians(0.4)
#: rad: beyond this a turned sheet is upright the other way round.
_MOST_TURNED = np.radians(44.0)


@dataclass(frozen=True, eq=False)  # no ==: arrays have no single truth value
class Sheet:
    """corners (4, 2) px of the upright picture, y down, clockwise from the top left; scatter px rms."""

    corners: Floats
    scatter: float


@dataclass(frozen=True, eq=False)
class _Small:
    """A small copy (h, w, 3) in 0..1, and how many px of the picture one of its pixels is."""

    pixels: Pixels
    factor: float


def find_sheet(pixels: Pixels) -> Sheet | None:
    """The sheet in a picture (h, w, 3), when there surely is one that wants squaring."""
    small = _small_copy(pixels)
    for outline in _outlines(small):
        if not _on_sheet(small, outline).any():
            continue
        sheet = _fitted(pixels, small, outline)
        if sheet is not None and _wants_squaring(small, sheet.corners):
            return sheet
    return None


def _small_copy(pixels: Pixels) -> _Small:
    """Every so many pixels first, then their means: no more is read than has to be."""
    longest = max(pixels.shape[:2])
    step = max(1, longest // (3 * _SMALL))
    fewer = np.ascontiguousarray(pixels[::step, ::step])
    factor = max(1.0, max(fewer.shape[:2]) / _SMALL)
    size = (round(fewer.shape[1] / factor), round(fewer.shape[0] / factor))
    copy = cv2.resize(fewer, size, interpolation=cv2.INTER_AREA) if factor > 1.0 else fewer
    return _Small(np.asarray(copy, dtype=np.float32), float(longest / max(copy.shape[:2])))


def _outlines(small: _Small) -> Iterator[Floats]:
    """Four corners (4, 2) of each large outline with four sides, in px of the small copy; the best first."""
    rim = np.concatenate([small.pixels[[0, -1]].reshape(-1, 3), small.pixels[:, [0, -1]].reshape(-1, 3)])
    unlike = np.linalg.norm(small.pixels - np.median(rim, axis=0), axis=2) / np.sqrt(3.0)
    light = small.pixels.mean(axis=2)
    found = [quad for seen in (unlike, light) for quad in _outlined(seen)]
    for _, corners in sorted(found, key=lambda one: -one[0]):
        yield corners


def _outlined(seen: npt.NDArray[np.float32]) -> Iterator[tuple[float, Floats]]:
    levels = cv2.GaussianBlur(cv2.convertScaleAbs(seen, alpha=255.0), (5, 5), 0)
    otsu, _ = cv2.threshold(levels, 0, 255, cv2.THRESH_BINARY | cv2.THRESH_OTSU)
    for share in _LEVELS:
        parted = (levels > share * otsu).astype(np.uint8)
        contours, _ = cv2.findContours(parted, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
        large = [one for one in contours if cv2.contourArea(one) >= _LEAST_AREA * parted.size]
        for contour in large:
            quad = four_sided(np.asarray(contour, dtype=np.int32))
            if quad is not None:
                yield quad


def four_sided(contour: npt.NDArray[np.int32]) -> tuple[float, Floats] | None:
    """How well four corners agree with an outline, 0..1, and the corners (4, 2); None where they do not."""
    hull = cv2.convexHull(contour)
    length = cv2.arcLength(hull, closed=True)
    for tolerance in _TOLERANCES:
        corners = np.asarray(cv2.approxPolyDP(hull, tolerance * length, closed=True), dtype=np.float64)
        if len(corners) == 4:
            quad = clockwise(corners.reshape(-1, 2) + 0.5)
            area = float(cv2.contourArea(quad.astype(np.float32)))
            own = float(cv2.contourArea(contour))
            agrees = min(area, own) / max(area, own, 1.0)
            return (agrees, quad) if agrees >= _AGREES and is_convex(quad) else None
    return None


def _fitted(pixels: Pixels, small: _Small, outline: Floats) -> Sheet | None:
    """The corners on the picture itself, its sides fitted ever more closely."""
    corners = outline * small.factor
    sides: tuple[Side, ...] = ()
    for reach in (6.0 * small.factor + FINE_REACH, 2.0 * small.factor + FINE_REACH, FINE_REACH, FINE_REACH):
        corners, sides = refined(pixels, corners, reach)
        if not _are_sides(sides) or not is_convex(corners):
            return None
    rows, columns = pixels.shape[:2]
    if np.any(corners < 0.0) or np.any(corners > np.array([columns, rows])):
        return None
    return Sheet(corners, float(np.sqrt(np.mean([side.scatter**2 for side in sides]))))


def _are_sides(sides: tuple[Side, ...]) -> bool:
    return all(
        side.agreed >= _AGREED
        and side.scatter <= max(1.0, _STRAIGHT * float(np.hypot(*(side.end - side.start))))
        for side in sides
    )


def _wants_squaring(small: _Small, corners: Floats) -> bool:
    """Whether a sheet with these corners, px of the picture, is seen in perspective, or surely turned."""
    if in_perspective(corners):
        return True
    on_copy = corners / small.factor
    table = small.pixels[_bands(small, on_copy)[1]]
    drawn = small.pixels[_on_sheet(small, on_copy)]
    if not is_turned(corners) or not len(drawn):
        return False
    # What is drawn shows something else than what lies round the sheet: else it may be a hole in a plate.
    return bool(np.median(np.abs(drawn - np.median(table, axis=0)).max(axis=1)) > _DRAWN)


def _bands(small: _Small, corners: Floats) -> tuple[Mask, Mask]:
    """The pixels along the inside of the sides, and along the outside."""
    inner, outer = (
        _grown(small, corners, high) & ~_grown(small, corners, low) for low, high in (_INSIDE, _OUTSIDE)
    )
    return inner, outer


def _grown(small: _Small, corners: Floats, factor: float) -> Mask:
    middle = corners.mean(axis=0)
    return filled(middle + factor * (corners - middle), small.pixels.shape[:2])


def _on_sheet(small: _Small, corners: Floats) -> Mask:
    """What is drawn inside these corners; nothing unless paper lies within and something darker beyond."""
    inner, outer = _bands(small, corners)
    nothing = np.zeros_like(inner)
    if not inner.any() or not outer.any():
        return nothing
    off = small.pixels - surface_of(small.pixels, inner)
    away = np.abs(off).max(axis=2)
    table = small.pixels[outer]
    paper = (small.pixels - off)[outer]
    is_lit = float(np.mean(paper.mean(axis=1) > table.mean(axis=1) + _BRIGHTER)) >= _ALL_ALONG
    is_paper = float(np.mean(away[inner] <= _EVEN)) >= _ALL_ALONG
    drawn = _grown(small, corners, _INSIDE[0]) & (away > _DRAWN)
    is_sheet = is_lit and is_paper and drawn.sum() >= _LEAST_DRAWN * drawn.size
    return drawn if is_sheet else nothing


def in_perspective(corners: Floats) -> bool:
    """Whether four corners, in order, are surely those of no flat rectangle."""
    ahead = np.roll(corners, -1, axis=0) - corners
    lengths = np.hypot(*ahead.T)
    ratios = np.abs(np.log(lengths[:2] / lengths[2:]))
    behind = -np.roll(ahead, 1, axis=0)
    cosine = np.sum(ahead * behind, axis=1) / (lengths * np.roll(lengths, 1))
    return bool(ratios.max() > _CONVERGING or np.abs(np.arcsin(cosine)).max() > _SKEWED)


def is_turned(corners: Floats) -> bool:
    """Whether the sides of four corners run along neither rows nor columns."""
    ahead = np.roll(corners, -1, axis=0) - corners
    angles = np.arctan2(ahead[:, 1], ahead[:, 0]) % (np.pi / 2.0)
    off = np.minimum(angles, np.pi / 2.0 - angles)
    return bool(_TURNED < np.median(off) < _MOST_TURNED)
