"""Lengths, the view box and transforms of SVG (SVG 2, chapter Coordinate Systems; CSS Values and Units 3)."""

import math
import re
from dataclasses import dataclass

import numpy as np

from core.drawing.read.contours import Floats
from core.errors import UnreadableFile

#: mm of each unit; a CSS inch is 96 px and 25.4 mm, a number without unit counts px.
MM = {"mm": 1.0, "cm": 10.0, "Q": 0.25, "in": 25.4, "pt": 25.4 / 72.0, "pc": 25.4 / 6.0, "px": 25.4 / 96.0}

#: Relative difference below which a transform keeps circles round.
KEEPS_ROUND = 1e-9

_LENGTH = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([A-Za-z]*)\s*")
_CALL = re.compile(r"[\s,]*([A-Za-z]+)\s*\(([^()]*)\)[\s,]*")


@dataclass(frozen=True)
class Length:
    """A length as written: how many of which unit ("px" where none is written)."""

    value: float
    unit: str

    @property
    def mm(self) -> float:
        """The same in mm."""
        return self.value * MM[self.unit]


def read_length(text: str | None) -> Length | None:
    """A length; None for nothing, a percentage or a unit that has no size of its own."""
    match = _LENGTH.fullmatch(text or "")
    if match is None:
        return None
    unit = match.group(2) or "px"
    return Length(float(match.group(1)), unit) if unit in MM else None


def numbers(text: str) -> list[float]:
    """Numbers apart by spaces or commas; UnreadableFile for anything else."""
    try:
        values = [float(word) for word in text.replace(",", " ").split()]
    except ValueError:
        raise UnreadableFile(f"The drawing has {text!r} where numbers should stand.") from None
    if not all(math.isfinite(value) for value in values):
        raise UnreadableFile(f"The drawing has {text!r} where numbers should stand.")
    return values


def scales(wide: float, tall: float, aspect: str) -> tuple[float, float]:
    """How x and y are scaled, from what the view box would need and preserveAspectRatio."""
    words = aspect.split()
    if "none" in words:
        return wide, tall
    one = max(wide, tall) if "slice" in words else min(wide, tall)
    return one, one


def read_transform(text: str) -> Floats:
    """(2, 3): the columns are the images of x, y and the origin. UnreadableFile for an unknown call."""
    matrix, place = np.eye(3), 0
    while place < len(text.rstrip()):
        match = _CALL.match(text, place)
        if match is None:
            raise UnreadableFile(f"The drawing has a transform that cannot be read: {text!r}.")
        matrix = matrix @ _one_transform(match.group(1), numbers(match.group(2)))
        place = match.end()
    return matrix[:2]


def _one_transform(name: str, values: list[float]) -> Floats:
    count = len(values)
    if name == "matrix" and count == 6:
        a, b, c, d, e, f = values
        return np.array([[a, c, e], [b, d, f], [0.0, 0.0, 1.0]])
    if name == "translate" and count in (1, 2):
        return _moved(*values)
    if name == "scale" and count in (1, 2):
        return np.diag([values[0], values[-1], 1.0])
    if name == "rotate" and count in (1, 3):
        return _moved(*values[1:]) @ _turned(values[0]) @ _moved(*(-value for value in values[1:]))
    if name in ("skewX", "skewY") and count == 1:
        return _skewed(name, math.tan(math.radians(values[0])))
    raise UnreadableFile(f"The drawing has a transform that cannot be read: {name} of {count} numbers.")


def _moved(x: float = 0.0, y: float = 0.0) -> Floats:
    return np.array([[1.0, 0.0, x], [0.0, 1.0, y], [0.0, 0.0, 1.0]])


def _turned(degrees: float) -> Floats:
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return np.array([[cos, -sin, 0.0], [sin, cos, 0.0], [0.0, 0.0, 1.0]])


def _skewed(name: str, slope: float) -> Floats:
    matrix = np.eye(3)
    matrix[(0, 1) if name == "skewX" else (1, 0)] = slope
    return matrix


def after(first: Floats, outer: Floats) -> Floats:
    """(2, 3): first the one, then the outer."""
    return outer[:, :2] @ first + np.column_stack((np.zeros((2, 2)), outer[:, 2]))


def keeps_circles(matrix: Floats) -> bool:
    """Whether circles stay circles: both axes as long as each other, and square."""
    (a, c), (b, d) = matrix[0, :2], matrix[1, :2]
    size = a * a + b * b + c * c + d * d
    return bool(abs(a * a + b * b - c * c - d * d) + abs(a * c + b * d) <= KEEPS_ROUND * size)
