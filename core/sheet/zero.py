"""Where the work zero lies: a point told by its numbers, one of nine of the part or of four of the stock."""

from math import floor
from typing import TYPE_CHECKING

from core.findings import Point
from core.sheet.rule import GRID_MM

if TYPE_CHECKING:  # the Job's declarations read the words, and stand without arrays
    from core.outline.loop import Bounds

#: What `zero_at` is told by.
AT_POINT = "point"
#: Shares of the part's box, to the right and away from the maker.
OF_PART = {
    "part left near": (0.0, 0.0),
    "part near": (0.5, 0.0),
    "part right near": (1.0, 0.0),
    "part left": (0.0, 0.5),
    "part middle": (0.5, 0.5),
    "part right": (1.0, 0.5),
    "part left far": (0.0, 1.0),
    "part far": (0.5, 1.0),
    "part right far": (1.0, 1.0),
}
#: The same of the stock's.
OF_STOCK = {
    "stock left near": (0.0, 0.0),
    "stock right near": (1.0, 0.0),
    "stock left far": (0.0, 1.0),
    "stock right far": (1.0, 1.0),
}
ZERO_WORDS = (AT_POINT, *OF_STOCK, *OF_PART)


def zero_of(word: str, told: Point, part: "Bounds", stock: tuple[float, float]) -> Point:
    """The work zero in the frame, mm, on the 0.5 mm grid; part and stock in the frame.

    The nearest point of the grid: every file can say it exactly, and the maker is told where it is.
    """
    if word == AT_POINT:
        return told
    if word in OF_STOCK:
        return _on_grid((0.0, 0.0, *stock), OF_STOCK[word])
    return _on_grid(part, OF_PART[word])


def _on_grid(box: "Bounds", share: tuple[float, float]) -> Point:
    x = box[0] + share[0] * (box[2] - box[0])
    y = box[1] + share[1] * (box[3] - box[1])
    return floor(x / GRID_MM + 0.5) * GRID_MM + 0.0, floor(y / GRID_MM + 0.5) * GRID_MM + 0.0


def zero_words(word: str, at: Point) -> str:
    """Where to touch off X and Y, as the bench says it: "stock's left near corner"."""
    if word in OF_STOCK or at == (0.0, 0.0):
        return f"stock's {_corner(word)} corner"
    point = f"point {at[0]:g}, {at[1]:g} mm of the stock"
    if word == AT_POINT:
        return point
    return f"part's {word.removeprefix('part ')}, the {point}"


def _corner(word: str) -> str:
    return word.removeprefix("stock ") if word in OF_STOCK else "left near"


def reported_zero(word: str, at: Point) -> str:
    """The report's `work_zero`."""
    if word in OF_STOCK or at == (0.0, 0.0):
        sides = _corner(word).split()
        return f"stock corner, {sides[0]} and {sides[1]}"
    return "point of the frame" if word == AT_POINT else f"part, {word.removeprefix('part ')}"
