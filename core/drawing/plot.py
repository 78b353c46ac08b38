"""A plot before it is written: what the knife's pen runs along while it is down, in order, mm."""

from dataclasses import dataclass
from enum import IntEnum

from core.outline.loop import frozen_copy
from core.outline.segments import Floats


class PlotPen(IntEnum):
    """The numbers by which a plot tells what is cut; the film itself is the first."""

    FILM = 1
    MARKS = 2
    WEEDING = 3


@dataclass(frozen=True, eq=False)
class Stroke:
    """One run of the lowered pen: points (n, 2) mm, n >= 2, joined by straight lines."""

    pen: PlotPen
    points: Floats

    def __post_init__(self) -> None:
        object.__setattr__(self, "points", frozen_copy(self.points))


@dataclass(frozen=True)
class Plot:
    """The strokes in the order in which they are cut, in the plot's own coordinates, mm."""

    strokes: tuple[Stroke, ...]
