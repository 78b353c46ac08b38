"""Mirror symmetry: the axis about which the edge is its own image.

Plot: a symmetric edge has its axis through the centroid of places along it -> every few degrees the image is
held against the edge -> the best few are refined by least squares -> of those that fit as well as the best
the one nearest to upright.
"""

import numpy as np

from core.outline.curve import picked, sideways
from core.outline.segments import Floats
from core.regular.edge import FLATNESS, Edge
from core.regular.relation import STEP, mirrored

#: How many of the edge's places are held against it while axes are looked for, and axes in a half turn.
FEWER, AXES = 120, 60
#: The axes that are refined, and in how many steps.
REFINED, STEPS = 6, 12
#: Of the places, the share that tells how well an axis fits: the rest may be where halves differ.
MOST = 0.9
#: Share of the outline's size by which an image may be off before an axis is refined at all.
WORTH = 0.03
#: How many times as badly as the best, or px, another axis may fit and still be as good.
AS_GOOD, AS_GOOD_PX = 2.0, 0.1

#: Angle, rad, and how far to the left of the origin it passes, px.
Axis = tuple[float, float]


def image_of(points: Floats, axis: Axis) -> Floats:
    """(n, 2) px, reflected about an axis."""
    return mirrored(points, np.full(len(points), axis[0]), np.full(len(points), axis[1]))


def best_axis(edge: Edge) -> Axis | None:
    """The axis that fits best, and of several the one nearest to upright; None where none comes near."""
    middle = edge.centroid()
    size = float(np.ptp(edge.places, axis=0).max())
    angles = np.arange(AXES) * (np.pi / AXES)
    few = edge.places[:: max(1, len(edge.places) // FEWER)]
    scores = np.array([_score(edge, _through(middle, angle), few) for angle in angles.tolist()])
    is_low = (scores <= np.roll(scores, 1)) & (scores <= np.roll(scores, -1)) & (scores < WORTH * size)
    order = [row for row in np.argsort(scores, kind="stable").tolist() if is_low[row]][:REFINED]
    refined = [_refined(edge, _through(middle, float(angles[row]))) for row in order]
    if not refined:
        return None
    fits = [_score(edge, axis, edge.places) for axis in refined]
    good = [
        axis for axis, fit in zip(refined, fits, strict=True) if fit <= max(AS_GOOD * min(fits), AS_GOOD_PX)
    ]
    return min(good, key=lambda axis: abs(np.cos(axis[0])))


def _through(point: Floats, angle: float) -> Axis:
    return angle, float(np.cos(angle) * point[1] - np.sin(angle) * point[0])


def _score(edge: Edge, axis: Axis, places: Floats) -> float:
    return float(np.quantile(edge.off(image_of(places, axis)), MOST))


def _refined(edge: Edge, axis: Axis) -> Axis:
    """Least squares on angle and offset; places whose image has no edge beside it do not count."""
    middle = edge.centroid()
    for _ in range(STEPS):
        image = image_of(edge.places, axis)
        near = picked(edge.segments, edge.nearest(image))
        off = sideways(near, image)
        turned = (
            axis[0] + STEP,
            _through(middle, axis[0] + STEP)[1] + axis[1] - _through(middle, axis[0])[1],
        )
        slopes = np.column_stack(
            (
                sideways(near, image_of(edge.places, turned)) - off,
                sideways(near, image_of(edge.places, (axis[0], axis[1] + STEP))) - off,
            )
        )
        fair = np.abs(off) <= np.quantile(np.abs(off), MOST) + FLATNESS
        weight = np.sqrt(edge.weight[fair])
        step = np.linalg.lstsq(slopes[fair] / STEP * weight[:, None], -off[fair] * weight, rcond=None)[0]
        angle, offset = _turned(axis, float(step[0]), middle)
        axis = angle, offset + float(step[1])
    return axis


def _turned(axis: Axis, angle: float, about: Floats) -> Axis:
    """The axis turned about a point; it passes that as far off as before."""
    off = axis[1] - _through(about, axis[0])[1]
    return axis[0] + angle, _through(about, axis[0] + angle)[1] + off
