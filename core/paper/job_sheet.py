"""The job sheet: what somebody else needs to cut this kit without asking, on three pages at most.

A page for each place of work: what it is and every number; what is done at the router; what is done with
the film. The words arrive as plain values; the sheet only sets them.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from core.findings import Finding, Level, Point
from core.paper.cards import Measure, StopLine, measure_card, stop_card
from core.paper.flow import (
    SMALL,
    TITLE,
    Columns,
    Piece,
    gap,
    heading,
    laid_out,
    paragraph,
    side_by_side,
    stacked,
    text_width,
)
from core.paper.grid import numbers_grid
from core.paper.numbers import Number
from core.paper.order import Stage
from core.paper.pdf import A4, Paper, write_pdf
from core.paper.recorder import Recording
from core.paper.scaled import Scaled
from core.paper.setup_drawing import SetUp, legend, scale_for, setup_piece
from core.paper.steps import FilmSheet, cards_room, work_blocks
from core.paper.surface import Surface
from core.paper.told import since_box, stop_box, told
from core.paper.view import Look, draw_view, view_box

#: mm: the picture's and the legend's column, and what is between it and the set-up drawing.
SIDE, BETWEEN = 62.0, 6.0

#: More pages than this get lost at the bench.
MOST_PAGES = 3


@dataclass(frozen=True)
class _Snug:
    """How closely the sheet is set: mm for drawing and picture; is_brief: findings in fewer words."""

    row_mm: float
    picture_mm: float
    is_brief: bool


#: Tried in this order until the pages are few enough: a smaller drawing costs less than words.
_SETTINGS = (
    _Snug(104.0, 52.0, is_brief=False),
    _Snug(82.0, 34.0, is_brief=False),
    _Snug(104.0, 52.0, is_brief=True),
    _Snug(82.0, 34.0, is_brief=True),
    _Snug(60.0, 20.0, is_brief=True),
)


@dataclass(frozen=True)
class JobSheet:
    """Everything on it; numbers is empty when there is no program. stages are the order of work.

    since: what is not as it was in an earlier kit, and what to beware of for that; limits: how small and how
    large it may be made; "" where nothing is known.
    board is the nest board, where there is one, with its pocket as the part.
    """

    title: str
    summary: str
    look: Look
    setup: SetUp
    numbers: tuple[Number, ...]
    stages: tuple[Stage, ...]
    films: tuple[FilmSheet, ...]
    findings: tuple[Finding, ...]
    made_by: str = "Samecut"
    stop_if: tuple[StopLine, ...] = ()
    measures: tuple[Measure, ...] = ()
    since: tuple[str, str] = ("", "")
    limits: str = ""
    board: SetUp | None = None


def job_sheet_pdf(sheet: JobSheet, paper: Paper = A4) -> bytes:
    """The sheet as PDF, at true size."""
    return write_pdf(job_sheet_pages(sheet, paper), paper, f"{sheet.title}: job sheet")


def job_sheet_pages(sheet: JobSheet, paper: Paper = A4) -> tuple[Recording, ...]:
    """The sheet's pages as recordings, mm, set as closely as the number of pages asks for."""
    foot, room = f"{sheet.title} · made by {sheet.made_by}", text_width(paper)
    tried = []
    for snug in _SETTINGS:
        pages = laid_out(list(_pieces(sheet, room, snug)), paper, foot)
        if len(pages) <= MOST_PAGES:
            return pages
        tried.append(pages)
    return min(tried, key=len)


def _pieces(sheet: JobSheet, room: float, snug: _Snug) -> Iterator[Piece | Columns]:
    yield from paragraph(sheet.title, room, TITLE)
    yield from paragraph(sheet.summary, room)
    if sheet.limits:
        yield from paragraph(sheet.limits, room, SMALL)
    yield gap(2.0)
    yield from since_box(sheet.since, room)
    yield from stop_box(sheet.findings, room)
    yield _first_look(sheet, room, snug)
    yield from numbers_grid(sheet.numbers, room)
    yield from told(sheet.findings, Level.CAUTION, "Left open", room, is_brief=snug.is_brief)
    wide = cards_room(room)
    cards = (*stop_card(sheet.stop_if, wide), *measure_card(sheet.measures, wide))
    blocks = list(work_blocks(sheet.stages, sheet.films, cards, room))
    yield from blocks[:1]
    yield from _board(sheet.board, room, snug)
    yield from blocks[1:]
    yield from told(sheet.findings, Level.NOTE, "Worth knowing", room, is_brief=snug.is_brief)


def _first_look(sheet: JobSheet, room: float, snug: _Snug) -> Piece:
    """Set-up drawing on the left; the picture and what the signs mean on the right."""
    left = room - SIDE - BETWEEN
    size = (left, snug.row_mm)
    signs = legend(sheet.setup, scale_for(sheet.setup.stock, size), SIDE)
    column = stacked([_picture(sheet.look, snug.picture_mm), gap(2.0), *signs])
    return side_by_side(setup_piece(sheet.setup, size), column, left + BETWEEN)


def _board(board: SetUp | None, room: float, snug: _Snug) -> Iterator[Piece]:
    """The nest board from above, after the work at the router, which it belongs to."""
    if board is None:
        return
    yield from heading("The nest board", room)
    yield replace(gap(1.0), keeps_with_next=True)
    yield setup_piece(board, (room, snug.row_mm))


def _picture(look: Look, tall_mm: float) -> Piece:
    x_min, y_min, x_max, y_max = view_box(look)
    factor = min(SIDE / (x_max - x_min), tall_mm / (y_max - y_min))
    height = (y_max - y_min) * factor

    def draw(surface: Surface, at: Point) -> None:
        left = at[0] + (SIDE - (x_max - x_min) * factor) / 2.0
        draw_view(Scaled(surface, factor, (left - x_min * factor, at[1] - height - y_min * factor)), look)

    return Piece(height, draw)
