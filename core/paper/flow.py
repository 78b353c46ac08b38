"""How a paper is laid out: pieces of known height, set one under the other, page after page.

A piece is never cut: paragraphs arrive as one piece a line. So nothing runs off a page, and nothing lies
on anything else, whatever the words are. A piece that keeps with the next is taken to the next page with it.
Two columns go to a page that holds both, if there is one; else each runs on from page to page by itself.
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

#: mm left on a page for which columns that no page holds are begun there.
WORTH_STARTING = 60.0

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

    return Piece(height_of(column), draw)


@dataclass(frozen=True)
class Columns:
    """Two columns of pieces beside each other, the right one offset_mm from the left edge; head over both."""

    left: tuple[Piece, ...]
    right: tuple[Piece, ...]
    offset_mm: float
    head: tuple[Piece, ...] = ()

    @property
    def height_mm(self) -> float:
        """Height on a page that holds all of it."""
        return height_of(self.head) + max(height_of(self.left), height_of(self.right))


def height_of(pieces: Iterable[Piece]) -> float:
    """Pieces under each other, mm."""
    return sum(piece.height_mm for piece in pieces)


@dataclass(frozen=True)
class _Reached:
    """A page, from 0, and how much of it is used from its top, mm."""

    page: int
    used_mm: float


@dataclass(frozen=True)
class _Set:
    """A piece and where it stands: its page, and x and y from the upper left of the room there, mm."""

    page: int
    at: Point
    piece: Piece


def laid_out(items: Sequence[Piece | Columns], paper: Paper, foot: str) -> tuple[Recording, ...]:
    """The pages; foot is said on each, with "page 1 of 2"."""
    placed = list(_placed(items, paper.height_mm - 2.0 * MARGIN - FOOT))
    count = 1 + max((one.page for one in placed), default=0)
    return tuple(
        _drawn([one for one in placed if one.page == page], paper, (foot, f"page {page + 1} of {count}"))
        for page in range(count)
    )


def _placed(items: Sequence[Piece | Columns], room_mm: float) -> Iterator[_Set]:
    reached = _Reached(0, 0.0)
    pieces: list[Piece] = []
    for item in items:
        if isinstance(item, Piece):
            pieces.append(item)
            continue
        placed, reached = _down(pieces, 0.0, reached, room_mm)
        yield from placed
        pieces = []
        placed, reached = _beside(item, reached, room_mm)
        yield from placed
    yield from _down(pieces, 0.0, reached, room_mm)[0]


def _down(
    pieces: Sequence[Piece], x: float, reached: _Reached, room_mm: float
) -> tuple[list[_Set], _Reached]:
    """Pieces under each other from a place on, over as many pages as they need."""
    placed: list[_Set] = []
    page, used = reached.page, reached.used_mm
    for run in _fitting(_runs(pieces), room_mm):
        if used > 0.0 and used + height_of(run) > room_mm:
            page, used = page + 1, 0.0
        for piece in run:
            placed.append(_Set(page, (x, used), piece))
            used += piece.height_mm
    return placed, _Reached(page, used)


def _beside(columns: Columns, reached: _Reached, room_mm: float) -> tuple[list[_Set], _Reached]:
    """Both columns from the same height; from a new page where that holds them and this one does not."""
    left_mm = room_mm - reached.used_mm
    starts_here = columns.height_mm <= left_mm or (columns.height_mm > room_mm and left_mm >= WORTH_STARTING)
    start = reached if starts_here or reached.used_mm == 0.0 else _Reached(reached.page + 1, 0.0)
    head, start = _down(columns.head, 0.0, start, room_mm)
    left, left_end = _down(columns.left, 0.0, start, room_mm)
    right, right_end = _down(columns.right, columns.offset_mm, start, room_mm)
    end = max(left_end, right_end, key=lambda one: (one.page, one.used_mm))
    return [*head, *left, *right], end


def _fitting(runs: Iterable[list[Piece]], room_mm: float) -> Iterator[list[Piece]]:
    """A run that no page holds is taken apart again."""
    for run in runs:
        if height_of(run) > room_mm:
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


def _drawn(page: Sequence[_Set], paper: Paper, foot: tuple[str, str]) -> Recording:
    recorder = Recorder()
    for one in page:
        one.piece.draw(recorder, (MARGIN + one.at[0], paper.height_mm - MARGIN - one.at[1]))
    _draw_foot(recorder, paper, foot)
    return recorder.recording()


def _draw_foot(surface: Surface, paper: Paper, foot: tuple[str, str]) -> None:
    right = Letters(SMALL.size_mm, SMALL.colour, anchor=Anchor.END)
    room = text_width(paper) - width_mm(foot[1], right) - 6.0
    surface.text(shortened(foot[0], SMALL, room), (MARGIN, MARGIN), SMALL)
    surface.text(foot[1], (paper.width_mm - MARGIN, MARGIN), right)
