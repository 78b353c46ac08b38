"""B-splines, rational ones too, as Bezier curves: one for every span between two knots that differ.

The points of a span's curve are the spline's blossom at the span's ends (L. Ramshaw, Blossoms are polar
forms, 1989), found by de Boor's recursion; a rational spline is one of weighted points and weights.
"""

from itertools import pairwise

import numpy as np

from core.artwork.edges import Bezier, Floats, Points


def beziers(spots: Points, knots: Floats, degree: int, weights: Floats | None) -> list[Bezier]:
    """The Bezier curves of a spline: spots (n,), rising knots (n + degree + 1,), weights (n,) above 0."""
    weight = np.ones(len(spots)) if weights is None else weights
    poles = np.column_stack((spots * weight, weight.astype(np.complex128)))
    found = []
    for span in range(degree, len(spots)):
        low, high = float(knots[span]), float(knots[span + 1])
        if low == high:
            continue
        rows = [_blossom(poles, knots, span, [low] * (degree - k) + [high] * k) for k in range(degree + 1)]
        points, shares = np.array(rows)[:, 0], np.array(rows)[:, 1].real
        found.append(Bezier(points / shares, None if weights is None else shares))
    return _end_to_end(found)


def _blossom(poles: Points, knots: Floats, span: int, at: list[float]) -> Points:
    """The polar form of a span at as many parameters as its degree."""
    degree = len(at)
    row = poles[span - degree : span + 1].copy()
    for step, value in enumerate(at, start=1):
        for k in range(degree, step - 1, -1):
            first = span - degree + k
            share = (value - knots[first]) / (knots[first + degree - step + 1] - knots[first])
            row[k] = (1.0 - share) * row[k - 1] + share * row[k]
    return np.asarray(row[degree])


def _end_to_end(curves: list[Bezier]) -> list[Bezier]:
    """The same curves, each beginning to the last bit where the one before ends."""
    for before, after in pairwise(curves):
        after.points[0] = before.points[-1]
    return curves
