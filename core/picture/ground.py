"""Which colour is the ground, and what round the picture is no part of it.

A line drawn round everything, the dark rim of a scan and the table beyond a sheet of paper lie wholly in a
band along the picture's sides and run along most of one. They are taken as ground, never as an edge.
"""

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from core.findings import Finding, Level, Point
from core.picture.oklab import Floats, to_oklab
from core.picture.plateau import Mask
from core.picture.tally import apart

Labels = npt.NDArray[np.uint8]

#: Share of the shorter side within which a frame lies; a shape keeps a tenth as margin, so it is farther in.
_BAND = 0.08
#: Share of a side that a rim runs along, and of all four sides that a drawn line runs along.
_ALONG = 0.7
#: Oklab lightness by which a rim is darker than what it surrounds: a lid or a table beside paper.
_DARKER = 0.15
#: px of ground in a row at the border that a shape must cover to be called cut off there.
_TOUCHING = 3


@dataclass(frozen=True, eq=False)  # no ==: arrays have no single truth value
class Framed:
    """labels (h, w) with frames made ground, the ground's index, and a place of a frame, px, or None."""

    labels: Labels
    ground: int
    frame_at: Point | None


def settle_ground(labels: Labels, palette: Floats, asked: int | None) -> Framed:
    """Find the frames first, then the ground: what was asked, else what borders on most of what is left."""
    frame = frame_of(labels, palette)
    ground = asked if asked is not None else outermost(labels, frame, len(palette))
    foreign = frame & (labels != ground)
    if not foreign.any():
        return Framed(labels, ground, None)
    settled = labels.copy()
    settled[frame] = ground
    row, column = np.argwhere(foreign)[0]
    return Framed(settled, ground, (float(column) + 0.5, labels.shape[0] - float(row) - 0.5))


def index_nearest(palette: Floats, colour: tuple[float, float, float]) -> int:
    """Return the index of the colour that is least apart from the one asked for."""
    return int(apart(palette, np.array([colour])).argmin())


def outermost(labels: Labels, frame: Mask, count: int) -> int:
    """Return the label found most on the outer border of what lies inside the frame."""
    inside = ~frame
    padded = np.pad(inside, 1).astype(np.uint8)
    core = cv2.erode(padded, np.ones((3, 3), np.uint8))[1:-1, 1:-1].astype(bool)
    reached = _from_outside(frame)
    border = inside & ~core & reached
    return int(np.bincount(labels[border] if border.any() else labels.ravel(), minlength=count).argmax())


def _from_outside(frame: Mask) -> Mask:
    """Tell of each pixel whether it lies on the picture's border or beside the frame."""
    beside = cv2.dilate(frame.astype(np.uint8), np.ones((3, 3), np.uint8)).astype(bool)
    beside[[0, -1], :] = True
    beside[:, [0, -1]] = True
    return beside


def frame_of(labels: Labels, palette: Floats) -> Mask:
    """(h, w): the pixels of drawn lines round the picture and of dark rims along its sides."""
    frame = np.zeros(labels.shape, dtype=bool)
    band = int(_BAND * min(labels.shape))
    if band < 1:
        return frame
    for index in _along_a_side(labels, band, len(palette)):
        own = (labels == index).astype(np.uint8)
        _, patches, stats, _ = cv2.connectedComponentsWithStats(own, connectivity=8)
        for patch in _long(stats, labels.shape):
            if (patches[band:-band, band:-band] == patch).any():
                continue
            mask = patches == patch
            if _is_frame(mask, stats[patch], labels, palette):
                frame |= mask
    return frame


def _along_a_side(labels: Labels, band: int, count: int) -> list[int]:
    """Return the colours that occur in the band along most of some side; only they can be a frame's."""
    sides = (labels[:band], labels[-band:], labels[:, :band].T, labels[:, -band:].T)
    return [
        index
        for index in range(count)
        if any(float((side == index).any(axis=0).mean()) >= _ALONG for side in sides)
    ]


def _long(stats: npt.NDArray[np.int32], shape: tuple[int, ...]) -> list[int]:
    """Return the patches, the rest that is patch 0 apart, that run along most of a side."""
    along = (stats[:, cv2.CC_STAT_WIDTH] >= _ALONG * shape[1]) | (
        stats[:, cv2.CC_STAT_HEIGHT] >= _ALONG * shape[0]
    )
    return [int(patch) for patch in np.flatnonzero(along) if patch]


def _is_frame(patch: Mask, stats: npt.NDArray[np.int32], labels: Labels, palette: Floats) -> bool:
    beside = cv2.dilate(patch.astype(np.uint8), np.ones((3, 3), np.uint8)).astype(bool) & ~patch
    if not beside.any():
        return False
    if _touches(patch):
        return _is_darker(palette, labels[patch][0], labels[beside])
    spans = stats[cv2.CC_STAT_WIDTH] / labels.shape[1], stats[cv2.CC_STAT_HEIGHT] / labels.shape[0]
    return bool(min(spans) >= _ALONG) and _is_even(labels[beside])


def _touches(patch: Mask) -> bool:
    return bool(patch[0].any() or patch[-1].any() or patch[:, 0].any() or patch[:, -1].any())


def _is_darker(palette: Floats, own: int, beside: Labels) -> bool:
    neighbour = int(np.bincount(beside).argmax())
    lightness = to_oklab(palette)[:, 0]
    return bool(lightness[own] < lightness[neighbour] - _DARKER)


def _is_even(beside: Labels) -> bool:
    """Tell whether nearly the same colour lies on both sides, as beside a drawn line."""
    return bool(np.bincount(beside).max() >= 0.9 * beside.size)


def touching(labels: Labels, ground: int) -> Finding | None:
    """Say where a shape runs off the picture, at the longest such place, px with y up; or None."""
    runs = [run for side in _sides(labels.shape) for run in _runs(labels, ground, side)]
    if not runs:
        return None
    longest = max(runs, key=len)
    row, column = longest[len(longest) // 2]
    return Finding(
        Level.CAUTION,
        "touches-border",
        f"The shape runs off the picture in {len(runs)} place{'s' if len(runs) > 1 else ''}: "
        "it is cut off straight there.",
        "Use a picture with a margin round the shape, or choose another ground colour.",
        (float(column) + 0.5, labels.shape[0] - float(row) - 0.5),
    )


def _sides(shape: tuple[int, ...]) -> list[npt.NDArray[np.intp]]:
    """Return the rows and columns (n, 2) of the pixels along each of the four sides."""
    height, width = shape
    across, down = np.arange(width), np.arange(height)
    rows = [np.stack((np.full(width, at), across), axis=1) for at in (0, height - 1)]
    columns = [np.stack((down, np.full(height, at)), axis=1) for at in (0, width - 1)]
    return rows + columns


def _runs(labels: Labels, ground: int, side: npt.NDArray[np.intp]) -> list[npt.NDArray[np.intp]]:
    """Return the runs of pixels that are not ground, long enough to be no speck."""
    shape = labels[side[:, 0], side[:, 1]] != ground
    ends = np.flatnonzero(np.diff(np.concatenate(([False], shape, [False])).astype(np.int8)))
    pairs = zip(ends[::2], ends[1::2], strict=True)
    return [side[start:stop] for start, stop in pairs if stop - start >= _TOUCHING]
