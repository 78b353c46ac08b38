"""The order of work when a loose part is laid by eye between strips of film beside its edge."""

from collections.abc import Iterator
from dataclasses import dataclass

from core.paper.hazards import Hazard
from core.paper.order import FrameWork, Scene, Stage, WorkStep
from core.paper.order_on_loose_part import laid_on_loose_part


@dataclass(frozen=True)
class EdgeWork:
    """work as in its frame; gap_mm: between the part's edge and each strip; count: strips beside a piece."""

    work: FrameWork
    gap_mm: float
    count: int


def by_its_edge(told: EdgeWork) -> tuple[Stage, ...]:
    """The stages in order: without a program those of the router are left out, without film those of film."""
    return laid_on_loose_part(told.work, _join(told))


def _join(told: EdgeWork) -> Iterator[WorkStep]:
    yield WorkStep(
        "File every stub flush: a stub in a gap spoils the reading. Peel both maskings; rinse, let dry.",
        scene=Scene.PEEL,
    )
    side = "its back" if told.work.is_behind else "its face"
    yield WorkStep(
        "Lay the film sticky side up and mist it with water and a drop of soap. Hold the part over it, "
        f"{side} down, turned as the picture on this sheet shows.",
        hazards=(Hazard.WET,),
    )
    yield WorkStep(
        f"Lower the part between the {told.count} strips and slide it until the gap to each is an even "
        f"{told.gap_mm:g} mm along its whole length, with the light behind it; then press.",
        scene=Scene.SIGHT,
        number=f"{told.gap_mm:g} mm",
    )
    yield WorkStep("Turn film and part over together, so that the tape is on top.", scene=Scene.TURN_OVER)
    yield WorkStep(
        "Rub from the middle out. Take the tape off flat, folded back on itself; the strips leave with it.",
        scene=Scene.RUB,
    )
