"""A closed run of curves that is a circle within the tolerance becomes that circle."""

import math

import numpy as np

from core.artwork.edges import Bezier, SubPath, circle
from core.artwork.ink import ROUGHLY


def rounded(path: SubPath, tolerance: float) -> SubPath:
    """The circle that a sub-path is, within tolerance and run the same way; else the sub-path itself.

    The circle is the least squares one of x^2 + y^2 + a x + b y + c = 0 (I. Kasa, 1976).
    """
    curves = [edge for edge in path.edges if isinstance(edge, Bezier)]
    others = [edge for edge in path.edges if not isinstance(edge, Bezier) and edge.start != edge.end]
    if not path.is_closed or len(curves) < 2 or others:
        return path
    spots = np.concatenate([edge.at(ROUGHLY)[:-1] for edge in curves])
    middle = spots.mean()
    x, y = (spots - middle).real, (spots - middle).imag
    a, b, c = np.linalg.lstsq(np.column_stack((x, y, np.ones(len(x)))), -(x**2 + y**2), rcond=None)[0]
    centre = complex(middle) - complex(a, b) / 2.0
    square = abs(complex(a, b)) ** 2 / 4.0 - float(c)
    radius = math.sqrt(max(square, 0.0))
    turns = np.angle((np.roll(spots, -1) - centre) * (spots - centre).conj())
    once = abs(abs(float(turns.sum())) - 2.0 * math.pi) < 1e-6 and (turns > 0.0).all() == (turns.sum() > 0.0)
    if not (once and np.abs(np.abs(spots - centre) - radius).max() <= tolerance):
        return path
    return circle(centre, radius if turns.sum() > 0.0 else -radius)
