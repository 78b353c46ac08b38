"""SVG path data read command by command (SVG 2, chapter Paths; arcs by its implementation notes).

Points stay in the path's own coordinates; a bulge is positive where the angle grows in them, which is
what sweep 1 means there.
"""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from core.drawing.read.contours import Floats
from core.errors import UnreadableFile

_NUMBER = re.compile(r"[\s,]*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)")
_FLAG = re.compile(r"[\s,]*([01])")
_COMMAND = re.compile(r"[\s,]*([MmZzLlHhVvCcSsQqTtAa])")

#: What each command takes: n a number, f one flag of one character.
_TAKES = {"M": "nn", "L": "nn", "H": "n", "V": "n", "A": "nnnffnn", "Z": ""}
_TAKES |= {"C": "nnnnnn", "S": "nnnn", "Q": "nnnn", "T": "nn"}

#: All arguments of a command at once. Each number is taken whole or not at all (atomic groups), so that
#: what one pattern finds is what its parts find one after the other.
_AT_ONCE = {"n": r"[\s,]*+((?>[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?))", "f": r"[\s,]*+([01])"}
_ARGUMENTS = {takes: re.compile("".join(map(_AT_ONCE.__getitem__, takes))) for takes in _TAKES.values()}

_CURVES = "CSQT"

#: Relative difference below which two radii of an ellipse are one; written decimals are no ovals.
ROUND_WITHIN = 1e-9

Pair = tuple[float, float]


class CannotSay(Exception):
    """The path holds what lines and circular arcs cannot say; the words tell what."""


@dataclass(frozen=True, eq=False)
class SubPath:
    """points (n, 2) in the path's own unit; bulges (n,) when closed, else (n - 1,)."""

    points: Floats
    bulges: Floats
    is_closed: bool
    has_arcs: bool


@dataclass
class _Tracing:
    """The sub-path being drawn."""

    points: list[Pair] = field(default_factory=list)
    bulges: list[float] = field(default_factory=list)

    def to(self, point: Pair, bulge: float = 0.0) -> None:
        self.points.append(point)
        self.bulges.append(bulge)

    def done(self, *, is_closed: bool) -> SubPath | None:
        """What was drawn; None for a mere move. A last point on the first one is that point."""
        points, bulges = self.points, self.bulges
        if not bulges:
            return None
        if is_closed and points[-1] == points[0]:
            points = points[:-1]
        elif is_closed:
            bulges = [*bulges, 0.0]
        has_arcs = any(bulge != 0.0 for bulge in bulges)
        return SubPath(np.array(points), np.array(bulges), is_closed, has_arcs)


def read_path(data: str) -> tuple[SubPath, ...]:
    """Every sub-path. CannotSay for curves and ovals; UnreadableFile where the grammar breaks."""
    drawn: list[SubPath | None] = []
    tracing = _Tracing()
    for command, values in commands(data):
        at = tracing.points[-1] if tracing.points else (0.0, 0.0)
        name, base = command.upper(), (at if command.islower() else (0.0, 0.0))
        if name == "Z":
            drawn.append(tracing.done(is_closed=True))
            tracing = _Tracing(tracing.points[:1])
        elif name == "M":
            drawn.append(tracing.done(is_closed=False))
            tracing = _Tracing([(base[0] + values[0], base[1] + values[1])])
        else:
            _draw(tracing, name, values, base)
    drawn.append(tracing.done(is_closed=False))
    return tuple(part for part in drawn if part is not None)


def _draw(tracing: _Tracing, name: str, values: list[float], base: Pair) -> None:
    at = tracing.points[-1]
    if name in _CURVES:
        raise CannotSay("a curve that is no circular arc")
    if name == "H":
        tracing.to((base[0] + values[0], at[1]))
    elif name == "V":
        tracing.to((at[0], base[1] + values[0]))
    elif name == "L":
        tracing.to((base[0] + values[0], base[1] + values[1]))
    else:
        end = (base[0] + values[5], base[1] + values[6])
        if end != at:  # SVG 2: an arc that ends where it begins is left out
            tracing.to(end, arc_bulge(at, end, values))


def arc_bulge(start: Pair, end: Pair, values: list[float]) -> float:
    """tan(sweep / 4) of `A rx ry rotation large sweep`; radii too small grow until they reach (SVG 2)."""
    rx, ry, is_large, is_growing = abs(values[0]), abs(values[1]), values[3] == 1.0, values[4] == 1.0
    if rx == 0.0 or ry == 0.0:
        return 0.0
    if abs(rx - ry) > ROUND_WITHIN * max(rx, ry):
        raise CannotSay("an arc of an oval")
    chord = math.hypot(end[0] - start[0], end[1] - start[1])
    half = math.asin(min(chord / (2.0 * rx), 1.0))
    half = math.pi - half if is_large else half
    return math.tan(half / 2.0) * (1.0 if is_growing else -1.0)


def commands(data: str) -> Iterator[tuple[str, list[float]]]:
    """(letter, numbers) with repeated arguments told apart; after the first pair M means L."""
    place, end = 0, len(data.rstrip(" \t\r\n\f,"))
    is_first = True
    while place < end:
        match = _COMMAND.match(data, place)
        if match is None or (is_first and match.group(1) not in "Mm"):
            raise UnreadableFile(f"The path data breaks off at {data[place : place + 20]!r}.")
        command, place, is_first = match.group(1), match.end(), False
        takes = _TAKES[command.upper()]
        values, place = _arguments(data, place, takes)
        yield command, values
        command = {"M": "L", "m": "l"}.get(command, command)
        while takes and place < end and _COMMAND.match(data, place) is None:
            values, place = _arguments(data, place, takes)
            yield command, values


def _arguments(data: str, place: int, takes: str) -> tuple[list[float], int]:
    match = _ARGUMENTS[takes].match(data, place)
    if match is not None:
        values = list(map(float, match.groups()))
        if math.isfinite(sum(values)):
            return values, match.end()
    return _one_by_one(data, place, takes)


def _one_by_one(data: str, place: int, takes: str) -> tuple[list[float], int]:
    """The same, to tell what is wrong and where."""
    values = []
    for kind in takes:
        match = (_NUMBER if kind == "n" else _FLAG).match(data, place)
        if match is None:
            raise UnreadableFile(f"The path data breaks off at {data[place : place + 20]!r}.")
        values.append(_finite(match.group(1)))
        place = match.end()
    return values, place


def _finite(text: str) -> float:
    value = float(text)
    if not math.isfinite(value):
        raise UnreadableFile(f"The drawing has the number {text}, which lies nowhere.")
    return value


def read_points(data: str) -> list[Pair]:
    """The points of a polyline or polygon; UnreadableFile for an odd count or what is no number."""
    words = data.replace(",", " ").split()
    try:
        values = [_finite(word) for word in words]
    except ValueError:
        raise UnreadableFile("The points of a polygon in the drawing are no numbers.") from None
    if len(values) % 2:
        raise UnreadableFile("The points of a polygon in the drawing do not come in pairs.")
    return list(zip(values[::2], values[1::2], strict=True))
