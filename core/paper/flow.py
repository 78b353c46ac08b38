"""How a paper is laid out: pieces of known height, set one under the other, page after page.

A piece is never cut: paragraphs arrive as one piece a line. So nothing runs off a page, and nothing lies
on anything else, whatever the words are. A piece that keeps with the next is taken to the next page with it.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from core.findings import Point
from core.paper.lettering import LEADING, POINT, shortened, width_mm, wrapped
from core.paper.pdf import Paper
from core.paper.recorder import Recorder, Recording
from core.paper.surface import INK, Anchor, Letters, Pen, Surface

#: mm round every page; home printers leave up to 6 mm unprinted (common practice, no source).
MARGIN = 13.0

#: mm at the foot of a page for the line that says which page it is.
FOOT = 8.0

BODY = Letters(10.0 * POINT)
STRONG = Letters(10.0 * POINT, is_bold=True)
SMALL = Letters(9.0 * POINT, "#4c5257")
HEAD = Letters(13.0 * POINT, is_bold=True)
TITLE = Letters(24.0 * POINT, is_bold=True)

#: Share of the type's height from the top of its line to its base line.
ASCENT = 1.0

Drawn = Callable[[Surface, Point], None]


@dataclass(frozen=True)
class Piece:
    """height_mm, and a function that draws it with its upper left corner at a point."""

    height_mm: float
    draw: Drawn
    keeps_with_next: bool = False


@dataclass(frozen=True)
class Line:
    """One line of words already measured, indent mm to the right."""

    words: str
    letters: Letters = BODY
    indent_mm: float = 0.0

    @property
    def height_mm(self) -> float:
        """Height from this line to the next, mm."""
        return self.letters.size_mm * LEADING

    def draw(self, surface: Surface, at: Point) -> None:
        """Draw it with its upper left corner there."""
        base = (at[0] + self.indent_mm, at[1] - ASCENT * self.letters.size_mm)
        surface.text(self.words, base, self.letters)

    def piece(self, *, keeps_with_next: bool = False) -> Piece:
        """The line alone."""
        return Piece(self.height_mm, self.draw, keeps_with_next)


def text_width(paper: Paper) -> float:
    """Room between the margins, mm."""
    return paper.width_mm - 2.0 * MARGIN


def lines(words: str, letters: Letters, room_mm: float, indent_mm: float = 0.0) -> list[Line]:
    """The words wrapped into room_mm less the indent."""
    return [Line(line, letters, indent_mm) for line in wrapped(words, letters, room_mm - indent_mm)]


def paragraph(words: str, room_mm: float, letters: Letters = BODY, indent_mm: float = 0.0) -> list[Piece]:
    """One piece a line; the first keeps with the second, and the last but one with the last."""
    rows = lines(words, letters, room_mm, indent_mm)
    return [
        row.piece(keeps_with_next=i in (0, len(rows) - 2) and i < len(rows) - 1) for i, row in enumerate(rows)
    ]


def gap(height_mm: float) -> Piece:
    """Nothing, that tall."""
    return Piece(height_mm, lambda _surface, _at: None)


def heading(words: str, room_mm: float) -> list[Piece]:
    """A heading with a rule under it, that never stands last on a page."""
    line = Line(shortened(words, HEAD, room_mm), HEAD)

    def draw(surface: Surface, at: Point) -> None:
        line.draw(surface, (at[0], at[1] - 2.8))
        rule = at[1] - 2.8 - line.height_mm
        surface.move(at[0], rule)
        surface.line(at[0] + room_mm, rule)
        surface.paint(None, Pen(INK, 0.35))

    return [Piece(line.height_mm + 4.6, draw, keeps_with_next=True)]


def side_by_side(left: Piece, right: Piece, offset_mm: float) -> Piece:
    """Two pieces in one row, the right one offset_mm from the left edge."""

    def draw(surface: Surface, at: Point) -> None:
        left.draw(surface, at)
        right.draw(surface, (at[0] + offset_mm, at[1]))

    return Piece(max(left.height_mm, right.height_mm), draw)


def stacked(pieces: Iterable[Piece]) -> Piece:
    """Several pieces as one that is never parted; a page must hold it."""
    column = tuple(pieces)

    def draw(surface: Surface, at: Point) -> None:
        y = at[1]
        for piece in column:
            piece.draw(surface, (at[0], y))
            y -= piece.height_mm

    return Piece(sum(piece.height_mm for piece in column), draw)


def laid_out(pieces: Sequence[Piece], paper: Paper, foot: str) -> tuple[Recording, ...]:
    """The pages; foot is said on each, with "page 1 of 2"."""
    pages = list(_pages(pieces, paper.height_mm - 2.0 * MARGIN - FOOT))
    return tuple(
        _drawn(page, paper, (foot, f"page {number} of {len(pages)}")) for number, page in enumerate(pages, 1)
    )


def _pages(pieces: Sequence[Piece], room_mm: float) -> Iterator[list[Piece]]:
    page: list[Piece] = []
    used = 0.0
    for run in _fitting(_runs(pieces), room_mm):
        tall = sum(piece.height_mm for piece in run)
        if page and used + tall > room_mm:
            yield page
            page, used = [], 0.0
        page.extend(run)
        used += tall
    yield page


def _fitting(runs: Iterable[list[Piece]], room_mm: float) -> Iterator[list[Piece]]:
    """A run that no page holds is taken apart again."""
    for run in runs:
        if sum(piece.height_mm for piece in run) > room_mm:
            yield from ([piece] for piece in run)
        else:
            yield run


def _runs(pieces: Sequence[Piece]) -> Iterator[list[Piece]]:
    """Pieces that must stand on one page, together."""
    run: list[Piece] = []
    for piece in pieces:
        run.append(piece)
        if not piece.keeps_with_next:
            yield run
            run = []
    if run:
        yield run


def _drawn(page: Sequence[Piece], paper: Paper, foot: tuple[str, str]) -> Recording:
    recorder = Recorder()
    y = paper.height_mm - MARGIN
    for piece in page:
        piece.draw(recorder, (MARGIN, y))
        y -= piece.height_mm
    _draw_foot(recorder, paper, foot)
    return recorder.recording()


def _draw_foot(surface: Surface, paper: Paper, foot: tuple[str, str]) -> None:
    right = Letters(SMALL.size_mm, SMALL.colour, anchor=Anchor.END)
    room = text_width(paper) - width_mm(foot[1], right) - 6.0
    surface.text(shortened(foot[0], SMALL, room), (MARGIN, MARGIN), SMALL)
    surface.text(foot[1], (paper.width_mm - MARGIN, MARGIN), right)
