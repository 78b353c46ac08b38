"""What a reader of drawings gives back: layers of contours in the frame, y up, mm."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class ReadContour:
    """points (n, 2) mm; bulges = tan(sweep / 4), counter-clockwise positive, 0 a line.

    A closed contour has n bulges, the last one back to the first point; an open one has n - 1.
    """

    points: Floats
    bulges: Floats
    is_closed: bool

    def __post_init__(self) -> None:
        for name in ("points", "bulges"):
            array = np.array(getattr(self, name), dtype=np.float64)
            array.setflags(write=False)
            object.__setattr__(self, name, array)


@dataclass(frozen=True)
class ReadLayer:
    """A layer by the file's own name, its contours in the file's order."""

    name: str
    contours: tuple[ReadContour, ...]


@dataclass(frozen=True)
class NotRead:
    """Something in the file that stands on a layer and was left out, in words.

    is_style: it is nothing drawn of its own, and hides or moves what was read.
    """

    what: str
    layer: str
    is_style: bool = False


@dataclass(frozen=True)
class ReadDrawing:
    """unit is the file's own ("mm", "in", "px", …), None when it states none; numbers are mm then.

    width_mm, height_mm and page (x_min, y_min, x_max, y_max in the frame) are None when not stated.
    unit_mm is how long 1 of the file's bare numbers is, where its format has a page that says so.
    """

    width_mm: float | None
    height_mm: float | None
    unit: str | None
    page: tuple[float, float, float, float] | None
    layers: tuple[ReadLayer, ...]
    not_read: tuple[NotRead, ...]
    unit_mm: float | None = None

    def layer(self, name: str) -> ReadLayer:
        """The layer of that name; one without contours where the file has none."""
        return next((layer for layer in self.layers if layer.name == name), ReadLayer(name, ()))


def by_layer(found: Iterable[tuple[str, ReadContour]]) -> tuple[ReadLayer, ...]:
    """(layer name, contour) pairs gathered into layers, in the order in which the names come first."""
    gathered: dict[str, list[ReadContour]] = {}
    for name, contour in found:
        gathered.setdefault(name, []).append(contour)
    return tuple(ReadLayer(name, tuple(contours)) for name, contours in gathered.items())


def closed_circle(x: float, y: float, radius: float) -> ReadContour:
    """A counter-clockwise circle as two half turns."""
    return ReadContour(np.array([[x + radius, y], [x - radius, y]]), np.array([1.0, 1.0]), is_closed=True)
