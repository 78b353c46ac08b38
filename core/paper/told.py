"""What was found, on the sheet: stops before everything, cautions before the work, notes after it."""

from collections.abc import Iterator
from dataclasses import replace

from core.findings import Finding, Level, Point
from core.paper.flow import BODY, SMALL, STRONG, Columns, Line, Piece, gap, heading, lines, stacked
from core.paper.lettering import POINT
from core.paper.no_program import place_of, stops_of
from core.paper.shapes import draw_box, draw_stop, draw_warning
from core.paper.steps import BETWEEN, CAUTION_INK, balanced
from core.paper.surface import Fill, Letters, Surface
from core.paper.tinted import NOTE_INK, STOP_INK, tinted

STOP_HEAD = Letters(14.0 * POINT, STOP_INK, is_bold=True)
STOP_INDENT = 13.0

#: Findings of one kind that are told word by word; a dozen rounded corners need no dozen sentences.
TOLD_IN_FULL = 2

#: Places of further findings of a kind that are said, and where there is little room; the report has all.
PLACES, FEW_PLACES = 12, 3

#: Notes that the grid of numbers and the steps of the work tell in their own words.
TOLD_ELSEWHERE = frozenset(("chip-load", "measure-the-sheet", "film-no-heat"))

#: mm that a finding's words stand to the right of its sign.
INDENT = 7.5


def stop_box(findings: tuple[Finding, ...], room: float) -> Iterator[Piece]:
    """Why there is no program: prominent, line by line, so that any number of stops can be told."""
    stops = stops_of(findings)
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
    return tinted(inside, room, "#fbe9e7", STOP_INK, 1.8)


def since_box(since: tuple[str, str], room: float) -> Iterator[Piece]:
    """What is not as it was last time; the warning that follows from it stands out."""
    changes, warning = since
    if not changes:
        return
    inner = room - 6.0
    rows = lines(f"Since last time: {changes}.", BODY, inner, 4.0)
    rows += lines(warning, STRONG, inner, 4.0) if warning else []
    column = stacked([gap(1.2), *(row.piece() for row in rows), gap(1.6)])
    yield tinted(column, room, "#eaf1f6", NOTE_INK)
    yield gap(2.5)


def told(
    findings: tuple[Finding, ...], level: Level, title: str, room: float, *, is_brief: bool = False
) -> Iterator[Piece | Columns]:
    """Findings of a level in two columns, kind by kind.

    is_brief tells one of each kind, without remedies, and no note that numbers and steps tell already.
    """
    found = [one for one in findings if one.level is level and not (is_brief and _is_told_elsewhere(one))]
    if not found:
        return
    kinds = _kinds(found)
    head = (*heading(title, room), replace(gap(1.0), keeps_with_next=True))
    if len(kinds) == 1:
        yield from head
        yield from _kind(found, room, is_brief=is_brief)
        return
    half = (room - BETWEEN) / 2.0
    groups = [tuple(_kind(alike, half, is_brief=is_brief)) for alike in kinds]
    yield replace(balanced(groups, half + BETWEEN), head=head)


def _is_told_elsewhere(finding: Finding) -> bool:
    return finding.level is Level.NOTE and finding.code in TOLD_ELSEWHERE


def _kind(alike: list[Finding], room: float, *, is_brief: bool) -> Iterator[Piece]:
    in_full = 1 if is_brief else TOLD_IN_FULL
    texts = [finding.text for finding in alike[:in_full]]
    for index, finding in enumerate(alike[:in_full]):
        is_last = index == len(texts) - 1 or texts[index + 1] != finding.text
        yield _finding(finding, room, has_remedy=is_last and not is_brief)
    yield from _more(alike[in_full:], room, FEW_PLACES if is_brief else PLACES)


def _kinds(findings: list[Finding]) -> list[list[Finding]]:
    """Findings of one code together, the kinds in the order in which they come first."""
    kinds: dict[str, list[Finding]] = {}
    for finding in findings:
        kinds.setdefault(finding.code, []).append(finding)
    return list(kinds.values())


def _more(others: list[Finding], room: float, most: int) -> Iterator[Piece]:
    """The rest of a kind, by their places alone; the report has every word."""
    if not others:
        return
    placed = [f"({other.at[0]:.1f}, {other.at[1]:.1f})" for other in others if other.at]
    where = f", at {' '.join(placed[:most])} mm" if placed else ""
    rest = f" and {len(placed) - most} places more" if len(placed) > most else ""
    words = f"{len(others)} more of this kind{where}{rest}; report.json tells each."
    for line in lines(words, SMALL, room, INDENT):
        yield line.piece()
    yield gap(1.2)


def _finding(finding: Finding, room: float, *, has_remedy: bool) -> Piece:
    is_caution = finding.level is Level.CAUTION
    rows = [*lines(_with_place(finding), BODY if is_caution else SMALL, room, INDENT)]
    rows += lines(finding.remedy, SMALL, room, INDENT) if finding.remedy and has_remedy else []
    column = stacked([*(line.piece() for line in rows), gap(1.6)])

    def draw(surface: Surface, at: Point) -> None:
        if is_caution:
            draw_warning(surface, (at[0] + 0.8, at[1] - 3.9), 3.8, CAUTION_INK)
        else:
            low = (at[0] + 1.2, at[1] - 3.4)
            draw_box(surface, low, (low[0] + 2.8, low[1] + 2.8), Fill(NOTE_INK), None)
        column.draw(surface, at)

    return Piece(column.height_mm, draw)


def _with_place(finding: Finding) -> str:
    place = place_of(finding)
    return f"{finding.text} ({place})" if place else finding.text
