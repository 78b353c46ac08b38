"""Where points lie beside segments: signed distance, foot, fraction, each for row i of both.

The circle through a segment (c its chord, h half its sweep, s and e its ends) is kept as the equation
f(p) = (cos h (s - p) x (e - p) - sin h (s - p) . (e - p)) / c = 0 (inscribed angle theorem). Near the
curve f is the distance to its left; it stays well-conditioned when the arc is nearly straight, where
radius and centre lose their digits, and is the equation of the line when h is 0.
"""

import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats, Segments

Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]


def cross(a: Floats, b: Floats) -> Floats:
    """(n,) z of the cross product of rows."""
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])


def dot(a: Floats, b: Floats) -> Floats:
    """(n,) scalar product of rows."""
    return np.asarray(a[:, 0] * b[:, 0] + a[:, 1] * b[:, 1])


def lefts(vectors: Floats) -> Floats:
    """(n, 2) the same vectors turned by a quarter, counter-clockwise."""
    return np.column_stack((-vectors[:, 1], vectors[:, 0]))


def curvatures(segments: Segments) -> Floats:
    """(n,) 1/mm, positive counter-clockwise, 0 for a line: 2 sin h / c."""
    return np.asarray(2.0 * np.sin(segments.half_sweeps()) / segments.chord_lengths())


def equations_at(segments: Segments, points: Floats) -> Floats:
    """(n,) mm: f of segment i at points[i] (n, 2)."""
    half = segments.half_sweeps()
    to_start, to_end = segments.starts - points, segments.ends - points
    mixed = np.cos(half) * cross(to_start, to_end) - np.sin(half) * dot(to_start, to_end)
    return np.asarray(mixed / segments.chord_lengths())


def slopes_at(segments: Segments, points: Floats) -> Floats:
    """(n, 2) the gradient of f of segment i at points[i]."""
    half = segments.half_sweeps()[:, None]
    across = 2.0 * points - segments.starts - segments.ends
    mixed = np.cos(half) * lefts(segments.chords()) - np.sin(half) * across
    return np.asarray(mixed / segments.chord_lengths()[:, None])


def sideways(segments: Segments, points: Floats) -> Floats:
    """(n,) mm: distance of points[i] from the whole line or circle of segment i, positive to its left."""
    f = equations_at(segments, points)
    share = np.maximum(1.0 - 2.0 * f * curvatures(segments), 0.0)  # (distance to the centre / radius)^2
    return np.asarray(2.0 * f / (1.0 + np.sqrt(share)))


def are_beside(segments: Segments, points: Floats) -> Flags:
    """(n,) whether the foot of points[i] falls within segment i: between its end normals."""
    unit = np.full(len(segments), 1.0)
    ahead = dot(points - segments.starts, _directions(segments.headings_at(0.0 * unit))) >= 0.0
    behind = dot(points - segments.ends, _directions(segments.headings_at(unit))) <= 0.0
    minor = np.abs(segments.bulges) <= 1.0
    return np.asarray(np.where(minor, ahead & behind, ahead | behind))


def _directions(headings: Floats) -> Floats:
    return np.asarray(np.column_stack((np.cos(headings), np.sin(headings))))


def end_distances(segments: Segments, points: Floats) -> Floats:
    """(n,) mm from points[i] to the nearer end of segment i."""
    to_start, to_end = points - segments.starts, points - segments.ends
    return np.asarray(np.minimum(np.hypot(*to_start.T), np.hypot(*to_end.T)))


def distances_between(segments: Segments, points: Floats) -> Floats:
    """(n,) mm from points[i] to segment i, exact for arcs."""
    near_side = np.abs(sideways(segments, points))
    return np.asarray(np.where(are_beside(segments, points), near_side, end_distances(segments, points)))


def fractions_of(segments: Segments, points: Floats) -> Floats:
    """(n,) fraction of segment i's sweep at points[i], a point near it; outside 0..1 beyond its ends.

    With complex numbers (p - s) / (e - p) e^(ih) is sin(t h) / sin((1 - t) h), t the fraction.
    """
    half = segments.half_sweeps()
    to_point, to_end = points - segments.starts, segments.ends - points
    mixed = np.cos(half) * dot(to_point, to_end) - np.sin(half) * cross(to_end, to_point)
    before, after = dot(to_point, to_point), dot(to_end, to_end)
    # both forms say the same on the curve; beside an end only the one with the longer square is steady
    far = before > after
    return turned_fractions(half, np.where(far, before, mixed), np.where(far, mixed, after))


def turned_fractions(half: Floats, ahead: Floats, behind: Floats) -> Floats:
    """(n,) the fraction t with sin(t h) / sin((1 - t) h) = ahead / behind; ahead and behind scale freely.

    tan(t h) = ahead sin h / (behind + ahead cos h); a line's fraction is ahead / (ahead + behind).
    """
    curved = half != 0.0
    safe = np.where(curved, half, 1.0)
    sign = np.where(behind + ahead < 0.0, -1.0, 1.0)
    turn = np.arctan2(sign * ahead * np.sin(safe), sign * (behind + ahead * np.cos(safe)))
    with np.errstate(divide="ignore", invalid="ignore"):
        straight = ahead / (ahead + behind)
    fraction = np.where(curved, turn / safe, straight)
    return np.asarray(np.where((ahead == 0.0) & (behind == 0.0), 1.0, fraction))


def part_between(segments: Segments, first: Floats, last: Floats) -> Floats:
    """(n,) the bulge of the part of each segment between two fractions (n,) of its sweep."""
    return np.asarray(np.tan((last - first) * segments.half_sweeps() / 2.0))


def picked(segments: Segments, rows: Ints) -> Segments:
    """The segments of these rows."""
    return Segments(segments.starts[rows], segments.ends[rows], segments.bulges[rows])


def joined(many: list[Segments]) -> Segments:
    """All segments one after another."""
    if not many:
        return Segments(np.empty((0, 2)), np.empty((0, 2)), np.empty(0))
    return Segments(
        np.vstack([each.starts for each in many]),
        np.vstack([each.ends for each in many]),
        np.concatenate([each.bulges for each in many]),
    )
