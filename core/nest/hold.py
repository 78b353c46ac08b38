"""Whether walls hold a part in x, y and turn, and how far it can move between them.

A motion of the part is v = (x, y, turn times reach), turned about a middle. A wall that stands gap mm before
a place with the outward normal n is met when w . v = gap, w = (n_x, n_y, moment of n / reach) (small turns:
screw theory, form closure; Reuleaux 1875). So what walls leave free is a polytope, its corners where three
of them are met at once; the part is held when it is bounded.
"""

from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from core.outline.segments import Floats

Ints = NDArray[np.int64]

#: Directions of motion that a choice of walls is judged by.
DIRECTIONS = 240
#: Share by which a wall must oppose a motion: a wall that lies along it stops nothing.
OPPOSES = 1e-6
#: How well a motion must be opposed before more of it counts for nothing, tried from strict to easy.
STRICTNESS = (1.0, 0.8, 0.65, 0.5, 0.35, 0.2, 0.1)


def wrenches(points: Floats, normals: Floats, middle: Floats, reach: float) -> Floats:
    """(n, 3) w of places (n, 2) mm with outward normals (n, 2)."""
    arms = points - middle
    moments = arms[:, 0] * normals[:, 1] - arms[:, 1] * normals[:, 0]
    return np.column_stack((normals, moments / reach))


def chosen_walls(walls: Floats, apart: NDArray[np.bool_], count: int) -> list[int]:
    """The walls that oppose every motion best; walls (m, k, 3): w of k places of each of m candidates.

    apart (m, m): which candidates may stand beside each other. For each strictness the walls that add most
    to what is opposed are taken one by one; the choice whose worst motion is opposed most is kept.
    """
    if not len(walls):
        return []
    opposed = np.maximum((walls @ _directions().T).max(axis=1), 0.0)
    best: tuple[float, list[int]] = (-1.0, [])
    for strict in STRICTNESS:
        picks = _greedy(np.minimum(opposed, strict), apart, count)
        worst = float(opposed[picks].max(axis=0).min())
        if worst > best[0] + 1e-9 or (worst > best[0] - 1e-9 and len(picks) > len(best[1])):
            best = (worst, picks)
    return best[1]


def _greedy(opposed: Floats, apart: NDArray[np.bool_], count: int) -> list[int]:
    free, had = np.ones(len(opposed), dtype=bool), np.zeros(opposed.shape[1])
    picks: list[int] = []
    while free.any() and len(picks) < count:
        gains = np.where(free, np.maximum(opposed, had).sum(axis=1), -1.0)
        pick = int(gains.argmax())
        picks.append(pick)
        had = np.maximum(had, opposed[pick])
        free &= apart[pick]
    return picks


def _directions() -> Floats:
    """(DIRECTIONS, 3) evenly over the sphere: the golden spiral (Swinbank and Purser 2006)."""
    index = np.arange(DIRECTIONS) + 0.5
    z = 1.0 - 2.0 * index / DIRECTIONS
    turn = np.pi * (3.0 - np.sqrt(5.0)) * index
    flat = np.sqrt(1.0 - z**2)
    return np.column_stack((flat * np.cos(turn), flat * np.sin(turn), z))


def free_corners(walls: Floats, gap: float) -> Floats | None:
    """(m, 3) the corners of the motions left free by walls (n, 3), each gap mm off; None where unbounded."""
    if len(walls) < 4 or not _is_closed(walls):
        return None
    trios = walls[np.array(list(combinations(range(len(walls)), 3)))]
    volumes = np.abs(np.linalg.det(trios))
    met = np.linalg.solve(trios[volumes > OPPOSES], np.full((int((volumes > OPPOSES).sum()), 3, 1), gap))[
        ..., 0
    ]
    inside = (met @ walls.T <= gap * (1.0 + 1e-6)).all(axis=1)
    return np.asarray(met[inside]) if inside.any() else None


def _is_closed(walls: Floats) -> bool:
    """Whether every motion meets a wall: the edges of a cone of free motions lie along two walls."""
    if np.linalg.matrix_rank(walls, tol=1e-4) < 3:
        return False
    first, second = np.array(list(combinations(range(len(walls)), 2))).T
    edges = np.cross(walls[first], walls[second])
    sizes = np.linalg.norm(edges, axis=1)
    edges = edges[sizes > OPPOSES] / sizes[sizes > OPPOSES, None]
    every = np.vstack((edges, -edges))
    return bool(((every @ walls.T).max(axis=1) > OPPOSES).all())


def farthest_move(corners: Floats, places: Floats, middle: Floats, reach: float) -> float:
    """How far any of places (m, 2) mm moves at most under the free motions, mm."""
    turns = corners[:, 2, None] / reach
    x = corners[:, 0, None] - turns * (places[:, 1] - middle[1])
    y = corners[:, 1, None] + turns * (places[:, 0] - middle[0])
    return float(np.hypot(x, y).max())
