"""Where two neighbouring pieces meet: at the crossing of their lines and arcs, never at a rounded pixel.

Corners: the crossing nearest to the break. It may lie beyond the last sample by about 1 / sin(half the tip
angle), because both edges of a sharp tip are read only as far as they are apart. Where the two curves
hardly cross (tangent joints) or cross too far off, the joint starts half-way between the two.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from core.outline.segments import Floats
from core.trace.breaks import Pieces
from core.trace.moments import fits, powers
from core.trace.track import Track

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


def curves(track: Track, pieces: Pieces) -> tuple[Curve, ...]:
    """The fitted line or circle of every piece, in the frame of the samples."""
    return tuple(
        _curve(track, int(first), int(last), is_arc=bool(kind))
        for (first, last), kind in zip(pairwise(pieces.breaks), pieces.is_arc, strict=True)
    )


def _curve(track: Track, first: int, last: int, *, is_arc: bool) -> Curve:
    off = int(track.trims(np.array(last - first)))
    run = track.places[first + off : last - off + 1]
    origin = run[0]
    found = fits(powers(run - origin, track.weight[first + off : last - off + 1]).sum(axis=0))
    forward = run[-1] - run[0] if len(run) > 1 else track.places[last] - track.places[first]
    if not is_arc:
        along = found.direction if len(run) > 1 else forward / max(float(np.hypot(*forward)), 1e-12)
        return Curve(origin + found.mean, along * (1.0 if float(along @ forward) >= 0.0 else -1.0), 0.0)
    centre = origin + found.centre
    spokes = run - centre
    turn = float(np.sum(spokes[:-1, 0] * spokes[1:, 1] - spokes[:-1, 1] * spokes[1:, 0]))
    return Curve(centre, np.array([1.0 if turn >= 0.0 else -1.0, 0.0]), float(found.radius))


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
