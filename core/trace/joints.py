"""Where two neighbouring pieces meet: at the crossing of their lines and arcs, never at a rounded pixel.

Corners: the crossing nearest to the break. It may lie beyond the last sample by about 1 / sin(half the tip
angle), because both edges of a sharp tip are read only as far as they are apart. Where the two curves
hardly cross (tangent joints) or cross too far off, the joint starts half-way between the two.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.breaks import Split
from core.trace.faces import Bools, Ints
from core.trace.moments import fits
from core.trace.strung import Strung, strung

#: px; a crossing this near the break is always believed, times 1 / sin(half the tip angle).
CROSSING_REACH = 3.0

#: The reach of a very sharp tip ends here, px.
FURTHEST_TIP = 40.0


@dataclass(frozen=True, eq=False)
class Curve:
    """A line through ``on`` along ``along``, or (radius > 0) a circle about ``on``."""

    on: Floats
    along: Floats
    radius: float

    def nearest(self, point: Floats) -> Floats:
        """The place on the whole line or circle nearest to a point."""
        off = point - self.on
        if self.radius > 0.0:
            return np.asarray(self.on + off * (self.radius / max(float(np.hypot(*off)), 1e-12)))
        return np.asarray(self.on + self.along * float(off @ self.along))

    def heading(self, point: Floats) -> Floats:
        """Unit direction of travel at the place nearest to a point; along says the sense of a circle."""
        if self.radius > 0.0:
            off = (point - self.on) / max(float(np.hypot(*(point - self.on))), 1e-12)
            return np.asarray(np.array([-off[1], off[0]]) * self.along[0])
        return np.asarray(self.along)


def curves(splits: tuple[Split, ...]) -> tuple[tuple[Curve, ...], ...]:
    """For every track the fitted line or circle of each of its pieces, in the frame of the samples."""
    if not splits:
        return ()
    row = strung(tuple(split.track for split in splits))
    low = np.concatenate([split.pieces.breaks[:-1] + at for split, at in zip(splits, row.first, strict=True)])
    high = np.concatenate([split.pieces.breaks[1:] + at for split, at in zip(splits, row.first, strict=True)])
    is_arc = np.concatenate([split.pieces.is_arc for split in splits])
    on, along, radius = _fitted(row, low, high, is_arc)
    every = [Curve(*item) for item in zip(on, along, radius.tolist(), strict=True)]
    ends = np.cumsum([len(split.pieces.is_arc) for split in splits]).tolist()
    return tuple(tuple(every[start:end]) for start, end in zip([0, *ends], ends, strict=False))


def _fitted(row: Strung, low: Ints, high: Ints, is_arc: Bools) -> tuple[Floats, Floats, Floats]:
    """What Curve names on, along (n, 2) and radius (n,), for the trimmed pieces from low to high."""
    found = fits(row.pieces(low, high))
    off = row.trims(high - low)
    start, end = row.places[low + off], row.places[high - off]
    forward = np.where((high - low > 2 * off)[:, None], end - start, row.places[high] - row.places[low])
    along = found.directions()
    along *= np.where(np.sum(along * forward, axis=1) >= 0.0, 1.0, -1.0)[:, None]
    bare = np.nonzero((high - low <= 2 * off) & ~is_arc)[0]
    along[bare] = forward[bare] / np.maximum(np.hypot(*forward[bare].T), 1e-12)[:, None]
    sense = np.where(_turned(row, low + off, high - off, row.places[low] + found.centre) >= 0.0, 1.0, -1.0)
    along[is_arc] = np.column_stack((sense, np.zeros(len(sense))))[is_arc]
    on = row.places[low] + np.where(is_arc[:, None], found.centre, found.mean)
    return on, along, np.where(is_arc, found.radius, 0.0)


def _turned(row: Strung, low: Ints, high: Ints, centre: Floats) -> Floats:
    """(n,) twice the area that the spokes from a centre to the samples from low to high sweep over."""
    one, other = row.places[:-1], row.places[1:]
    origin = row.places[low]
    swept = np.concatenate((np.zeros(1), np.cumsum(one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0])))
    step = row.places[high] - origin
    about = swept[high] - swept[low]
    return np.asarray(about - centre[:, 0] * step[:, 1] + centre[:, 1] * step[:, 0])


def crossings(one: Curve, other: Curve) -> Floats:
    """(k, 2) px, k 0 to 2: where two curves cross."""
    if one.radius == 0.0 and other.radius == 0.0:
        det = one.along[0] * other.along[1] - one.along[1] * other.along[0]
        if abs(det) < 1e-9:
            return np.empty((0, 2))
        gap = other.on - one.on
        reach = (gap[0] * other.along[1] - gap[1] * other.along[0]) / det
        return np.asarray((one.on + reach * one.along)[None])
    if one.radius == 0.0:
        return _line_circle(one, other)
    if other.radius == 0.0:
        return _line_circle(other, one)
    return _circle_circle(one, other)


def _line_circle(line: Curve, circle: Curve) -> Floats:
    foot = line.nearest(circle.on)
    square = circle.radius**2 - float(np.sum((foot - circle.on) ** 2))
    if square < 0.0:
        return np.empty((0, 2))
    half = np.sqrt(square) * line.along
    return np.array([foot + half, foot - half])


def _circle_circle(one: Curve, other: Curve) -> Floats:
    gap = other.on - one.on
    square = float(gap @ gap)
    if square < 1e-12:
        return np.empty((0, 2))
    share = 0.5 + (one.radius**2 - other.radius**2) / (2.0 * square)
    high = one.radius**2 / square - share**2
    if high < 0.0:
        return np.empty((0, 2))
    side = np.sqrt(high) * np.array([-gap[1], gap[0]])
    foot = one.on + share * gap
    return np.array([foot + side, foot - side])


def turn_at(one: Curve, other: Curve, point: Floats) -> float:
    """rad, -pi to pi, by which travel turns from one curve to the other at a point."""
    a, b = one.heading(point), other.heading(point)
    return float(np.arctan2(a[0] * b[1] - a[1] * b[0], a @ b))


def joint(one: Curve, other: Curve, near: Floats) -> Floats:
    """Where the two meet: their crossing near a point, or half-way between them there."""
    between = np.asarray((one.nearest(near) + other.nearest(near)) / 2.0)
    found = crossings(one, other)
    if not len(found):
        return between
    away = np.hypot(*(found - near).T)
    best = found[int(np.argmin(away))]
    half_tip = (np.pi - abs(turn_at(one, other, best))) / 2.0
    reach = min(CROSSING_REACH / max(np.sin(half_tip), 1e-3), FURTHEST_TIP)
    return best if float(away.min()) <= reach else between
