"""Whether the second picture is stretched more in one direction than in another."""

import numpy as np

from core.outline.curve import dot
from core.second.settle import ALIKE, Fit, Lookup, reach_of
from core.second.traced import Samples

#: Reach of the first step, px, its shrinking, and the steps: a stretch of 3 % moves the rim of 600 px by 9.
FIRST_REACH, SHRINK, STEPS = 12.0, 0.7, 14
#: Share of the trace that keeps what the edges cannot tell (a disc tells no turn) as it is.
HOLD = 1e-6
POINTS = 800


def stretch_of(lookup: Lookup, samples: Samples, fit: Fit) -> float:
    """How much longer one direction is drawn than the other (0 is none): ratio of singular values less 1."""
    thin = samples.thinned(POINTS)
    start = fit.pose.of(thin.at)
    middle, span = start.mean(axis=0), max(float(np.hypot(*(start - start.mean(axis=0)).T).mean()), 1.0)
    u, v = ((start - middle) / span).T
    turned = fit.pose.directions(thin.to_light) / fit.pose.scale
    change, reach, last = np.zeros(6), FIRST_REACH, max(reach_of(fit.pose), lookup.cell)
    for _ in range(STEPS):
        moved = start + np.column_stack(
            (u * change[0] + v * change[1] + change[4], u * change[2] + v * change[3] + change[5])
        )
        off, normal = lookup.at(moved)
        across = dot(np.where(np.isfinite(off), off, 0.0), normal) - fit.growth
        held = (
            (np.abs(dot(turned, normal)) >= ALIKE)
            & (np.hypot(*off.T) <= reach + abs(fit.growth))
            & (np.abs(across) <= reach)
        )
        if np.count_nonzero(held) < 12:
            return 0.0
        x, y = normal[held].T
        rows = np.column_stack((u[held] * x, v[held] * x, u[held] * y, v[held] * y, x, y))
        left = (rows * thin.weight[held, None]).T @ rows
        hold = HOLD * float(np.trace(left)) * np.eye(6)
        change = change + np.linalg.solve(left + hold, -(rows * thin.weight[held, None]).T @ across[held])
        reach = max(reach * SHRINK, last)
    sizes = np.linalg.svd(np.eye(2) + change[:4].reshape(2, 2) / span, compute_uv=False)
    return float(sizes[0] / sizes[1] - 1.0)
