"""The order of work on the sheet: a box to tick, what to do, what to take care of, the picture of it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from core.findings import Point
from core.paper.flow import (
    BODY,
    SMALL,
    STRONG,
    Columns,
    Piece,
    gap,
    heading,
    height_of,
    lines,
    stacked,
)
from core.paper.lettering import POINT
from core.paper.numbers import box_words
from core.paper.order import Stage, WorkStep
from core.paper.scaled import Scaled
from core.paper.scenes import HIGH, WIDE, draw_scene
from core.paper.shapes import draw_box, draw_warning
from core.paper.surface import INK, Fill, Letters, Pen, Surface

CAUTION_INK = "#8a4b00"
CAUTION = Letters(9.0 * POINT, CAUTION_INK)

#: mm that a step's words stand to the right of its box.
STEP_INDENT = 7.5

#: Scenes are drawn smaller than they are, so that words have room beside them in a column.
SCENE = 0.72

#: mm between two columns, and the share of the page that the router's steps take beside its cards.
BETWEEN, STEPS_SHARE = 7.0, 0.57


@dataclass(frozen=True)
class FilmSheet:
    """One film: its name, colour "#rrggbb", drawing's file name, and the sheet box to read, mm."""

    name: str
    colour: str
    file: str
    box_mm: tuple[float, float]


def work_blocks(
    stages: tuple[Stage, ...], films: tuple[FilmSheet, ...], cards: tuple[Piece, ...], room_mm: float
) -> Iterator[Columns]:
    """Stages of one place of work stand on one page: those at the router with the cards beside them.

    Where nothing is done at the router the cards, what there is to measure, come first.
    """
    if cards and not any(stage.is_at_router for stage in stages):
        yield Columns(cards, (), 0.0)
    for block in _by_place(stages):
        if block[0].is_at_router:
            wide = STEPS_SHARE * (room_mm - BETWEEN)
            steps = tuple(piece for stage in block for piece in _stage(stage, films, wide))
            yield Columns(steps, cards, wide + BETWEEN)
            cards = ()
        else:
            wide = (room_mm - BETWEEN) / 2.0
            yield balanced([tuple(_stage(stage, films, wide)) for stage in block], wide + BETWEEN)


def cards_room(room_mm: float) -> float:
    """The width of the cards' column, mm."""
    return (1.0 - STEPS_SHARE) * (room_mm - BETWEEN)


def balanced(groups: list[tuple[Piece, ...]], offset_mm: float) -> Columns:
    """Groups of pieces in two columns, in their order, the taller column as short as can be."""
    splits = [
        (
            tuple(piece for group in groups[:count] for piece in group),
            tuple(piece for group in groups[count:] for piece in group),
        )
        for count in range(1, len(groups) + 1)
    ]
    left, right = min(splits, key=lambda split: max(height_of(split[0]), height_of(split[1])))
    return Columns(left, right, offset_mm)


def _by_place(stages: tuple[Stage, ...]) -> list[list[Stage]]:
    blocks: list[list[Stage]] = []
    for stage in stages:
        if blocks and blocks[-1][0].is_at_router is stage.is_at_router:
            blocks[-1].append(stage)
        else:
            blocks.append([stage])
    return blocks


def _stage(stage: Stage, films: tuple[FilmSheet, ...], room: float) -> Iterator[Piece]:
    """The heading keeps with the first step, and the step before the last with the last."""
    yield from heading(stage.title, room)
    yield replace(gap(1.0), keeps_with_next=True)
    last = len(stage.steps) - 1
    for number, step in enumerate(stage.steps):
        yield replace(_step(step, room), keeps_with_next=number == last - 1)
        if number == 0 and stage.shows_sheet_boxes:
            yield from _sheet_boxes(films, room)
    yield gap(2.0)


def _step(step: WorkStep, room: float) -> Piece:
    """Never parted; the picture stands on the right."""
    beside = SCENE * WIDE + 2.5 if step.scene else 0.0
    words = [line.piece() for line in lines(step.words, BODY, room - beside, STEP_INDENT)]
    caution = [_caution(step.care, room - beside)] if step.care else []
    column = stacked([*words, *caution, gap(1.6)])
    height = max(column.height_mm, SCENE * HIGH + 1.5 if step.scene else 0.0)

    def draw(surface: Surface, at: Point) -> None:
        if step.scene:
            corner = (at[0] + room - SCENE * WIDE, at[1] - SCENE * HIGH - 0.3)
            draw_scene(Scaled(surface, SCENE, corner), step.scene, (0.0, 0.0))
        draw_box(surface, (at[0] + 0.4, at[1] - 4.3), (at[0] + 4.6, at[1] - 0.1), None, Pen(INK, 0.35))
        column.draw(surface, at)

    return Piece(height, draw)


def _caution(words: str, room: float) -> Piece:
    indent = STEP_INDENT + 4.8
    column = stacked([gap(0.4), *(line.piece() for line in lines(words, CAUTION, room, indent))])

    def draw(surface: Surface, at: Point) -> None:
        draw_warning(surface, (at[0] + STEP_INDENT, at[1] - 3.7), 3.4, CAUTION_INK)
        column.draw(surface, at)

    return Piece(column.height_mm, draw)


def _sheet_boxes(films: tuple[FilmSheet, ...], room: float) -> Iterator[Piece]:
    """The number to read in the cutter's program, once where all films show the same."""
    boxes = list(dict.fromkeys(film.box_mm for film in films))
    for box in boxes:
        inside = [film for film in films if film.box_mm == box]
        yield _sheet_box(inside, box, room)
    yield gap(1.2)


def _sheet_box(films: list[FilmSheet], box: tuple[float, float], room: float) -> Piece:
    indent, inner = STEP_INDENT + 2.0, room - 2.0
    rows = [gap(1.4)]
    metric, _, imperial = box_words(*box).partition(" (")
    rows += [line.piece() for line in lines(f"must read {metric}", STRONG, inner, indent)]
    rows += [line.piece() for line in lines(f"({imperial}", SMALL, inner, indent)]
    rows.append(gap(0.6))
    rows += [_film_line(film, inner, indent) for film in films]
    column = stacked([*rows, gap(1.4)])

    def draw(surface: Surface, at: Point) -> None:
        low, high = (at[0] + STEP_INDENT, at[1] - column.height_mm + 0.4), (at[0] + room, at[1] - 0.4)
        draw_box(surface, low, high, Fill("#f4f1ea"), Pen("#b9b2a2", 0.2))
        column.draw(surface, at)

    return Piece(column.height_mm, draw)


def _film_line(film: FilmSheet, room: float, indent: float) -> Piece:
    """Its colour and its file."""
    words = stacked(line.piece() for line in lines(film.file or film.name, SMALL, room, indent + 5.0))

    def draw(surface: Surface, at: Point) -> None:
        low = (at[0] + indent, at[1] - 3.5)
        draw_box(surface, low, (low[0] + 3.2, low[1] + 3.2), Fill(film.colour), Pen(INK, 0.2))
        words.draw(surface, at)

    return Piece(words.height_mm + 0.3, draw)
