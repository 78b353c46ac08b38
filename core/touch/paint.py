"""Touch-ups of the pixels, made before anything is concluded from them.

Plot: every touch-up becomes a polygon in px of the source picture, whose corners are carried to where they
lie in the picture at hand (one function, so that squaring up and cropping move touch-ups along) -> the share
of every pixel it covers -> the colour it takes, read from the pixels beside it -> old and new mixed by that
share, on the picture's own curve, as a soft edge is.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.findings import Finding, Level, Point
from core.outline.segments import Floats
from core.picture.picture import Picture, Pixels
from core.touch.cover import Cover, covered
from core.touch.edit import Touch, Way
from core.touch.speck import speck_at
from core.touch.tint import tint_at, tint_of

#: From px of the upright source picture, (n, 2), y down, to px of the picture at hand, (n, 2), y down.
Carried = Callable[[Floats], Floats]

#: Corners of the polygon that stands for a disc: at a radius of 100 px it strays by 0.002 px.
DISC_CORNERS = 512
#: px beyond a disc where the colour round it is read, past a soft edge, and how wide that ring is.
RING_GAP, RING_WIDTH = 1.0, 3.0
#: Change of a channel (0..1) below which nothing was done: a few levels are noise and no edit.
UNCHANGED = 0.04
#: Share of its pixels that an edit must change.
LEAST_CHANGED = 0.02
#: RGB distance of the colours at both ends of a bar up to which they are one colour in uneven light.
ONE_COLOUR = 0.2


def as_it_is(points: Floats) -> Floats:
    """The picture at hand is the source picture."""
    return points


@dataclass(frozen=True, eq=False)
class Touched:
    """The picture with its touch-ups; findings have their place in its px, y up."""

    picture: Picture
    findings: tuple[Finding, ...] = ()


def touched(picture: Picture, touches: Sequence[Touch], carried: Carried = as_it_is) -> Touched:
    """The picture after all touch-ups, one after another; the very same when there is none."""
    if not touches:
        return Touched(picture)
    values = _values(picture)
    findings = [
        _told(touch, code, carried, picture.height)
        for touch in touches
        if (code := _paint(values, touch, carried))
    ]
    alpha = None if picture.alpha is None else values[..., 3]
    return Touched(replace(picture, pixels=values[..., :3], alpha=alpha), tuple(findings))


def _values(picture: Picture) -> Pixels:
    """(h, w, 3 or 4) a copy to write to; transparency is a channel like the others."""
    if picture.alpha is None:
        return picture.pixels.copy()
    return np.dstack((picture.pixels, picture.alpha))


def _paint(values: Pixels, touch: Touch, carried: Carried) -> str:
    """Make one touch-up; "" or the code of what kept it from being one."""
    at = carried(np.array([touch.at]))[0]
    if not _is_within(at, values):
        return "touch-outside"
    if touch.way is Way.FILL:
        return _filled(values, at)
    if touch.way is Way.RUB:
        return _rubbed(values, touch, carried)
    return _barred(values, touch, carried)


def _is_within(at: Floats, values: Pixels) -> bool:
    return bool(0.0 <= at[0] < values.shape[1] and 0.0 <= at[1] < values.shape[0])


def _filled(values: Pixels, at: Floats) -> str:
    speck = speck_at(values, at)
    if speck is None:
        return "touch-idle"
    window, mask, tint = speck
    values[window][mask] = tint
    return ""


def disc(at: Point, radius: float) -> Floats:
    """(n, 2) px, a polygon as large as the disc."""
    angle = np.arange(DISC_CORNERS) * (2.0 * np.pi / DISC_CORNERS)
    # the polygon has the disc's area, so its edge strays half as far
    even = radius * np.sqrt(2.0 * np.pi / DISC_CORNERS / np.sin(2.0 * np.pi / DISC_CORNERS))
    return np.asarray(np.array(at) + even * np.column_stack((np.cos(angle), np.sin(angle))))


def bar(start: Point, end: Point, width: float) -> Floats:
    """(4, 2) px, the corners of a bar with flat ends at start and end."""
    tail, head = np.array(start), np.array(end)
    ahead = (head - tail) / np.hypot(*(head - tail))
    aside = np.array([-ahead[1], ahead[0]]) * (width / 2.0)
    return np.array([tail - aside, head - aside, head + aside, tail + aside])


def _rubbed(values: Pixels, touch: Touch, carried: Carried) -> str:
    inner = carried(disc(touch.at, touch.size + RING_GAP))
    outer = carried(disc(touch.at, touch.size + RING_GAP + RING_WIDTH))
    beside = covered(outer, *values.shape[:2])
    within = covered(inner, *values.shape[:2])
    ring = beside.share > 0.5
    row, column = within.top - beside.top, within.left - beside.left
    rows, columns = within.share.shape
    ring[row : row + rows, column : column + columns] &= within.share == 0.0
    if not ring.any():
        return "touch-outside"
    tint = tint_of(values[beside.window][ring])
    return _mixed(values, covered(carried(disc(touch.at, touch.size)), *values.shape[:2]), tint)


def _barred(values: Pixels, touch: Touch, carried: Carried) -> str:
    if touch.to is None or touch.to == touch.at:
        return "touch-idle"
    ends = carried(np.array([touch.at, touch.to]))
    if not _is_within(ends[1], values):
        return "touch-outside"
    cover = covered(carried(bar(touch.at, touch.to, touch.size)), *values.shape[:2])
    return _mixed(values, cover, _along(values, ends, cover))


def _along(values: Pixels, ends: Floats, cover: Cover) -> Floats:
    """(rows, columns, channels) the colour at one end going over into that at the other, if they are one."""
    first, last = (tint_at(values, end) for end in ends)
    if np.linalg.norm(first[:3] - last[:3]) > ONE_COLOUR:
        last = first
    run = ends[1] - ends[0]
    way = np.clip((cover.centres() - ends[0]) @ run / (run @ run), 0.0, 1.0)
    return np.asarray(first + way[..., None] * (last - first))


def _mixed(values: Pixels, cover: Cover, tint: Floats) -> str:
    """Lay the tint over what is covered."""
    old = values[cover.window]
    new = old + cover.share[..., None] * (tint - old)
    changed = np.abs(new - old).max(axis=-1, initial=0.0) > UNCHANGED
    values[cover.window] = new
    is_idle = np.count_nonzero(changed) < max(1.0, LEAST_CHANGED * float(cover.share.sum()))
    return "touch-idle" if is_idle else ""


_SENTENCES = {
    "touch-idle": ("finds nothing to do here", "Look at this place again, and drop or move the edit."),
    "touch-outside": ("lies outside the picture", "Drop the edit, or crop the picture less."),
}


def _told(touch: Touch, code: str, carried: Carried, height: int) -> Finding:
    text, remedy = _SENTENCES[code]
    x, y = carried(np.array([touch.at]))[0].tolist()
    return Finding(Level.CAUTION, code, f"The touch-up {touch.way} {text}.", remedy, (x, height - y))
