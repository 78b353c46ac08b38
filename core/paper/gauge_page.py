"""The page of a gauge: the plate with a letter at every distance, what was meant, and room to write."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from core.findings import Point
from core.outline.region import Regions, bounds_of
from core.paper.flow import BODY, SMALL, TITLE, Line, Piece, gap, laid_out, lines, paragraph, text_width
from core.paper.lettering import POINT, width_mm
from core.paper.pdf import Paper, write_pdf
from core.paper.scaled import Scaled
from core.paper.shapes import draw_arrow_head, draw_box, draw_line, draw_regions
from core.paper.surface import INK, Anchor, Fill, Letters, Pen, Surface

#: mm of paper across the drawn plate.
FIGURE_MM = 86.0
#: mm from one line of the table to the next: room for a pencil.
ROW_MM = 4.8
#: mm: the two columns to write in.
ROOM_TO_WRITE = 26.0
LETTER = Letters(9.0 * POINT, is_bold=True, anchor=Anchor.MIDDLE)
EDGE, DISTANCE, RULE = Pen(INK, 0.4), Pen("#2a5d84", 0.2), Pen("#9aa1a6", 0.2)
STEP_EDGE, STEP_MM = Pen("#6d7579", 0.25), 9.0
WHITE, PLATE = Fill("#ffffff"), Fill("#eef1f3")

HOW = (
    (
        "Cut plate and film as the job sheet says. Let both lie in the room for an hour: 15 degrees change "
        "300 mm of acrylic by a third of a millimetre. Close the calipers without force and turn them a "
        "little, until the least is read across edges. Near edges: outside jaws, one in each hole. Far "
        "edges: inside jaws, until the most is read. Read each distance three times and write the middle one."
    ),
    (
        "The film is read on its liner, before weeding, through a loupe. Leave out what you cannot reach. "
        "Write the numbers into the form that lies beside the kit, and say there how well you read."
    ),
)


@dataclass(frozen=True)
class Distance:
    """A letter, what it is, the number meant, mm, and from where to where on the plate, mm."""

    letter: str
    words: str
    meant_mm: float
    start: Point
    end: Point


@dataclass(frozen=True)
class StairStep:
    """A step of the stair: its letter, how deep it was meant, and its middle on the plate, mm."""

    letter: str
    depth_mm: float
    at: Point


def gauge_pdf(
    title: str,
    plate: Regions,
    distances: Sequence[Distance],
    stair: Sequence[StairStep],
    letters: Sequence[tuple[str, Point]],
    paper: Paper,
) -> bytes:
    """The page; plate in mm about its middle, as distances, stair and the places of letters are."""
    room = text_width(paper)
    pieces = [
        *(line.piece(keeps_with_next=True) for line in lines("Gauge: what to measure", TITLE, room)),
        gap(2.0),
        *(piece for words in HOW for piece in paragraph(words, room)),
        gap(3.0),
        _figure(plate, distances, stair, letters, room),
        gap(3.0),
        *_table(distances, stair, room),
    ]
    return write_pdf(laid_out(pieces, paper, title), paper, f"{title}: gauge")


def _figure(
    plate: Regions,
    distances: Sequence[Distance],
    stair: Sequence[StairStep],
    letters: Sequence[tuple[str, Point]],
    room: float,
) -> Piece:
    x_min, y_min, x_max, y_max = bounds_of(region.outer for region in plate)
    factor = FIGURE_MM / (x_max - x_min)
    height = factor * (y_max - y_min)

    def draw(surface: Surface, at: Point) -> None:
        shift = (at[0] + room / 2.0, at[1] - height / 2.0)
        scaled = Scaled(surface, factor, shift)
        draw_regions(scaled, plate, PLATE, Pen(EDGE.colour, EDGE.width_mm / factor))
        for one in distances:
            ends = [(shift[0] + factor * x, shift[1] + factor * y) for x, y in (one.start, one.end)]
            _draw_distance(surface, ends[0], ends[1])
        for step in stair:
            (x, y), half = step.at, STEP_MM / 2.0
            draw_box(scaled, (x - half, y - half), (x + half, y + half), PLATE, STEP_EDGE)
        for told, place in letters:
            _draw_letter(surface, told, (shift[0] + factor * place[0], shift[1] + factor * place[1]))

    return Piece(height, draw)


def _draw_distance(surface: Surface, start: Point, end: Point) -> None:
    draw_line(surface, start, end, DISTANCE)
    long = hypot(end[0] - start[0], end[1] - start[1])
    along = ((end[0] - start[0]) / long, (end[1] - start[1]) / long)
    draw_arrow_head(surface, end, along, DISTANCE.colour)
    draw_arrow_head(surface, start, (-along[0], -along[1]), DISTANCE.colour)


def _draw_letter(surface: Surface, letters: str, at: Point) -> None:
    wide, tall = width_mm(letters, LETTER) + 1.6, LETTER.size_mm * 1.1
    draw_box(
        surface,
        (at[0] - wide / 2.0, at[1] - tall / 2.0),
        (at[0] + wide / 2.0, at[1] + tall / 2.0),
        WHITE,
        None,
    )
    surface.text(letters, (at[0], at[1] - LETTER.size_mm * 0.36), LETTER)


def _table(distances: Sequence[Distance], stair: Sequence[StairStep], room: float) -> list[Piece]:
    head = _row(("", "distance, in mm", "meant", "plate", "film"), room, SMALL, is_head=True)
    rows = [_row((one.letter, one.words, f"{one.meant_mm:.2f}", "", ""), room, BODY) for one in distances]
    depths = [
        _row((step.letter, "depth of the step, in the waste", f"{step.depth_mm:.2f}", "", "-"), room, BODY)
        for step in stair
    ]
    return [head, *rows, *depths]


def _row(
    cells: tuple[str, str, str, str, str], room: float, letters: Letters, *, is_head: bool = False
) -> Piece:
    write = (room - 2.0 * ROOM_TO_WRITE, room - ROOM_TO_WRITE)
    at_mm = (0.0, 8.0, write[0] - 20.0, write[0] + 2.0, write[1] + 2.0)

    def draw(surface: Surface, at: Point) -> None:
        for cell, indent in zip(cells, at_mm, strict=True):
            if cell:
                Line(cell, letters, indent).draw(surface, at)
        rule = at[1] - ROW_MM + 0.6
        draw_line(surface, (at[0], rule), (at[0] + room, rule), RULE)
        if not is_head:
            for x in write:
                draw_line(surface, (at[0] + x, at[1] + 0.6), (at[0] + x, rule), RULE)

    return Piece(ROW_MM, draw, keeps_with_next=is_head)
