"""Two cards beside the steps at the router: when to stop and what to change, and what to measure."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from core.findings import Point
from core.paper.flow import BODY, SMALL, STRONG, Piece, gap, heading, lines, stacked
from core.paper.lettering import LEADING, POINT, printable, width_mm
from core.paper.shapes import draw_line, draw_stop
from core.paper.surface import INK, Letters, Pen, Surface
from core.paper.tinted import STOP_INK, tinted

STOP_HEAD = Letters(13.0 * POINT, STOP_INK, is_bold=True)
GROUND = "#fbf1ef"
RULE = Pen("#c4c9cb", 0.2)

#: mm round the words of the stop card, and of a line to write on.
PAD, WRITE, WRITE_BETWEEN = 3.0, 12.5, 2.0

#: What is done first, whatever the trouble.
FIRST = (
    "Stop, spindle off, wait till it stands. Change one number, make the kit again, begin anew: the zeros "
    "stay."
)


@dataclass(frozen=True)
class StopLine:
    """What is seen or heard, the number to set then, and what follows from it or helps besides."""

    sign: str
    change: str
    also: str = ""


@dataclass(frozen=True)
class Measure:
    """What is measured, what it should be, what it may be, and how many readings are written down."""

    what: str
    expected: str
    allowed: str = ""
    readings: int = 1


def stop_card(rows: tuple[StopLine, ...], room: float) -> tuple[Piece, ...]:
    """The card, in strips that meet, so that it may run over to the next page."""
    if not rows:
        return ()
    return tuple(_stop_strips(rows, room))


def _stop_strips(rows: tuple[StopLine, ...], room: float) -> Iterator[Piece]:
    inner = room - PAD
    yield replace(_strip(_stop_head(), room), keeps_with_next=True)
    first = [line.piece() for line in lines(FIRST, SMALL, inner, PAD)]
    yield replace(_strip(stacked([*first, gap(1.5)]), room), keeps_with_next=True)
    for row in rows:
        told = [gap(0.8), *(line.piece() for line in lines(row.sign, BODY, inner, PAD))]
        told += [line.piece() for line in lines(row.change, STRONG, inner, PAD)]
        told += [line.piece() for line in lines(row.also, SMALL, inner, PAD)] if row.also else []
        yield _strip(_ruled(stacked([*told, gap(1.0)]), room), room)
    yield gap(4.0)


def _stop_head() -> Piece:
    def draw(surface: Surface, at: Point) -> None:
        draw_stop(surface, (at[0] + PAD, at[1] - 8.3), 6.4, STOP_INK)
        surface.text("Stop if …", (at[0] + PAD + 9.0, at[1] - 6.8), STOP_HEAD)

    return Piece(10.0, draw)


def _ruled(inside: Piece, room: float) -> Piece:
    def draw(surface: Surface, at: Point) -> None:
        draw_line(surface, (at[0] + PAD, at[1]), (at[0] + room - PAD, at[1]), RULE)
        inside.draw(surface, at)

    return Piece(inside.height_mm, draw)


def _strip(inside: Piece, room: float) -> Piece:
    return tinted(inside, room, GROUND, STOP_INK)


def measure_card(rows: tuple[Measure, ...], room: float) -> tuple[Piece, ...]:
    """What to measure, in the order of the work, with lines to write the readings on."""
    if not rows:
        return ()
    return (*heading("Measure", room), *(_measure(row, room) for row in rows), gap(2.0))


def _measure(row: Measure, room: float) -> Piece:
    """What, what it should be and may be, and lines to write on: beside it, or below where they are many."""
    expected, allowed = printable(row.expected), printable(row.allowed)
    shown = width_mm(expected, STRONG) + 2.0
    free = room - shown - width_mm(allowed, SMALL) - 3.0
    is_beside = free >= row.readings * (WRITE + WRITE_BETWEEN)

    def draw(surface: Surface, at: Point) -> None:
        base = at[1] - BODY.size_mm
        surface.text(expected, (at[0], base), STRONG)
        surface.text(allowed, (at[0] + shown, base), SMALL)
        if is_beside:
            _draw_blanks(surface, row.readings, at[0] + room, base)

    values = Piece(STRONG.size_mm * LEADING, draw)
    below = [] if is_beside else [_blanks(row.readings, room)]
    return stacked(
        [gap(1.2), *(line.piece() for line in lines(row.what, BODY, room)), values, *below, gap(1.2)]
    )


def _draw_blanks(surface: Surface, count: int, right: float, y: float) -> None:
    for place in range(count):
        end = right - place * (WRITE + WRITE_BETWEEN)
        draw_line(surface, (end - WRITE, y - 0.6), (end, y - 0.6), Pen(INK, 0.25))


def _blanks(count: int, room: float) -> Piece:
    """Lines to write on in a row of their own, as many as fit."""
    fitting = min(count, int((room + WRITE_BETWEEN) // (WRITE + WRITE_BETWEEN)))

    def draw(surface: Surface, at: Point) -> None:
        _draw_blanks(surface, fitting, at[0] + fitting * (WRITE + WRITE_BETWEEN) - WRITE_BETWEEN, at[1] - 6.0)

    return Piece(7.2, draw)
