"""The order of work when the loose part lies in a board with its pocket, and its film hangs on pins."""

from collections.abc import Iterator
from dataclasses import dataclass

from core.paper.hazards import Hazard
from core.paper.order import FrameWork, Scene, Stage, WorkStep
from core.paper.order_on_loose_part import laid_on_loose_part


@dataclass(frozen=True)
class NestWork:
    """work as in its frame; program, lap: the board's; its size and pins in mm; play_mm None: not held."""

    work: FrameWork
    program: str
    lap: str
    board_mm: tuple[float, float, float]
    board_material: str
    pin_mm: float
    play_mm: float | None


def in_a_nest(told: NestWork) -> tuple[Stage, ...]:
    """The stages in order: without a program those of the router are left out, without film those of film."""
    board = Stage("Make the nest board, once", tuple(_board(told)), is_at_router=True)
    return laid_on_loose_part(told.work, _join(told), (board,))


def _board(told: NestWork) -> Iterator[WorkStep]:
    wide, deep, thick = told.board_mm
    yield WorkStep(
        f"Clamp a board of {told.board_material}, {wide:g} x {deep:g} mm and {thick:g} mm thick or more, "
        "sides along the axes; clamps stay off its middle, where the pocket comes.",
        hazards=(Hazard.CLAMPS,),
    )
    yield WorkStep(
        "Set X and Y to 0 at the board's left near corner and Z to 0 on its top: not the zero of the part."
    )
    if told.lap:
        yield WorkStep(f"Run {told.lap}: spindle off, bit raised. Watch it pass the board's clamps clear.")
    yield WorkStep(
        f"Run {told.program} once in air, with Z zero raised by more than the depth of the cut; then cut. "
        "It takes the same bit as the part.",
        hazards=(Hazard.EYES, Hazard.HEARING, Hazard.WOOD_DUST, Hazard.FIRE, Hazard.ATTENDANCE),
    )
    yield WorkStep(
        f"Brush the pocket clean. Put a pin of {told.pin_mm:g} mm in each hole; pins stand out of the board.",
        scene=Scene.NEST_PINS,
        number=f"{told.pin_mm:g} mm",
    )
    held = (
        "drop in by hand" if told.play_mm is None else f"drop in by hand, and move by {told.play_mm:.1f} mm"
    )
    yield WorkStep(
        f"Lay the part in its pocket, face up: it must {held}. If it binds, dress the part's stubs."
    )


def _join(told: NestWork) -> Iterator[WorkStep]:
    yield WorkStep(
        "Peel the masking from the part's face; rinse, let dry. Lay the part in the nest.", scene=Scene.PEEL
    )
    if told.play_mm is None:
        yield WorkStep("The nest does not hold the part in every way: turn it by eye to the set-up drawing.")
    yield WorkStep(
        "Punch out the rings through tape, film and liner.",
        hazards=(Hazard.PUNCH,),
        scene=Scene.PUNCH,
    )
    yield WorkStep(
        "Set the film on the pins, the key ring where the drawing has it; tape one side down as a hinge. "
        "Fold it back, strip the liner, fold it down again onto pins and part.",
        scene=Scene.NEST_FILM,
    )
    yield WorkStep(
        "Rub from the middle out. Take the tape off flat, folded back on itself; then lift the part out.",
        scene=Scene.RUB,
    )
