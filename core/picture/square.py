"""Squaring up: a slanted sheet made square, a picture levelled and cropped, its light made even.

All that moves is one map and one resampling; the light is evened out after it.

What a hand places on the picture is kept in px of the upright source picture; Squared.plane takes it to
the squared one and back. The light is interpolated on the file's own curve, on which anti-aliasing and
scaling have mixed it before.
"""

from dataclasses import dataclass, replace

import numpy as np

from core.errors import BadValue
from core.findings import Finding, Level, Point
from core.picture.light import Evened, evened
from core.picture.paper_size import PaperSize
from core.picture.picture import Picture
from core.picture.plane import AS_IT_IS, Plane, between, scaled, shifted, turned
from core.picture.proportion import Proportion, proportion_of
from core.picture.resample import resampled
from core.picture.sheet import find_sheet
from core.picture.sheet_edges import Floats, clockwise, is_convex

Box = tuple[Point, Point]

#: px taken off along the sides of a squared sheet: its edge is blurred and never quite straight; and how much
#: more for each px that its sides stray from their lines; but no more than this share of the shorter side.
_TRIM, _TRIM_PER_SCATTER, _MOST_TRIM = 3.0, 3.0, 0.03
#: px; so near to a whole pixel is on it.
_WHOLE = 1e-6
#: px; less than this is left by no crop, as no smaller picture is read.
_SMALLEST = 8


@dataclass(frozen=True)
class SquareWish:
    """What the maker asks; points in px of the upright source picture, y down.

    corners: of a sheet, () for none, None to look for one. level: rad to turn the picture by,
    counter-clockwise as it is seen. crop: two opposite corners of what is kept, or None. is_evened: uneven
    light is taken out.
    """

    corners: tuple[Point, ...] | None = None
    paper: PaperSize | None = None
    level: float = 0.0
    crop: Box | None = None
    is_evened: bool = True


@dataclass(frozen=True, eq=False)  # no ==: pictures have none
class Squared:
    """The picture that is traced, the map to it, mm per px of it where paper tells; findings lie nowhere."""

    picture: Picture
    plane: Plane
    px_mm: float | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True, eq=False)
class _Kept:
    """The map to the squared picture, what part of it is kept (2, 2) px, and what was concluded."""

    plane: Plane
    box: Floats
    px_mm: float | None
    findings: tuple[Finding, ...]


def squared(picture: Picture, wish: SquareWish) -> Squared:
    """The picture squared up, levelled and cropped as asked; itself where nothing is asked or found.

    Raises BadValue for corners or a crop that cannot be.
    """
    wish = _reduced(wish, picture.reduced)
    sheet = _sheet_kept(picture, wish)
    kept = _levelled(sheet or _whole_kept(picture, wish), wish.level, may_show_more=sheet is None)
    box = kept.box
    if wish.crop is not None:
        box = _cropped(box, _bounds(kept.plane, np.array(wish.crop)))
    low, high = np.floor(box[0] + _WHOLE), np.ceil(box[1] - _WHOLE)
    plane = kept.plane.then(shifted(-low[0], -low[1])) if low.any() else kept.plane
    size = int(high[0] - low[0]), int(high[1] - low[1])
    seen = seen_through(picture, plane, size)
    light = evened(seen) if wish.is_evened else Evened(seen, ())
    findings = (*_told_reduced(picture), *kept.findings, *light.findings)
    return Squared(light.picture, as_read(picture).then(plane), kept.px_mm, findings)


def as_read(picture: Picture) -> Plane:
    """The map from the upright source to the picture as it was read, reduced or whole."""
    return scaled(1.0 / picture.reduced) if picture.reduced > 1 else AS_IT_IS


def _reduced(wish: SquareWish, side: int) -> SquareWish:
    """The wish in px of a picture that was reduced by blocks of this side."""
    if side == 1:
        return wish
    corners, crop = (
        None if points is None else tuple((x / side, y / side) for x, y in points)
        for points in (wish.corners, wish.crop)
    )
    return replace(wish, corners=corners, crop=None if crop is None else (crop[0], crop[1]))


def _levelled(kept: _Kept, angle: float, *, may_show_more: bool) -> _Kept:
    """The same turned; beyond a whole picture its rim goes on, but beyond a sheet lies the table."""
    if not angle:
        return kept
    turn = turned(angle)
    box = _bounds(turn, kept.box)
    if not may_show_more:
        (width, height), middle = kept.box[1] - kept.box[0], box.mean(axis=0)
        slope = abs(np.tan(angle)) * max(width / height, height / width)
        half = np.array([width, height]) / (2.0 * np.cos(angle) * (1.0 + slope))
        box = np.array([middle - half, middle + half])
    return replace(kept, plane=kept.plane.then(turn), box=box)


def _whole_kept(picture: Picture, wish: SquareWish) -> _Kept:
    """The picture as it is, without a sheet in it."""
    box = np.array([[0.0, 0.0], [picture.width, picture.height]])
    return _Kept(AS_IT_IS, box, None, () if wish.paper is None else (_no_sheet(wish.paper),))


def _sheet_kept(picture: Picture, wish: SquareWish) -> _Kept | None:
    """The sheet that was asked for or found, made square; None where there is none."""
    if wish.corners is not None:
        return _squared_sheet(picture, wish, _asked(wish.corners), 0.0) if wish.corners else None
    sheet = None if picture.alpha is not None else find_sheet(picture.pixels)
    if sheet is None:
        return None
    kept = _squared_sheet(picture, wish, sheet.corners, sheet.scatter)
    return replace(kept, findings=(_found(sheet.corners * picture.reduced), *kept.findings))


def _asked(points: tuple[Point, ...]) -> Floats:
    corners = clockwise(np.array(points, dtype=np.float64))
    if len(points) != 4 or not is_convex(corners):
        raise BadValue("The four corners of the sheet do not stand round it: give one at each corner.")
    return corners


def _squared_sheet(picture: Picture, wish: SquareWish, corners: Floats, scatter: float) -> _Kept:
    proportion = proportion_of(corners, (picture.width, picture.height), wish.paper)
    width, height = sheet_size(corners, proportion.ratio)
    target = np.array([[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]])
    trim = np.ceil(min(_TRIM + _TRIM_PER_SCATTER * scatter, _MOST_TRIM * min(width, height)))
    box = np.array([[trim, trim], [width - trim, height - trim]])
    size_mm = proportion.size_mm
    findings = (_guessed(proportion),) if proportion.is_guess else ()
    return _Kept(between(corners, target), box, size_mm and size_mm[0] / width, findings)


def sheet_size(corners: Floats, ratio: float) -> tuple[float, float]:
    """Width and height, px, of the squared sheet: nowhere coarser than it was photographed."""
    lengths = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
    height = float(max(lengths[0] / ratio, lengths[2] / ratio, lengths[1], lengths[3]))
    return height * ratio, height


def _bounds(plane: Plane, box: Floats) -> Floats:
    """(2, 2): least and greatest x and y of a box (2, 2), told by two opposite corners, after a map."""
    (left, top), (right, bottom) = box.tolist()
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    there = np.array([plane.of(corner) for corner in corners])
    return np.array([there.min(axis=0), there.max(axis=0)])


def _cropped(box: Floats, crop: Floats) -> Floats:
    left = np.array([np.maximum(box[0], crop[0]), np.minimum(box[1], crop[1])])
    if np.any(left[1] - left[0] < _SMALLEST):
        raise BadValue("The crop leaves nothing of the picture: give two corners that lie in it.")
    return left


def seen_through(picture: Picture, plane: Plane, size: tuple[int, int]) -> Picture:
    """The picture after the map; whole pixels are copied, and nothing where nothing changes."""
    shift = plane.whole_shift
    if shift == (0, 0) and size == (picture.width, picture.height):
        return picture
    alpha = picture.alpha
    if shift is not None:
        rows, columns = slice(-shift[1], size[1] - shift[1]), slice(-shift[0], size[0] - shift[0])
        return replace(
            picture,
            pixels=picture.pixels[rows, columns],
            alpha=None if alpha is None else alpha[rows, columns],
        )
    return replace(
        picture,
        pixels=resampled(picture.pixels, plane, size),
        alpha=None if alpha is None else resampled(alpha, plane, size),
    )


def _told_reduced(picture: Picture) -> tuple[Finding, ...]:
    if picture.reduced == 1:
        return ()
    width, height = picture.source_size
    many = f"{width * height / 1e6:.0f} megapixels"
    text = f"The picture has {many}; it was read at 1/{picture.reduced} of its size."
    remedy = "If lines of two or three pixels matter, set picture.pixels to all."
    return (Finding(Level.NOTE, "picture-reduced", text, remedy),)


def _no_sheet(paper: PaperSize) -> Finding:
    return Finding(
        Level.CAUTION,
        "no-sheet",
        f"No sheet was found in the picture, so the size of {paper.name} says nothing about the shape's.",
        "Give the four corners of the sheet, or the height of the shape.",
    )


def _found(corners: Floats) -> Finding:
    places = "; ".join(f"{x:.1f},{y:.1f}" for x, y in corners.tolist())
    return Finding(
        Level.NOTE,
        "sheet-squared",
        f"A sheet was found in the picture and made square; its corners lie at {places} px.",
        "If they are wrong, move them; if it is no sheet, set picture.corners to none.",
    )


def _guessed(proportion: Proportion) -> Finding:
    return Finding(
        Level.CAUTION,
        "proportion-guessed",
        f"The sheet is of no common proportion; as photographed it is {proportion.ratio:.3f} times as wide "
        "as high, which may be a few per cent off.",
        "Give the size of the paper, or compare width and height of the shape with the drawing.",
    )
