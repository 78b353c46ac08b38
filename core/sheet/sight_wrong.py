"""Whether a part also fits its sight edges turned, or turned over: an outline that is like itself does.

The feet of the strips are turned by many angles, mirrored too, and each time settled on the edge by least
squares, the nearest place's tangent standing for the edge (as in iterated closest points, Chen and Medioni
1992). A way that leaves no foot farther off than an eye tells is a way to lay it wrong.
"""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.sheet.edge_places import EdgePlaces

#: Turns tried all round, and steps of settling each.
TURNS, STEPS = 48, 12
#: mm: an edge that misses its strip by less everywhere is taken to fit: four times what an eye errs by.
TELLS_MM = 0.6
#: rad: a fit turned by less is the right one.
SAME = np.radians(4.0)
#: Keeps a step finite where the feet tell no turn.
DAMPING = 1e-6


@dataclass(frozen=True)
class WrongFit:
    """Turned by so much, rad, and turned over or not; how far the worst foot is off, mm."""

    turn: float
    is_turned_over: bool
    miss_mm: float


def wrong_fits(places: EdgePlaces, feet: Floats) -> tuple[WrongFit, ...]:
    """The best way to lay it wrong unseen, one each of turned and turned over, where there is any.

    feet (n, k, 2) mm on the edge beside each strip.
    """
    feet = feet[:, [0, feet.shape[1] // 2, -1]].reshape(-1, 2)
    middle = places.points.mean(axis=0)
    found = []
    for is_over in (False, True):
        start = (feet - middle) * np.array([-1.0 if is_over else 1.0, 1.0])
        fits = [_settled(places, start, middle, turn) for turn in 2.0 * np.pi * np.arange(TURNS) / TURNS]
        wrong = [fit for fit in fits if is_over or abs(np.angle(np.exp(1j * fit[0]))) > SAME]
        if wrong:
            turn, miss = min(wrong, key=lambda fit: fit[1])
            found.append(WrongFit(float(np.angle(np.exp(1j * turn))), is_over, miss))
    return tuple(fit for fit in found if fit.miss_mm < TELLS_MM)


def _settled(places: EdgePlaces, start: Floats, middle: Floats, turn: float) -> tuple[float, float]:
    """The turn at which feet (about the middle) come to rest, and how far the worst is off the edge, mm."""
    shift = middle.copy()
    off = np.zeros(len(start))
    for step in range(STEPS + 1):
        c, s = np.cos(turn), np.sin(turn)
        feet = start @ np.array([[c, s], [-s, c]])
        gaps = ((feet + shift)[:, None] - places.points[None]).transpose(2, 0, 1)
        near = np.hypot(*gaps).argmin(axis=1)
        normals = places.normals[near]
        off = ((feet + shift - places.points[near]) * normals).sum(axis=1)
        if step == STEPS:
            break
        rows = np.column_stack((normals, feet[:, 0] * normals[:, 1] - feet[:, 1] * normals[:, 0]))
        x, y, angle = np.linalg.solve(rows.T @ rows + DAMPING * np.eye(3), -rows.T @ off)
        shift, turn = shift + np.array([x, y]), turn + float(np.clip(angle, -0.2, 0.2))
    return turn, float(np.abs(off).max())
