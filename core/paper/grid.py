"""The numbers of the bench as a grid: small name, large value, the reason where one may doubt it."""

from collections.abc import Iterator, Sequence

from core.findings import Point
from core.paper.flow import SMALL, Piece, gap, heading, lines, paragraph, stacked
from core.paper.lettering import POINT
from core.paper.numbers import Number
from core.paper.surface import Letters, Pen, Surface

#: A value is read from where the machine's screen is.
VALUE = Letters(11.5 * POINT, is_bold=True)
NAME = SMALL
RULE = Pen("#c4c9cb", 0.2)

#: Numbers beside each other, and mm between them.
ABREAST, BETWEEN = 3, 5.0

TERMS = (
    "These numbers are starting values, not permission: the manuals of your machine, bit and material, and "
    "the rules where you work, come first."
)


def numbers_grid(numbers: tuple[Number, ...], room: float) -> Iterator[Piece]:
    """The heading, rows of numbers that read from left to right, and what they are not."""
    if not numbers:
        return
    yield from heading("Numbers", room)
    wide = (room - (ABREAST - 1) * BETWEEN) / ABREAST
    for first in range(0, len(numbers), ABREAST):
        cells = [_cell(number, wide) for number in numbers[first : first + ABREAST]]
        yield _row(cells, wide, room)
    yield gap(1.2)
    yield from paragraph(TERMS, room, SMALL)


def _row(cells: Sequence[Piece], wide: float, room: float) -> Piece:
    height = max(cell.height_mm for cell in cells)

    def draw(surface: Surface, at: Point) -> None:
        for place, cell in enumerate(cells):
            cell.draw(surface, (at[0] + place * (wide + BETWEEN), at[1]))
        surface.move(at[0], at[1] - height)
        surface.line(at[0] + room, at[1] - height)
        surface.paint(None, RULE)

    return Piece(height, draw)


def _cell(number: Number, room: float) -> Piece:
    rows = [*lines(number.name, NAME, room), *lines(number.value, VALUE, room)]
    rows += lines(number.reason, SMALL, room) if number.reason else []
    return stacked([gap(1.0), *(row.piece() for row in rows), gap(1.2)])
