"""The order of work when the film goes on the sheet before anything is cut, and the machine is told where."""

from collections.abc import Iterator
from dataclasses import dataclass

from core.findings import Point
from core.paper.hazards import Hazard
from core.paper.order import FrameWork, Scene, Stage, WorkStep, break_out, cut_film, cut_part, set_up, washing


@dataclass(frozen=True)
class SheetWork:
    """work as in its frame; marks in their order, mm from the work zero; expected: by the controller.

    expected is as the marks should read where the sheet was found, and empty before that.
    """

    work: FrameWork
    marks: tuple[Point, ...]
    expected: tuple[Point, ...]


def on_sheet_first(told: SheetWork) -> tuple[Stage, ...]:
    """The stages in order; before the readings the last ones are not there yet."""
    stages = [
        Stage("Cut the film", tuple(cut_film(told.work)), shows_sheet_boxes=True),
        Stage("Lay the film on the sheet", tuple(_lay(told.work))),
    ]
    if not told.work.program:
        return (*stages, Stage("Find the sheet", tuple(_find(told))))
    return (
        *stages,
        Stage("Set up", tuple(set_up(told.work)), is_at_router=True),
        Stage("Check where the sheet lies", tuple(_check(told)), is_at_router=True),
        Stage("Cut the part", tuple(cut_part(told.work)), is_at_router=True),
        Stage("Take it out", tuple(break_out(told.work)), is_at_router=True),
    )


def _lay(work: FrameWork) -> Iterator[WorkStep]:
    yield WorkStep(
        "Peel the masking from the top of the sheet; rinse, let dry.",
        scene=Scene.PEEL,
        hazards=(*washing(work), Hazard.WET),
    )
    yield WorkStep(
        "Lay the film on the sheet, about as the set-up drawing has it and straight by eye: the program will "
        "be turned to it. All marks must lie on the sheet.",
        scene=Scene.LAY_ON_SHEET,
    )
    yield WorkStep(
        "Rub it down from the middle out and leave the transfer tape on: it is the new masking. Measure how "
        "thick film and tape are together; it counts as masking on top when Z is touched off.",
        scene=Scene.RUB,
    )


def _find(told: SheetWork) -> Iterator[WorkStep]:
    yield WorkStep("Clamp the sheet and do not move it again. Set X and Y to 0 anywhere near its corner.")
    yield WorkStep(
        "With the spindle off, jog the bit's tip over the middle of mark 1, the larger one, then of the "
        "others in the order told below. Write down X and Y each time.",
        "Go the last millimetres slowly and from the same side each time.",
        Scene.JOG,
    )
    yield WorkStep(f"The marks are meant to lie at {_told(told.marks)} from the zero, before any turn.")
    yield WorkStep(
        "Give the readings (fit.readings) and make the kit again: the program is then written to where the "
        "sheet lies. X and Y zero stay where they are until it is cut."
    )


def _check(told: SheetWork) -> Iterator[WorkStep]:
    yield WorkStep(
        "X and Y zero stay as they were when the marks were read. Jog over a mark that was not read, or over "
        f"mark 1 once more: the controller must show {_told(told.expected)}, mark by mark. If it is off by "
        "more than 0.3 mm, stop: the sheet has moved, so read the marks again.",
        scene=Scene.JOG,
    )


def _told(marks: tuple[Point, ...]) -> str:
    return ", ".join(f"({x:.2f}, {y:.2f})" for x, y in marks)
