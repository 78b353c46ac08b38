"""The order of work where films go on a part that was taken out of its sheet first, by whatever way."""

from collections.abc import Iterable

from core.paper.order import FrameWork, Stage, WorkStep, break_out, cut_film, cut_part, set_up


def laid_on_loose_part(
    work: FrameWork, join: Iterable[WorkStep], at_router: tuple[Stage, ...] = ()
) -> tuple[Stage, ...]:
    """The stages in order: without a program those of the router are left out, without film those of film.

    join: how film and part come together; at_router: what else is made there, when the part is out.
    """
    stages: list[Stage] = []
    if work.program:
        stages += [
            Stage("Set up", tuple(set_up(work)), is_at_router=True),
            Stage("Cut the part", tuple(cut_part(work)), is_at_router=True),
            Stage("Take it out", tuple(break_out(work)), is_at_router=True),
            *at_router,
        ]
    if work.has_films:
        stages.append(Stage("Cut the film", tuple(cut_film(work)), shows_sheet_boxes=True))
    if work.program and work.has_films:
        stages.append(Stage("Bring them together", tuple(join)))
    return tuple(stages)
