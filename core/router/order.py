"""What is cut first: marks, then what lies inside, then what frees it; small before large; else the nearest.

Three rules, and nothing else, bind the order:

1. Of two ranks the higher comes first, all over the sheet: marks, then what frees nothing, then contours.
2. A contour comes before every contour that it lies in, which frees what it was cut into.
3. Of contours that lie side by side in the same piece, or on the sheet, a small one comes before a large one,
   while the sheet is still stiff (common practice, no source).

Within them the way through the air is as short as can be found, where each task is begun included.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from core.outline.segments import Floats
from core.router.strand import Strand
from core.router.swaps import Flags
from core.router.way import Stop, Way, least_way

#: A contour is small beside another whose area is more than so many times its own: twice as wide and long.
#: Closer ones weaken the sheet alike.
SMALL_BESIDE = 4.0
#: Ranks: marks come before anything that lies inside anything, then the cuts that open the frame, while the
#: sheet is whole; what frees nothing before all contours.
MARKS, BREAKS, FREES_NOTHING, CONTOURS = 1000, 999, 1, 0


@dataclass(frozen=True, eq=False)
class Task:
    """Strands that belong together, in one of several manners: stop tells where each begins and ends.

    made: the strands of a manner. size, mm2, counts among contours; within: the numbers (number) of the
    contours that this one lies in, the nearest first.
    """

    stop: Stop
    made: Callable[[int], tuple[Strand, ...]]
    rank: int = CONTOURS
    size: float = 0.0
    number: int = -1
    within: tuple[int, ...] = ()


def fixed(strands: tuple[Strand, ...], rank: int, size: float = 0.0) -> Task:
    """The Task of at least one strand that can be made in one manner only."""
    begin, end = strands[0].points[:1, :2], strands[-1].points[-1:, :2]
    return Task(Stop(begin, end, np.array([air_within(strands)])), lambda _: strands, rank, size)


def air_within(strands: tuple[Strand, ...]) -> float:
    """The way in the air between strands, mm, seen from above."""
    pairs = pairwise(strands)
    return sum(float(np.hypot(*(after.points[0] - one.points[-1])[:2])) for one, after in pairs)


def rules_of(tasks: tuple[Task, ...]) -> Flags:
    """(n, n) whether one task must come before another."""
    ranks, sizes = (np.array([getattr(task, name) for task in tasks]) for name in ("rank", "size"))
    numbers = np.array([task.number for task in tasks])
    before = ranks[:, None] > ranks[None, :]
    homes = np.array([task.within[0] if task.within else -1 for task in tasks])
    is_beside = (ranks[:, None] == ranks[None, :]) & (homes[:, None] == homes[None, :])
    before |= is_beside & (SMALL_BESIDE * sizes[:, None] < sizes[None, :])
    for row, task in enumerate(tasks):
        before[row] |= np.isin(numbers, task.within) & (numbers >= 0)
    return np.asarray(before)


def strict_rules_of(tasks: tuple[Task, ...]) -> Flags:
    """Stricter ones: all over the sheet what lies deeper first, and openings by size to the last bit."""
    keys = np.array([(-task.rank, -len(task.within), _strict_size(task)) for task in tasks])
    order = np.unique(keys, axis=0, return_inverse=True)[1].ravel()
    return np.asarray(order[:, None] < order[None, :])


def in_order(tasks: tuple[Task, ...], here: Floats) -> tuple[Strand, ...]:
    """The strands of all tasks, in an order and manner that make the way from here (2,) mm short."""
    return strands_of(tasks, way_through(tasks, here))


def strands_of(tasks: tuple[Task, ...], way: Way) -> tuple[Strand, ...]:
    """The strands that a way goes through."""
    return tuple(strand for row in way.order.tolist() for strand in tasks[row].made(int(way.manners[row])))


def way_through(tasks: tuple[Task, ...], here: Floats) -> Way:
    """The way that in_order goes."""
    return least_way(tuple(task.stop for task in tasks), rules_of(tasks), here, strict_rules_of(tasks))


def _strict_size(task: Task) -> float:
    """The size of what is no edge: an edge lies in an even number of contours."""
    return 0.0 if task.rank == CONTOURS and len(task.within) % 2 == 0 else task.size
