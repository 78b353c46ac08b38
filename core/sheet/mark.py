"""A registration mark: the same coordinates in every file."""

from dataclasses import dataclass

from core.findings import Point
from core.outline.loop import Loop


@dataclass(frozen=True)
class Mark:
    """A round hole bored through the stock, and the dot or ring of film that is laid on it; mm.

    kind "blind": a hole in the board of a nest; "film": a dot laid on the sheet; "edge": a strip of film
    beside the part, so wide, with the middle of its area at `at`.
    """

    at: Point
    diameter_mm: float
    film_diameter_mm: float
    is_key: bool
    kind: str = "hole"
    seen: str = "look-through"
    strip: Loop | None = None
