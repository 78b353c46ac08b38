"""Whether the second picture is stretched more in one direction than in another.

Where it lies by its Pose, any affine map is let loose: p goes to p + M (p - middle) / span + shift, with M
and shift (six numbers) from least squares, step by step, the reach shrinking as in settle.py.
"""

import numpy as np

from core.outline.curve import dot
from core.outline.segments import Floats
from core.second.settle import ALIKE, Fit, Lookup, normal_equations, reach_of
from core.second.traced import Samples

#: Reach of the first step, px, its shrinking, and the steps: a stretch of 3 % moves the rim of 600 px by 9.
FIRST_REACH, SHRINK, STEPS = 12.0, 0.7, 14
#: Share of the trace that keeps what the edges cannot tell (a disc tells no turn) as it is.
HOLD = 1e-6
#: Points of the edge that are asked, and the fewest that six numbers may be taken from.
POINTS, FEWEST = 800, 12


def stretch_of(lookup: Lookup, samples: Samples, fit: Fit) -> float:
    """How much longer one direction is drawn than the other (0 is none): ratio of singular values less 1."""
    thin = samples.thinned(POINTS)
    start = fit.pose.of(thin.at)
    away = start - start.mean(axis=0)
    span = max(float(np.hypot(*away.T).mean()), 1.0)
    change, reach, last = np.zeros(6), FIRST_REACH, max(reach_of(fit.pose), lookup.cell)
    for _ in range(STEPS):
        moved = start + _affine(change, away / span)
        across, normal, held = _seen(lookup, thin, fit, moved, reach)
        if np.count_nonzero(held) < FEWEST:
            return 0.0
        change = change + _step(away[held] / span, normal[held], across[held], thin.weight[held])
        reach = max(reach * SHRINK, last)
    sizes = np.linalg.svd(np.eye(2) + change[:4].reshape(2, 2) / span, compute_uv=False)
    return float(sizes[0] / sizes[1] - 1.0)


def _affine(change: Floats, away: Floats) -> Floats:
    """(n, 2) how far the six numbers move places that lie away (n, 2) from the middle, in spans."""
    u, v = away.T
    x = u * change[0] + v * change[1] + change[4]
    return np.column_stack((x, u * change[2] + v * change[3] + change[5]))


def _seen(
    lookup: Lookup, thin: Samples, fit: Fit, moved: Floats, reach: float
) -> tuple[Floats, Floats, np.ndarray]:
    """(n,) px off along the nearest edge's normal, (n, 2) that normal, (n,) whether they are one edge."""
    off, normal = lookup.at(moved)
    across = dot(np.where(np.isfinite(off), off, 0.0), normal) - fit.growth
    turned = fit.pose.directions(thin.to_light) / fit.pose.scale
    near = (np.hypot(*off.T) <= reach + abs(fit.growth)) & (np.abs(across) <= reach)
    return across, normal, near & (np.abs(dot(turned, normal)) >= ALIKE)


def _step(away: Floats, normal: Floats, across: Floats, weight: Floats) -> Floats:
    """(6,) the change that takes most of what is left."""
    (u, v), (x, y) = away.T, normal.T
    rows = np.column_stack((u * x, v * x, u * y, v * y, x, y))
    left, right = normal_equations(rows, -across, weight)
    return np.asarray(np.linalg.solve(left + HOLD * float(np.trace(left)) * np.eye(6), right))
