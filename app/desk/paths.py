"""Loops and Regions as painter paths in the scene: mm, x right, y down (the frame's y turned over).

Arcs are drawn as cubic curves of at most an eighth of a turn, with exact ends. QPainterPath.arcTo is not
used: it cuts its pieces from one curve for a quarter turn, which strays by 2.7e-4 of the radius, so that an
all but straight arc (radius of metres) would miss both of its ends by a visible step.
"""

import cmath
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtGui import QPainterPath, QTransform

if TYPE_CHECKING:
    from core.outline.loop import Loop
    from core.outline.region import Regions
    from core.outline.segments import Floats
    from core.sheet.placement import Placement

#: rad; a cubic of this sweep strays by 4e-6 of its radius (the error grows with the sixth power).
WIDEST = math.pi / 4.0


def path_of(regions: "Regions") -> QPainterPath:
    """Regions as one path whose openings stay empty."""
    return path_of_loops(loop for region in regions for loop in region.loops())


def path_of_loops(loops: "Iterable[Loop]") -> QPainterPath:
    """Loops as one path, filled by the odd-even rule."""
    path = QPainterPath()
    for loop in loops:
        corners = [complex(x, y) for x, y in loop.points.tolist()]
        path.moveTo(corners[0].real, -corners[0].imag)
        _run(path, [*corners, corners[0]], loop.bulges.tolist())
        path.closeSubpath()
    return path


def path_of_run(points: "Floats", bulges: "Floats") -> QPainterPath:
    """An open run: points (n + 1, 2) mm, bulges (n,)."""
    path = QPainterPath()
    corners = [complex(x, y) for x, y in points.tolist()]
    path.moveTo(corners[0].real, -corners[0].imag)
    _run(path, corners, bulges.tolist())
    return path


def placed(copy: "Placement") -> QTransform:
    """From where the first piece is drawn to where a copy of it lies, in the scene."""
    turn = -1.0 if copy.is_turned else 1.0
    return QTransform(turn, 0.0, 0.0, turn, copy.at[0], -copy.at[1])


@dataclass(frozen=True)
class Piece:
    """An arc of at most WIDEST, or a line (half 0): its ends as complex numbers, half its sweep, rad."""

    start: complex
    end: complex
    half: float

    def draw(self, path: QPainterPath) -> None:
        """Go on from the piece's start to its end.

        The handles are 4/3 tan(h/2) radii long on both tangents; of the chord, 1 / (3 cos^2(h/2)).
        """
        if self.half == 0.0:
            path.lineTo(self.end.real, -self.end.imag)
            return
        reach = (self.end - self.start) / (3.0 * math.cos(self.half / 2.0) ** 2)
        first = self.start + reach * cmath.exp(-1j * self.half)
        second = self.end - reach * cmath.exp(1j * self.half)
        path.cubicTo(first.real, -first.imag, second.real, -second.imag, self.end.real, -self.end.imag)


def pieces_of(loop: "Loop") -> Iterator[Piece]:
    """The Loop once round, in pieces."""
    corners = [complex(x, y) for x, y in loop.points.tolist()]
    return _pieces([*corners, corners[0]], loop.bulges.tolist())


def pieces_between(start: complex, end: complex, bulge: float) -> Iterator[Piece]:
    """One line or arc in pieces."""
    if bulge == 0.0:
        yield Piece(start, end, 0.0)
    else:
        yield from _arc(start, end, 2.0 * math.atan(bulge))


def _run(path: QPainterPath, corners: list[complex], bulges: list[float]) -> None:
    for piece in _pieces(corners, bulges):
        piece.draw(path)


def _pieces(corners: list[complex], bulges: list[float]) -> Iterator[Piece]:
    for start, end, bulge in zip(corners[:-1], corners[1:], bulges, strict=True):
        yield from pieces_between(start, end, bulge)


def _arc(start: complex, end: complex, half: float) -> Iterator[Piece]:
    """Equal pieces: the place at share t is start + chord sin(t h) / sin h, turned by (t - 1) h."""
    chord, before = end - start, start
    count = max(1, math.ceil(2.0 * abs(half) / WIDEST))
    for number in range(1, count + 1):
        share = number / count
        turned = cmath.exp(1j * (share - 1.0) * half)
        after = end if number == count else start + chord * math.sin(share * half) / math.sin(half) * turned
        yield Piece(before, after, half / count)
        before = after
