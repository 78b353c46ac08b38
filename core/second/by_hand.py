"""A second picture laid by hand: pairs of points, one on each picture, brought together by least squares."""

import numpy as np

from core.findings import Point
from core.second.pose import Pose

Pairs = tuple[tuple[Point, Point], ...]
"""Each a point of the second picture and the same point on the first, px, y up."""


def pose_of(pairs: Pairs) -> tuple[Pose, float]:
    """The Pose with the least sum of squares, and the root mean square that is left, px of the first.

    As complex numbers the best w = a z + b has a = sum(conj(z - z0) (w - w0)) / sum(|z - z0|^2). Points
    of the second that lie all in one place tell nothing of scale and turn: the Pose then only shifts.
    """
    second, first = (np.array([complex(*pair[side]) for pair in pairs]) for side in (0, 1))
    off, there = second - second.mean(), first - first.mean()
    spread = float((np.abs(off) ** 2).sum())
    factor = complex((off.conj() * there).sum() / spread) if spread > 0.0 else 1.0 + 0.0j
    if factor == 0.0:
        factor = 1.0 + 0.0j
    shift = complex(first.mean() - factor * second.mean())
    left = np.abs(factor * second + shift - first)
    pose = Pose(factor.real, factor.imag, (shift.real, shift.imag))
    return pose, float(np.sqrt((left**2).mean()))
