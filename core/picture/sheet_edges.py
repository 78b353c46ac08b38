"""The edges of a sheet to a small fraction of a pixel: lines through where its sides cross many profiles.

Each side is crossed by profiles along its normal. Half-way between paper and table, by the sum of the
shares of paper, lies the edge there (exact for a straight edge whatever the blur, see edges in
core/trace/samples.py). A line through all of them, those that stray left out, is the side; two lines meet
in a corner.
"""

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from core.picture.picture import Pixels

Floats = npt.NDArray[np.float64]

#: Share of a side left out at both ends, where the other side's edge comes into the profiles.
_ENDS = 0.04
#: px between profiles, and the most of them along a side.
_EVERY, _MOST = 1.0, 500
#: px between the places of a profile.
_STEP = 0.5
#: px to either side: past the foot of an edge that is blurred by 1.5 px, and the flat beyond that is read.
FINE_REACH, _FLAT = 7.0, 3.0
#: Profiles over which the levels of paper and table are smoothed along a side.
_SMOOTHING = 41
#: Tukey's constant, in deviations (P. Huber, "Robust Statistics", section 7.8), rounds, and px below which
#: scatter is not believed.
_TUKEY, _ROUNDS, _LEAST_SCATTER = 4.7, 12, 0.02
#: Share of the contrast over the whole side below which a profile says nothing.
_LEAST_CONTRAST = 0.4


@dataclass(frozen=True, eq=False)  # no ==: arrays have no single truth value
class Side:
    """start and end (2,) px on the line; scatter px rms about it, and the share of profiles that agree."""

    start: Floats
    end: Floats
    scatter: float
    agreed: float


def side_of(pixels: Pixels, start: Floats, end: Floats, reach: float) -> Side:
    """The side near the line from start to end (2,), px; paper lies to its right as seen (y down)."""
    along = end - start
    length = float(np.hypot(*along))
    along = along / length
    inward = np.array([-along[1], along[0]])
    count = int(np.clip(length * (1.0 - 2.0 * _ENDS) / _EVERY, 8, _MOST))
    where = np.linspace(_ENDS, 1.0 - _ENDS, count) * length
    out = np.arange(-reach, reach + _STEP / 2, _STEP)
    places = start + where[:, None, None] * along + out[None, :, None] * inward
    offsets, trusted = crossings(read_at(pixels, places), out)
    if trusted.sum() < 4:
        return Side(start, end, np.inf, 0.0)
    slope, shift, scatter, agreed = line_through(where[trusted], offsets[trusted])
    ends = [start + at * along + (shift + slope * at) * inward for at in (0.0, length)]
    return Side(ends[0], ends[1], scatter, agreed * float(trusted.mean()))


def crossings(profiles: Floats, out: Floats) -> tuple[Floats, npt.NDArray[np.bool_]]:
    """Where profiles (n, m, 3) cross from table to paper, (n,) px inward, and which of them say so."""
    flat = max(2, round(_FLAT / _STEP))
    table, paper = (profiles[:, side].mean(axis=1) for side in (slice(None, flat), slice(-flat, None)))
    axis = np.median(paper - table, axis=0)
    axis = axis / max(float(np.linalg.norm(axis)), 1e-9)
    seen, table, paper = profiles @ axis, _smoothed(table @ axis), _smoothed(paper @ axis)
    contrast = paper - table
    enough = contrast > _LEAST_CONTRAST * max(float(np.median(contrast)), 1e-9)
    share = (seen - table[:, None]) / np.where(enough, contrast, 1.0)[:, None]
    # The trapezium's rule: the two outermost places stand for half a step each.
    covered = (share.sum(axis=1) - share[:, [0, -1]].sum(axis=1) / 2.0) * _STEP
    return out[-1] - covered, enough


def _smoothed(levels: Floats) -> Floats:
    """Running median along the side, so that grain at one place does not move the edge there."""
    width = min(_SMOOTHING, len(levels) // 2 * 2 - 1)
    padded = np.pad(levels, width // 2, mode="edge")
    return np.asarray(np.median(np.lib.stride_tricks.sliding_window_view(padded, width), axis=1))


def line_through(where: Floats, offsets: Floats) -> tuple[float, float, float, float]:
    """slope, shift, scatter px, share that agrees: the line through offsets (n,), strays weighted out."""
    slope, shift = 0.0, float(np.median(offsets))
    weight = np.ones_like(offsets)
    scatter = _LEAST_SCATTER
    for _ in range(_ROUNDS):
        rest = offsets - slope * where - shift
        scatter = max(float(np.median(np.abs(rest))) * 1.4826, _LEAST_SCATTER)
        weight = np.clip(1.0 - (rest / (_TUKEY * scatter)) ** 2, 0.0, 1.0) ** 2
        total = weight.sum()
        middle, level = (weight @ where) / total, (weight @ offsets) / total
        spread = weight @ (where - middle) ** 2
        slope = float(weight @ ((where - middle) * (offsets - level)) / max(float(spread), 1e-9))
        shift = float(level - slope * middle)
    return slope, shift, scatter, float((weight > 0.0).mean())


def read_at(pixels: Pixels, places: Floats) -> Floats:
    """The colours (..., 3) at places (..., 2) px, straight between the four nearest pixel centres.

    OpenCV's own remap would round every place to 1/32 px.
    """
    rows, columns = pixels.shape[:2]
    x = np.clip(places[..., 0] - 0.5, 0.0, columns - 1.0)
    y = np.clip(places[..., 1] - 0.5, 0.0, rows - 1.0)
    left = np.minimum(x.astype(np.intp), columns - 2)
    top = np.minimum(y.astype(np.intp), rows - 2)
    u, v = (x - left)[..., None], (y - top)[..., None]
    upper = pixels[top, left] * (1.0 - u) + pixels[top, left + 1] * u
    lower = pixels[top + 1, left] * (1.0 - u) + pixels[top + 1, left + 1] * u
    return np.asarray(upper * (1.0 - v) + lower * v, dtype=np.float64)


def meeting(one: Side, other: Side) -> Floats:
    """(2,) where the lines of two sides cross, px."""
    run, across = one.end - one.start, other.end - other.start
    share = np.linalg.solve(np.column_stack((run, -across)), other.start - one.start)[0]
    return np.asarray(one.start + share * run)


def refined(pixels: Pixels, corners: Floats, reach: float) -> tuple[Floats, tuple[Side, ...]]:
    """The corners (4, 2) once more, clockwise as seen, from their sides; looked for within reach px."""
    sides = tuple(side_of(pixels, corners[at], corners[(at + 1) % 4], reach) for at in range(4))
    if not all(np.isfinite(side.scatter) for side in sides):
        return corners, sides
    return np.array([meeting(sides[at - 1], sides[at]) for at in range(4)]), sides


def clockwise(points: Floats) -> Floats:
    """Four points (4, 2), y down, in order clockwise as seen, from the one at the top left."""
    middle = points.mean(axis=0)
    order = np.argsort(np.arctan2(*(points - middle).T[::-1]))
    ordered = points[order]
    return np.asarray(np.roll(ordered, -int(ordered.sum(axis=1).argmin()), axis=0))


def is_convex(corners: Floats) -> bool:
    """Whether four corners in order have an inside and no three of them lie in a line."""
    ahead = np.roll(corners, -1, axis=0) - corners
    turns = ahead[:, 0] * np.roll(ahead[:, 1], -1) - ahead[:, 1] * np.roll(ahead[:, 0], -1)
    sizes = np.hypot(*ahead.T)
    return bool(np.all(turns > 0.05 * sizes * np.roll(sizes, -1)))


def filled(corners: Floats, shape: tuple[int, int]) -> npt.NDArray[np.bool_]:
    """(h, w): the pixels inside the corners."""
    mask = np.zeros(shape, np.uint8)
    cv2.fillConvexPoly(mask, np.round(corners - 0.5).astype(np.int32), 1)
    return mask.astype(bool)
