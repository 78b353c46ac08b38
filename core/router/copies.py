"""The cuts of one piece, made again for every copy: planned once, then moved.

Copy by copy, the nearest next, each in the same order of work: what was cut stays whole whatever happens
later, and the proof can tell copy from copy.
"""

from dataclasses import replace

import numpy as np

from core.findings import Finding, Level
from core.outline.segments import Floats
from core.router.order import Task, ordered
from core.router.setup import Setup
from core.router.strand import Strand
from core.router.tab import Tab
from core.router.waste import THREAD_MM, swept_mm
from core.sheet.placement import Placement
from core.sheet.rows import between_copies
from core.sheet.rule import Clearances, FitRule


def all_copies(tasks: tuple[Task, ...], copies: tuple[Placement, ...], here: Floats) -> tuple[Task, ...]:
    """The tasks of the first copy, put in order from here (2,) mm, then those of every other copy."""
    first = ordered(tasks, here)
    if len(copies) == 1 or not first:
        return first
    every = [_copied(first, copy, number) for number, copy in enumerate(copies, 1)]
    return tuple(task for one in _by_nearest(every, here) for task in one)


def _by_nearest(every: list[tuple[Task, ...]], here: Floats) -> list[tuple[Task, ...]]:
    starts = np.array([one[0].start() for one in every])
    left, done = list(range(len(every))), list[tuple[Task, ...]]()
    while left:
        chosen = left[int(np.hypot(*(starts[left] - here).T).argmin())]
        left.remove(chosen)
        done.append(every[chosen])
        here = every[chosen][-1].end()
    return done


def _copied(tasks: tuple[Task, ...], copy: Placement, number: int) -> tuple[Task, ...]:
    return tuple(
        replace(task, strands=tuple(_moved(strand, copy, number) for strand in task.strands))
        for task in tasks
    )


def _moved(strand: Strand, copy: Placement, number: int) -> Strand:
    points = np.column_stack((copy.points(strand.points[:, :2]), strand.points[:, 2]))
    return replace(strand, name=f"copy {number}, {strand.name}", points=points)


def copied_tabs(tabs: tuple[Tab, ...], copies: tuple[Placement, ...]) -> tuple[Tab, ...]:
    """The tabs of every copy."""
    return tuple(replace(tab, at=copy.point(tab.at)) for copy in copies for tab in tabs)


def checked_webs(setup: Setup) -> tuple[Finding, ...]:
    """A stop when the allowance leaves no web between two copies that holds them."""
    layout = setup.layout
    if len(layout.copies) == 1:
        return ()
    gap = between_copies(Clearances(FitRule(), setup.bit.diameter_mm, layout.stock.thickness_mm))
    web = gap - 2.0 * swept_mm(setup)
    if web >= THREAD_MM:
        return ()
    return (
        Finding(
            Level.STOP,
            "web-too-thin",
            f"Only {web:.1f} mm of waste stay between two copies, and {THREAD_MM:g} are needed to hold them.",
            "Make the allowance smaller.",
        ),
    )
