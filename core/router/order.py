"""What is cut first: marks, then what lies inside, then what frees it; small before large."""

from dataclasses import dataclass

import numpy as np

from core.outline.segments import Floats
from core.router.strand import Strand


@dataclass(frozen=True, eq=False)
class Task:
    """Strands that belong together. Higher inner comes first; within it, smaller size; else the nearest."""

    strands: tuple[Strand, ...]
    inner: int
    size: float

    def start(self) -> Floats:
        """(2,) mm where it begins."""
        return self.strands[0].points[0, :2]

    def end(self) -> Floats:
        """(2,) mm where it ends."""
        return self.strands[-1].points[-1, :2]


def ordered(tasks: tuple[Task, ...], here: Floats) -> tuple[Task, ...]:
    """The tasks in order of work, beginning from here (2,) mm."""
    left, done = [task for task in tasks if task.strands], list[Task]()
    while left:
        first = min((-task.inner, task.size) for task in left)
        group = [task for task in left if (-task.inner, task.size) == first]
        gaps = [float(np.hypot(*(task.start() - here))) for task in group]
        chosen = group[int(np.argmin(gaps))]
        left = [task for task in left if task is not chosen]
        done.append(chosen)
        here = chosen.end()
    return tuple(done)
