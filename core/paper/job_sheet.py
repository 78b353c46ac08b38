"""The job sheet: what somebody else needs to cut this kit without asking.

Title, what stands in the way, set-up drawing and picture, numbers, order of work with boxes to tick, sheet
boxes, findings left open. The words arrive as plain values; the sheet only sets them.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from core.findings import Finding, Level, Point
from core.paper.flow import (
    BODY,
    SMALL,
    STRONG,
    TITLE,
    Line,
    Piece,
    gap,
    heading,
    laid_out,
    lines,
    paragraph,
    side_by_side,
    stacked,
    text_width,
)
from core.paper.lettering import POINT
from core.paper.no_program import place_of, stops_of
from core.paper.numbers import Number, box_words
from core.paper.order import Stage, WorkStep
from core.paper.pdf import A4, Paper, write_pdf
from core.paper.recorder import Recording
from core.paper.scaled import Scaled
from core.paper.scenes import HIGH, WIDE, draw_scene
from core.paper.setup_drawing import SetUp, legend, scale_for, setup_piece
from core.paper.shapes import draw_box, draw_stop, draw_warning
from core.paper.surface import INK, Fill, Letters, Pen, Surface
from core.paper.view import Look, draw_view, view_box

CAUTION_INK, STOP_INK, NOTE_INK = "#8a4b00", "#a3161c", "#2a5d84"
CAUTION = Letters(9.5 * POINT, CAUTION_INK)

#: mm: the picture's and the legend's column, beside the set-up drawing; rows of the first page.
SIDE, BETWEEN, ROW, PICTURE = 62.0, 6.0, 112.0, 58.0

STOP_HEAD = Letters(14.0 * POINT, STOP_INK, is_bold=True)
STOP_INDENT = 13.0

#: Findings of one kind that are told word by word; a dozen rounded corners need no dozen sentences.
TOLD_IN_FULL = 2

#: mm that a step's words stand to the right of its box.
STEP_INDENT = 9.0

TERMS = (
    "These numbers are starting values, not permission: the manuals of your machine, bit and material, and "
    "the rules where you work, come first."
)


@dataclass(frozen=True)
class FilmSheet:
    """One film: its name, colour "#rrggbb", drawing's file name, and the sheet box to read, mm."""

    name: str
    colour: str
    file: str
    box_mm: tuple[float, float]


@dataclass(frozen=True)
class JobSheet:
    """Everything on it; numbers is empty when there is no program. stages are the order of work."""

    title: str
    summary: str
    look: Look
    setup: SetUp
    numbers: tuple[Number, ...]
    stages: tuple[Stage, ...]
    films: tuple[FilmSheet, ...]
    findings: tuple[Finding, ...]
    made_by: str = "Samecut"


def job_sheet_pdf(sheet: JobSheet, paper: Paper = A4) -> bytes:
    """The sheet as PDF, at true size."""
    return write_pdf(job_sheet_pages(sheet, paper), paper, f"{sheet.title}: job sheet")


def job_sheet_pages(sheet: JobSheet, paper: Paper = A4) -> tuple[Recording, ...]:
    """The sheet's pages as recordings, mm."""
    return laid_out(
        list(_pieces(sheet, text_width(paper))), paper, f"{sheet.title} · made by {sheet.made_by}"
    )


def _pieces(sheet: JobSheet, room: float) -> Iterator[Piece]:
    yield from paragraph(sheet.title, room, TITLE)
    yield from paragraph(sheet.summary, room)
    yield gap(3.0)
    yield from _stop_box(sheet, room)
    yield _first_look(sheet, room)
    yield from _numbers(sheet, room)
    yield from _told(sheet, Level.CAUTION, "Left open", room)
    for stage in sheet.stages:
        yield from _stage(stage, room, sheet.films if stage.shows_sheet_boxes else ())
    yield from _told(sheet, Level.NOTE, "Worth knowing", room)


def _first_look(sheet: JobSheet, room: float) -> Piece:
    """Set-up drawing on the left; the picture and what the signs mean on the right."""
    left = room - SIDE - BETWEEN
    size = (left, ROW)
    signs = legend(sheet.setup, scale_for(sheet.setup.stock, size), SIDE)
    column = stacked([_picture(sheet.look), gap(3.0), *signs])
    return side_by_side(setup_piece(sheet.setup, size), column, left + BETWEEN)


def _picture(look: Look) -> Piece:
    x_min, y_min, x_max, y_max = view_box(look)
    factor = min(SIDE / (x_max - x_min), PICTURE / (y_max - y_min))
    height = (y_max - y_min) * factor

    def draw(surface: Surface, at: Point) -> None:
        left = at[0] + (SIDE - (x_max - x_min) * factor) / 2.0
        draw_view(Scaled(surface, factor, (left - x_min * factor, at[1] - height - y_min * factor)), look)

    return Piece(height, draw)


def _numbers(sheet: JobSheet, room: float) -> Iterator[Piece]:
    if not sheet.numbers:
        return
    yield from heading("Numbers", room)
    half = (room - BETWEEN) / 2.0
    count = (len(sheet.numbers) + 1) // 2
    cells = [_cell(number, half) for number in sheet.numbers]
    cells += [gap(0.0)] * (2 * count - len(cells))
    for left, right in zip(cells[:count], cells[count:], strict=True):
        yield side_by_side(left, right, half + BETWEEN)
    yield gap(1.5)
    yield from paragraph(TERMS, room, SMALL)


def _cell(number: Number, room: float) -> Piece:
    """Name on the left, value and reason under each other on the right."""
    name = stacked([line.piece() for line in lines(number.name, BODY, 0.4 * room)])
    value = [line.piece() for line in lines(number.value, STRONG, 0.58 * room)]
    if number.reason:
        value += [line.piece() for line in lines(number.reason, SMALL, 0.58 * room)]
    return stacked([side_by_side(name, stacked(value), 0.42 * room), gap(1.2)])


def _stage(stage: Stage, room: float, boxes: tuple[FilmSheet, ...]) -> Iterator[Piece]:
    """The whole stage stays on one page, where a page can hold it."""
    pieces = [*heading(stage.title, room), gap(1.0)]
    for number, step in enumerate(stage.steps):
        pieces.append(_step(step, room))
        if number == 0 and boxes:
            pieces += [_sheet_box(film, room) for film in boxes] + [gap(1.5)]
    for piece in pieces[:-1]:
        yield replace(piece, keeps_with_next=True)
    yield pieces[-1]


def _step(step: WorkStep, room: float) -> Piece:
    """A box to tick, the words, the caution with its sign, the picture on the right; never parted."""
    beside = WIDE + 4.0 if step.scene else 0.0
    words = [line.piece() for line in lines(step.words, BODY, room - beside, STEP_INDENT)]
    caution = [_caution(step.caution, room - beside)] if step.caution else []
    column = stacked([*words, *caution, gap(1.7)])
    height = max(column.height_mm, HIGH + 3.0 if step.scene else 0.0)

    def draw(surface: Surface, at: Point) -> None:
        if step.scene:
            draw_scene(surface, step.scene, (at[0] + room - WIDE, at[1] - HIGH - 0.5))
        draw_box(surface, (at[0] + 0.6, at[1] - 4.3), (at[0] + 4.8, at[1] - 0.1), None, Pen(INK, 0.35))
        column.draw(surface, at)

    return Piece(height, draw)


def _caution(words: str, room: float) -> Piece:
    indent = STEP_INDENT + 5.5
    column = stacked([gap(0.5), *(line.piece() for line in lines(words, CAUTION, room, indent))])

    def draw(surface: Surface, at: Point) -> None:
        draw_warning(surface, (at[0] + STEP_INDENT, at[1] - 4.0), 3.6, CAUTION_INK)
        column.draw(surface, at)

    return Piece(column.height_mm, draw)


def _sheet_box(film: FilmSheet, room: float) -> Piece:
    """The number to read in the cutter's program, with the film's colour beside it."""
    indent = STEP_INDENT + 9.0
    words = [*lines(f"Film {film.name}: {film.file}", BODY, room - 4.0, indent)]
    words += lines(f"Select all: it must read {box_words(*film.box_mm)}", STRONG, room - 4.0, indent)
    column = stacked([gap(1.8), *(line.piece() for line in words), gap(2.2)])

    def draw(surface: Surface, at: Point) -> None:
        low, high = (at[0] + STEP_INDENT, at[1] - column.height_mm + 0.6), (at[0] + room, at[1] - 0.6)
        draw_box(surface, low, high, Fill("#f4f1ea"), Pen("#b9b2a2", 0.2))
        draw_box(surface, (low[0], low[1]), (low[0] + 5.0, high[1]), Fill(film.colour), Pen(INK, 0.2))
        column.draw(surface, at)

    return Piece(column.height_mm, draw)


def _stop_box(sheet: JobSheet, room: float) -> Iterator[Piece]:
    """Why there is no program: prominent, line by line, so that any number of stops can be told."""
    stops = stops_of(sheet.findings)
    if not stops:
        return
    inner = room - 8.0
    rows: list[Line] = []
    for stop in stops:
        rows += lines(_with_place(stop), STRONG, inner, STOP_INDENT)
        rows += lines(f"What to do: {stop.remedy}", BODY, inner, STOP_INDENT)
    head = lines("There is no router program in this kit.", STOP_HEAD, inner, STOP_INDENT)
    yield replace(_band(_signed(head), room), keeps_with_next=True)
    for row in rows:
        yield _band(row.piece(), room)
    yield _band(gap(3.0), room)
    yield gap(4.0)


def _signed(head: list[Line]) -> Piece:
    """The box's first line, with the sign of a stop beside it."""
    column = stacked([gap(2.5), *(line.piece() for line in head), gap(0.8)])

    def draw(surface: Surface, at: Point) -> None:
        draw_stop(surface, (at[0] + 4.2, at[1] - 8.2), 6.0, STOP_INK)
        column.draw(surface, at)

    return Piece(max(column.height_mm, 9.0), draw)


def _band(inside: Piece, room: float) -> Piece:
    """A strip of the stop box; strips meet, so that the box may run over to the next page."""

    def draw(surface: Surface, at: Point) -> None:
        low = (at[0], at[1] - inside.height_mm)
        draw_box(surface, low, (at[0] + room, at[1]), Fill("#fbe9e7"), None)
        draw_box(surface, low, (at[0] + 1.8, at[1]), Fill(STOP_INK), None)
        inside.draw(surface, at)

    return Piece(inside.height_mm, draw)


def _told(sheet: JobSheet, level: Level, title: str, room: float) -> Iterator[Piece]:
    """Cautions are read before the work, notes after it; stops stand on top of the sheet already."""
    found = [finding for finding in sheet.findings if finding.level is level]
    if not found:
        return
    yield from heading(title, room)
    yield replace(gap(1.0), keeps_with_next=True)
    for alike in _kinds(found):
        for finding in alike[:TOLD_IN_FULL]:
            yield _finding(finding, room)
        yield from _more(alike[TOLD_IN_FULL:], room)


def _kinds(findings: list[Finding]) -> list[list[Finding]]:
    """Findings of one code together, the kinds in the order in which they come first."""
    kinds: dict[str, list[Finding]] = {}
    for finding in findings:
        kinds.setdefault(finding.code, []).append(finding)
    return list(kinds.values())


def _more(others: list[Finding], room: float) -> Iterator[Piece]:
    """The rest of a kind, by their places alone; the report has every word."""
    if not others:
        return
    places = " ".join(f"({other.at[0]:.1f}, {other.at[1]:.1f})" for other in others if other.at)
    where = f", at {places} mm" if places else ""
    words = f"{len(others)} more of this kind{where}; report.json tells each."
    yield from paragraph(words, room, SMALL, STEP_INDENT)
    yield gap(2.0)


def _finding(finding: Finding, room: float) -> Piece:
    is_caution = finding.level is Level.CAUTION
    rows = [*lines(_with_place(finding), BODY, room, STEP_INDENT)]
    rows += lines(finding.remedy, SMALL, room, STEP_INDENT) if finding.remedy else []
    column = stacked([*(line.piece() for line in rows), gap(2.0)])

    def draw(surface: Surface, at: Point) -> None:
        if is_caution:
            draw_warning(surface, (at[0] + 0.8, at[1] - 3.9), 3.8, CAUTION_INK)
        else:
            low = (at[0] + 1.2, at[1] - 3.6)
            draw_box(surface, low, (low[0] + 3.0, low[1] + 3.0), Fill(NOTE_INK), None)
        column.draw(surface, at)

    return Piece(column.height_mm, draw)


def _with_place(finding: Finding) -> str:
    place = place_of(finding)
    return f"{finding.text} ({place})" if place else finding.text
