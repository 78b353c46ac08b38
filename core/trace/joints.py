"""Where two neighbouring pieces meet: at the crossing of their lines and arcs, never at a rounded pixel.

Corners: the crossing nearest to the break. It may lie beyond the last sample by about 1 / sin(half the tip
angle), because both edges of a sharp tip are read only as far as they are apart. Where the two curves
hardly cross (tangent joints) or cross too far off, the joint starts half-way between the two.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.trace.breaks import Split
from core.trace.faces import Bools, Ints
from core.trace.moments import fits
from core.trace.rows import rows_of
from core.trace.strung import Strung, strung

#: px; a crossing this near the break is always believed, times 1 / sin(half the tip angle).
CROSSING_REACH = 3.0

#: The reach of a very sharp tip ends here, px.
FURTHEST_TIP = 40.0

#: Sine of the angle under which lines are parallel; px between the centres of circles that are one.
LEAST_SINE, LEAST_GAP = 1e-9, 1e-6


@dataclass(frozen=True, eq=False)
class Curves:
    """Lines through ``on`` (n, 2) px along ``along`` (n, 2), or (radius (n,) > 0) circles about ``on``.

    The sense in which a circle is run is along[:, 0]: 1 counter-clockwise, else -1.
    """

    on: Floats
    along: Floats
    radius: Floats

    def __len__(self) -> int:
        return len(self.radius)

    def __getitem__(self, which: Ints | Bools | slice) -> "Curves":
        return Curves(self.on[which], self.along[which], self.radius[which])

    def nearest(self, points: Floats) -> Floats:
        """(n, 2) the place on each whole line or circle nearest to a point of its own."""
        off = points - self.on
        away = np.maximum(np.hypot(off[:, 0], off[:, 1]), 1e-12)
        along = np.sum(off * self.along, axis=1)
        return np.asarray(
            self.on
            + np.where(
                self.radius[:, None] > 0.0,
                off * (self.radius / away)[:, None],
                self.along * along[:, None],
            )
        )

    def headings(self, points: Floats) -> Floats:
        """(n, 2) unit direction of travel at the place nearest to a point of its own."""
        off = points - self.on
        turned = np.column_stack((-off[:, 1], off[:, 0])) * self.along[:, :1]
        turned /= np.maximum(np.hypot(off[:, 0], off[:, 1]), 1e-12)[:, None]
        return np.where(self.radius[:, None] > 0.0, turned, self.along)


#: What a chain has whose samples are too few.
NO_CURVES = Curves(np.empty((0, 2)), np.empty((0, 2)), np.empty(0))


def together(parts: Sequence[Curves]) -> Curves:
    """All of them, one behind the other; at least one part."""
    return Curves(
        np.concatenate([part.on for part in parts]),
        np.concatenate([part.along for part in parts]),
        np.concatenate([part.radius for part in parts]),
    )


def curves(splits: tuple[Split, ...]) -> tuple[Curves, ...]:
    """For every track the fitted line or circle of each of its pieces, in the frame of the samples."""
    if not splits:
        return ()
    row = strung(tuple(split.track for split in splits))
    low = np.concatenate([split.pieces.breaks[:-1] + at for split, at in zip(splits, row.first, strict=True)])
    high = np.concatenate([split.pieces.breaks[1:] + at for split, at in zip(splits, row.first, strict=True)])
    is_arc = np.concatenate([split.pieces.is_arc for split in splits])
    every = Curves(*_fitted(row, low, high, is_arc))
    rows = rows_of(tuple(split.pieces.is_arc for split in splits))
    return tuple(every[rows.own(at)] for at in range(len(rows)))


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


def crossings(one: Curves, other: Curves) -> Floats:
    """(n, 2, 2) px: where each curve crosses its other, nan for where it does not."""
    found = np.full((len(one), 2, 2), np.nan)
    round_one, round_other = one.radius > 0.0, other.radius > 0.0
    for which, first, second, meet in (
        (~round_one & ~round_other, one, other, _of_lines),
        (~round_one & round_other, one, other, _of_line_and_circle),
        (round_one & ~round_other, other, one, _of_line_and_circle),
        (round_one & round_other, one, other, _of_circles),
    ):
        if which.any():
            found[which] = meet(first[which], second[which])
    return found


def _cross(one: Floats, other: Floats) -> Floats:
    return np.asarray(one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0])


def _of_lines(one: Curves, other: Curves) -> Floats:
    det = _cross(one.along, other.along)
    found = np.full((len(det), 2, 2), np.nan)
    meet = np.abs(det) >= LEAST_SINE
    reach = _cross(other.on - one.on, other.along)[meet] / det[meet]
    found[meet, 0] = one.on[meet] + reach[:, None] * one.along[meet]
    return found


def _of_line_and_circle(line: Curves, circle: Curves) -> Floats:
    foot = line.nearest(circle.on)
    square = circle.radius**2 - np.sum((foot - circle.on) ** 2, axis=1)
    half = np.sqrt(np.where(square >= 0.0, square, np.nan))[:, None] * line.along
    return np.stack((foot + half, foot - half), axis=1)


def _of_circles(one: Curves, other: Curves) -> Floats:
    gap = other.on - one.on
    square = np.maximum(np.sum(gap**2, axis=1), 1e-300)
    share = 0.5 + (one.radius**2 - other.radius**2) / (2.0 * square)
    high = one.radius**2 / square - share**2
    meet = (square >= LEAST_GAP**2) & (high >= 0.0)
    side = np.sqrt(np.where(meet, high, np.nan))[:, None] * np.column_stack((-gap[:, 1], gap[:, 0]))
    foot = one.on + share[:, None] * gap
    return np.stack((foot + side, foot - side), axis=1)


def turns_at(one: Curves, other: Curves, points: Floats) -> Floats:
    """(n,) rad, -pi to pi, by which travel turns from one curve to its other at a point."""
    a, b = one.headings(points), other.headings(points)
    return np.asarray(np.arctan2(_cross(a, b), np.sum(a * b, axis=1)))


@dataclass(frozen=True, eq=False)
class Met:
    """The crossing at (n, 2) nearest to each place asked for, and how far (n,) px; infinite for none."""

    at: Floats
    away: Floats


def nearest_crossings(one: Curves, other: Curves, near: Floats) -> Met:
    """Of the crossings of each curve with its other, the one nearest to a place."""
    found = crossings(one, other)
    off = found - near[:, None]
    away = np.hypot(off[..., 0], off[..., 1])
    away = np.where(np.isnan(away), np.inf, away)
    best = np.argmin(away, axis=1)
    each = np.arange(len(best))
    return Met(found[each, best], away[each, best])


def joints(one: Curves, other: Curves, near: Floats) -> Floats:
    """(n, 2) where each curve meets its other: at a crossing near a place, or half-way between them there."""
    between = (one.nearest(near) + other.nearest(near)) / 2.0
    met = nearest_crossings(one, other, near)
    there = np.isfinite(met.away)
    best = np.where(there[:, None], met.at, between)
    half_tip = (np.pi - np.abs(turns_at(one, other, best))) / 2.0
    reach = np.minimum(CROSSING_REACH / np.maximum(np.sin(half_tip), 1e-3), FURTHEST_TIP)
    return np.where((met.away <= reach)[:, None], best, between)
