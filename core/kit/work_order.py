"""The order of work as the report lists it, for whoever shows one step at a time beside the machine."""

from collections.abc import Iterator
from typing import Any

from core.paper.order import Stage, WorkStep


def reported_order(stages: tuple[Stage, ...], box_mm: tuple[float, float]) -> list[dict[str, Any]]:
    """The report's entry: every step with its stage; box_mm is what the cutter's program must show."""
    return [entry for stage in stages for entry in _entries(stage, box_mm)]


def _entries(stage: Stage, box_mm: tuple[float, float]) -> Iterator[dict[str, Any]]:
    for place, step in enumerate(stage.steps):
        is_box = stage.shows_sheet_boxes and place == 0
        yield {
            "stage": stage.title,
            "words": step.words,
            "care": step.care,
            "number": f"{box_mm[0]:.2f} \u00d7 {box_mm[1]:.2f} mm" if is_box else step.number,
            "picture": _picture(stage, step),
        }


def _picture(stage: Stage, step: WorkStep) -> str:
    """The scene of a step by its name; else which of the kit's pictures stands beside it, by its view."""
    if step.scene is not None:
        return f"scene: {step.scene}"
    return "view: sheet" if stage.is_at_router else "view: front"
