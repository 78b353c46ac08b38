"""The gauge plate: what is cut on both machines, and what is measured on it, mm.

A plate with an opening in its middle and a hole near each corner: an outer and an inner distance tell scale
from cutting width, the two diagonals between holes tell the skew, and holes, which lost motion does not move,
tell it from both. Calipers of 150 mm (the common size) reach every distance, the far edges of holes on a
diagonal included.
"""

from dataclasses import dataclass
from string import ascii_uppercase

from core.gauge.feature import Feature, Side

#: mm: the plate, its opening, the holes' middles from the plate's (135 on a diagonal), and their width.
PLATE = (130.0, 102.0)
OPENING = (60.0, 45.0)
HOLES_OFF = (54.0, 40.5)
HOLE = 6.0
#: mm: the steps of the stair, in the waste of the opening: how far right of its middle, and how deep; and how
#: far all of them lie from its middle towards the front.
STAIR = ((-18.0, 0.5), (-6.0, 1.0), (6.0, 1.5), (18.0, 2.0))
STAIR_FRONT = 8.0
#: mm of stock left below the deepest step, above the tabs that hold the waste.
LEAST_BELOW = 0.2
#: Where an edge is measured, by its share of the half plate.
PLACES = (-0.7, 0.0, 0.7)
_AT = {
    "x": ("near the front", "in the middle", "near the back"),
    "y": ("near the left", "in the middle", "near the right"),
}


@dataclass(frozen=True)
class Measured:
    """One distance to take: its letter, its name in words, and from where to where on the plate.

    start and end: (x, y) mm from the plate's middle.
    """

    letter: str
    words: str
    feature: Feature
    start: tuple[float, float]
    end: tuple[float, float]


def measured() -> tuple[Measured, ...]:
    """Every distance to take, in the order of the page."""
    taken = [*_across("x"), *_across("y"), *_between()]
    return tuple(Measured(letter, *one) for letter, one in zip(ascii_uppercase, taken, strict=False))


Taken = tuple[str, Feature, tuple[float, float], tuple[float, float]]


def _across(axis: str) -> list[Taken]:
    """Across the plate in three places, across the opening in two."""
    row = 0 if axis == "x" else 1
    name = "width" if axis == "x" else "depth"
    taken: list[Taken] = []
    for what, size, side, places in (
        ("plate", PLATE, Side.OUTER, (0, 1, 2)),
        ("opening", OPENING, Side.INNER, (0, 2)),
    ):
        along = (size[0], 0.0) if axis == "x" else (0.0, size[1])
        for place in places:
            off = PLACES[place] * size[1 - row] / 2.0
            start, end = _ends(row, size[row] / 2.0, off)
            taken.append((f"{name} of the {what}, {_AT[axis][place]}", Feature(along, side), start, end))
    return taken


def _ends(row: int, half: float, off: float) -> tuple[tuple[float, float], tuple[float, float]]:
    return ((-half, off), (half, off)) if row == 0 else ((off, -half), (off, half))


def _between() -> list[Taken]:
    """Between the holes: two sides each way and both diagonals, near edges and far edges."""
    x, y = HOLES_OFF
    front_left, front_right, back_right, back_left = (-x, -y), (x, -y), (x, y), (-x, y)
    pairs = (
        ("front holes", front_left, front_right),
        ("back holes", back_left, back_right),
        ("left holes", front_left, back_left),
        ("right holes", front_right, back_right),
        ("front left and back right hole", front_left, back_right),
        ("front right and back left hole", front_right, back_left),
    )
    return [
        (f"{words}, {side} edges", Feature((b[0] - a[0], b[1] - a[1]), side, HOLE), a, b)
        for words, a, b in pairs
        for side in (Side.NEAR, Side.FAR)
    ]


@dataclass(frozen=True)
class MeasuredStep:
    """A step by its letter: how deep it was meant, and its middle on the plate, mm."""

    letter: str
    depth_mm: float
    at: tuple[float, float]


def steps() -> tuple[MeasuredStep, ...]:
    """Every step, lettered after the distances."""
    first = len(measured())
    return tuple(
        MeasuredStep(letter, depth, (off, -STAIR_FRONT))
        for letter, (off, depth) in zip(ascii_uppercase[first:], STAIR, strict=False)
    )


def stair(thickness_mm: float, held_mm: float) -> tuple[tuple[float, float], ...]:
    """The steps that stock of this thickness has room for above its tabs or skin; mm, as in STAIR."""
    return tuple(step for step in STAIR if step[1] <= thickness_mm - held_mm - LEAST_BELOW)
