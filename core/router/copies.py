"""The cuts of one piece, made again for every copy: planned once, then moved.

Copy by copy, each in the same order of work: what was cut stays whole whatever happens later, and the proof
can tell copy from copy.
"""

from dataclasses import dataclass, replace

import numpy as np

from core.findings import Finding, Level
from core.outline.segments import Floats
from core.router.order import CONTOURS, Task, fixed, in_order, strands_of, way_through
from core.router.setup import Setup
from core.router.strand import Strand
from core.router.tab import Tab
from core.router.waste import THREAD_MM, swept_mm
from core.router.way import first_manner
from core.sheet.placement import Placement
from core.sheet.rows import between_copies
from core.sheet.rule import Clearances, FitRule


def all_copies(
    shared: tuple[Task, ...], tasks: tuple[Task, ...], copies: tuple[Placement, ...], here: Floats
) -> tuple[Strand, ...]:
    """All that is cut, from here (2,) mm: what the copies share first, then the tasks of each copy.

    tasks are the first copy's. They are put in order once, as short as for the first copy or in the manner
    that each likes best, whichever makes the whole shorter.
    """
    if len(copies) == 1 or not tasks:
        return in_order((*shared, *tasks), here)
    after = _end_of(in_order(shared, here), here)
    plain = tuple(replace(task, stop=first_manner(task.stop)) for task in tasks)
    ways = [_whole(shared, in_order(own, after), copies, here) for own in (tasks, plain)]
    return min(ways, key=lambda way: way.length_mm).strands


@dataclass(frozen=True, eq=False)
class _Whole:
    """All strands of a sheet, and the way in the air through them, mm."""

    strands: tuple[Strand, ...]
    length_mm: float


def _whole(
    shared: tuple[Task, ...], first: tuple[Strand, ...], copies: tuple[Placement, ...], here: Floats
) -> _Whole:
    own = (fixed(_copied(first, copy, number), CONTOURS) for number, copy in enumerate(copies, 1))
    tasks = (*shared, *own)
    way = way_through(tasks, here)
    return _Whole(strands_of(tasks, way), way.length_mm)


def _end_of(strands: tuple[Strand, ...], here: Floats) -> Floats:
    return strands[-1].points[-1, :2] if strands else here


def _copied(strands: tuple[Strand, ...], copy: Placement, number: int) -> tuple[Strand, ...]:
    return tuple(_moved(strand, copy, number) for strand in strands)


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
