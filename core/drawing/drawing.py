"""A drawing before it is written: layers of closed Loops, circles and level lines, in the frame, mm."""

from dataclasses import dataclass
from enum import Enum

from core.findings import Point
from core.outline.loop import Loop


class Layer(Enum):
    """What a layer is for; contract.md's names are made from these by each writer."""

    PART = "part"
    AS_CUT = "as-cut"
    PATCH = "patch"
    FILM = "film"
    MARKS = "marks"
    WEEDING = "weeding"
    NOTES = "notes"


@dataclass(frozen=True)
class Circle:
    """A whole circle, which every format says in its own way."""

    centre: Point
    diameter_mm: float


@dataclass(frozen=True)
class Line:
    """A straight line that is not cut: a level line of the notes."""

    start: Point
    end: Point


Shape = Loop | Circle | Line


@dataclass(frozen=True)
class LayerOf:
    """One layer: its role, the film's or patch's name ("" where there is none), an sRGB "#rrggbb", shapes."""

    layer: Layer
    name: str
    colour: str
    shapes: tuple[Shape, ...]


@dataclass(frozen=True)
class Drawing:
    """title says in words what this is; box (x_min, y_min, x_max, y_max) mm is the page in the frame."""

    title: str
    box: tuple[float, float, float, float]
    layers: tuple[LayerOf, ...]
