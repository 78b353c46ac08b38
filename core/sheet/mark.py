"""A registration mark: the same coordinates in every file."""

from dataclasses import dataclass

from core.findings import Point


@dataclass(frozen=True)
class Mark:
    """A round hole bored through the stock, and the dot or ring of film that is laid on it; mm."""

    at: Point
    diameter_mm: float
    film_diameter_mm: float
    is_key: bool
    kind: str = "hole"
    seen: str = "look-through"
