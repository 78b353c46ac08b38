"""The set-up drawing: the stock seen from above, to a scale that is said, with all that has a place."""

from dataclasses import dataclass

from core.findings import Point
from core.outline.region import Regions, mapped
from core.paper.flow import SMALL, Line, Piece
from core.paper.lettering import shortened, width_mm
from core.paper.shapes import draw_arrow_head, draw_box, draw_circle, draw_line, draw_polygon, draw_regions
from core.paper.surface import INK, Anchor, Fill, Letters, Pen, Surface
from core.sheet.mark import Mark
from core.sheet.stock import Stock

#: Scales a ruler can be laid on: mm on paper for a mm of stock, with their words.
SCALES: tuple[tuple[float, str], ...]
SCALES = ((2.0, "2 : 1"), (1.0, "1 : 1"), (0.5, "1 : 2"), (0.4, "1 : 2.5"), (0.25, "1 : 4"))
SCALES += ((0.2, "1 : 5"), (0.1, "1 : 10"), (0.05, "1 : 20"), (0.02, "1 : 50"), (0.01, "1 : 100"))

#: mm of paper round the stock for dimension lines and their numbers.
LEFT, BELOW, RIGHT, ABOVE = 16.0, 11.0, 16.0, 3.0

#: mm of paper that the cross of a mark reaches beyond its circle.
CROSS = 1.2

#: mm from the middle of a tab's sign to its tips; where much is drawn small, signs are half as large.
TAB_SIGN, SMALL_SCALE = 1.3, 0.25

#: Widths of the strip drawn for the hinge, mm of stock (bench practice: at least 25 mm of frame).
HINGE = 25.0

SHEET, WASTE_EDGE, CUT, MARK, TAB = "#eef3f3", "#6d7579", "#1f2326", "#b4232a", "#d9822b"
THIN = Pen(WASTE_EDGE, 0.18)
BREAK = "#7f9aa6"

#: mm of paper.
NARROWEST_BREAK = 0.5
CLAMP_FILL = Fill("#c9c2b4")


@dataclass(frozen=True)
class Clamp:
    """A clamp on the stock: its middle and its size, mm in the frame."""

    at: Point
    size_mm: tuple[float, float]
    is_round: bool = False


@dataclass(frozen=True)
class SetUp:
    """What lies where, mm in the frame; tabs are their middles on the part's wall.

    hinge_side is "left", "right", "near", "far", or "" where no hinge is wanted; entry is where the bit
    enters the outer edge, where it is known; piece is the one of several whose height is drawn; breaks are
    the ways of the bit, bit_mm wide, that cut the frame to be snapped.
    """

    stock: Stock
    zero_at: Point
    part: Regions
    as_cut: Regions
    marks: tuple[Mark, ...]
    tabs: tuple[Point, ...]
    hinge_side: str = ""
    clamps: tuple[Clamp, ...] = ()
    entry: Point | None = None
    piece: Regions = ()
    breaks: tuple[tuple[Point, Point], ...] = ()
    bit_mm: float = 0.0


@dataclass(frozen=True)
class Scale:
    """mm on paper for a mm of stock, and how it is said."""

    factor: float
    words: str


def scale_for(stock: Stock, room: tuple[float, float]) -> Scale:
    """The largest scale at which stock and dimensions fit the room (mm); the smallest where none does."""
    wide, tall = room[0] - LEFT - RIGHT, room[1] - BELOW - ABOVE
    fitting = [
        Scale(*scale)
        for scale in SCALES
        if stock.width_mm * scale[0] <= wide and stock.depth_mm * scale[0] <= tall
    ]
    return fitting[0] if fitting else Scale(*SCALES[-1])


def setup_piece(setup: SetUp, room: tuple[float, float]) -> Piece:
    """The drawing as a piece of a page, no larger than the room (mm)."""
    scale = scale_for(setup.stock, room)
    height = setup.stock.depth_mm * scale.factor + BELOW + ABOVE

    def draw(surface: Surface, at: Point) -> None:
        origin = (at[0] + LEFT, at[1] - ABOVE - setup.stock.depth_mm * scale.factor)
        draw_setup(surface, setup, _OnPaper(origin, scale.factor))

    return Piece(height, draw)


@dataclass(frozen=True)
class _OnPaper:
    """Where the frame's origin lies on the page, and the scale."""

    origin: Point
    factor: float

    def point(self, at: Point) -> Point:
        """A point of the frame, on the page."""
        return self.origin[0] + at[0] * self.factor, self.origin[1] + at[1] * self.factor

    def regions(self, regions: Regions) -> Regions:
        """Regions of the frame, on the page."""
        return mapped(regions, lambda loop: loop.scaled(self.factor).moved(*self.origin))


def draw_setup(surface: Surface, setup: SetUp, page: _OnPaper) -> None:
    """Stock, hinge strip, part, clamps, tabs, marks, zero, dimensions, from the bottom up."""
    stock = setup.stock
    far_corner = page.point((stock.width_mm, stock.depth_mm))
    draw_box(surface, page.origin, far_corner, Fill(SHEET), None)
    _draw_hinge(surface, setup, page)
    draw_box(surface, page.origin, far_corner, None, Pen(INK, 0.3))  # over the hinge, which reaches its edge
    _draw_breaks(surface, setup, page)
    draw_regions(surface, page.regions(setup.as_cut or setup.part), Fill("#ffffff"), Pen(CUT, 0.4))
    draw_regions(surface, page.regions(setup.part), None, Pen(WASTE_EDGE, 0.12, dash=(1.0, 0.8)))
    for clamp in setup.clamps:
        _draw_clamp(surface, clamp, page)
    for tab in setup.tabs:
        draw_tab(surface, page.point(tab), TAB_SIGN if page.factor >= SMALL_SCALE else TAB_SIGN / 2.0)
    for mark in setup.marks:
        draw_mark(surface, page.point(mark.at), mark.diameter_mm / 2.0 * page.factor, is_key=mark.is_key)
    if setup.entry is not None:
        draw_entry(surface, page.point(setup.entry))
    draw_zero(surface, page.point(setup.zero_at))
    _draw_dimensions(surface, setup, page)


def _draw_hinge(surface: Surface, setup: SetUp, page: _OnPaper) -> None:
    wide, deep = setup.stock.width_mm, setup.stock.depth_mm
    strips = {
        "left": ((0.0, 0.0), (HINGE, deep)),
        "right": ((wide - HINGE, 0.0), (wide, deep)),
        "near": ((0.0, 0.0), (wide, HINGE)),
        "far": ((0.0, deep - HINGE), (wide, deep)),
    }
    if setup.hinge_side in strips:
        low, high = strips[setup.hinge_side]
        draw_box(surface, page.point(low), page.point(high), Fill("#d7e3ea"), None)


def _draw_breaks(surface: Surface, setup: SetUp, page: _OnPaper) -> None:
    """As wide as they are cut, but wide enough to be seen."""
    wide = max(setup.bit_mm * page.factor, NARROWEST_BREAK)
    for start, end in setup.breaks:
        draw_line(surface, page.point(start), page.point(end), Pen(BREAK, wide))


def _draw_clamp(surface: Surface, clamp: Clamp, page: _OnPaper) -> None:
    if clamp.is_round:
        draw_circle(surface, page.point(clamp.at), clamp.size_mm[0] / 2.0 * page.factor, CLAMP_FILL, THIN)
        return
    half_wide, half_deep = clamp.size_mm[0] / 2.0, clamp.size_mm[1] / 2.0
    low = page.point((clamp.at[0] - half_wide, clamp.at[1] - half_deep))
    high = page.point((clamp.at[0] + half_wide, clamp.at[1] + half_deep))
    draw_box(surface, low, high, CLAMP_FILL, THIN)


def draw_tab(surface: Surface, at: Point, half: float = TAB_SIGN) -> None:
    """A tab: a small diamond, half mm from its middle to a tip."""
    x, y = at
    corners = ((x - half, y), (x, y - half), (x + half, y), (x, y + half))
    draw_polygon(surface, corners, Fill(TAB), Pen("#ffffff", 0.2))


def draw_mark(surface: Surface, at: Point, radius: float, *, is_key: bool) -> None:
    """A mark's hole with a cross through it; the key's is filled."""
    x, y = at
    reach = max(radius, 1.0) + CROSS
    draw_circle(surface, at, max(radius, 0.8), Fill(MARK if is_key else "#ffffff"), Pen(MARK, 0.35))
    draw_line(surface, (x - reach, y), (x + reach, y), Pen(MARK, 0.15))
    draw_line(surface, (x, y - reach), (x, y + reach), Pen(MARK, 0.15))


def draw_entry(surface: Surface, at: Point) -> None:
    """Where the bit enters: a small square."""
    x, y = at
    draw_box(surface, (x - 1.1, y - 1.1), (x + 1.1, y + 1.1), Fill("#2a6f97"), Pen("#ffffff", 0.2))


def draw_zero(surface: Surface, at: Point) -> None:
    """The work zero: a circle with two opposite quarters filled."""
    x, y = at
    radius, quarter = 2.2, 0.41421356237309503  # tan of a sixteenth of a turn: the bulge of a quarter
    draw_circle(surface, at, radius, Fill("#ffffff"), None)
    for turn in (1.0, -1.0):
        surface.move(x, y)
        surface.line(x + turn * radius, y)
        surface.arc(x, y + turn * radius, quarter)
        surface.close()
    surface.paint(Fill(INK), None)
    draw_circle(surface, at, radius, None, Pen(INK, 0.3))


def _draw_dimensions(surface: Surface, setup: SetUp, page: _OnPaper) -> None:
    wide, deep = setup.stock.width_mm, setup.stock.depth_mm
    (x0, y0), (x1, y1) = page.origin, page.point((wide, deep))
    _draw_across(surface, (x0, x1), y0 - 5.0, f"{wide:.1f}")
    _draw_upright(surface, (y0, y1), x0 - 6.0, f"{deep:.1f}")
    loops = [loop for region in setup.piece or setup.part for loop in region.loops()]
    if loops:
        low = min(loop.bounds()[1] for loop in loops)
        high = max(loop.bounds()[3] for loop in loops)
        span = (page.point((0.0, low))[1], page.point((0.0, high))[1])
        _draw_upright(surface, span, x1 + 6.0, f"{high - low:.2f}")


def _draw_across(surface: Surface, span: tuple[float, float], y: float, words: str) -> None:
    letters = Letters(SMALL.size_mm, INK, anchor=Anchor.MIDDLE)
    middle, room = sum(span) / 2.0, width_mm(words, letters) / 2.0 + 1.2
    if span[1] - span[0] > 2.0 * room + 6.0:
        for end, towards in ((span[0], -1.0), (span[1], 1.0)):
            draw_line(surface, (middle + towards * room, y), (end, y), THIN)
            draw_arrow_head(surface, (end, y), (towards, 0.0), WASTE_EDGE)
    surface.text(words, (middle, y - 0.36 * letters.size_mm), letters)


def _draw_upright(surface: Surface, span: tuple[float, float], x: float, words: str) -> None:
    letters = Letters(SMALL.size_mm, INK, anchor=Anchor.MIDDLE)
    middle, room = sum(span) / 2.0, letters.size_mm / 2.0 + 1.0
    if span[1] - span[0] > 2.0 * room + 6.0:
        for end, towards in ((span[0], -1.0), (span[1], 1.0)):
            draw_line(surface, (x, middle + towards * room), (x, end), THIN)
            draw_arrow_head(surface, (x, end), (0.0, towards), WASTE_EDGE)
    surface.text(words, (x, middle - 0.36 * letters.size_mm), letters)


def legend(setup: SetUp, scale: Scale, room_mm: float) -> list[Piece]:
    """What the signs mean, one line each, with their places in the frame."""
    rows = [_LegendRow("", f"Drawn {scale.words} from above, mm")]
    rows.append(_LegendRow("zero", f"work zero at {_place(setup.zero_at)}"))
    for mark in sorted(setup.marks, key=lambda mark: not mark.is_key):
        sign = "key" if mark.is_key else "mark"
        rows.append(_LegendRow(sign, f"{_mark_words(mark)} at {_place(mark.at)}"))
    if setup.tabs:
        rows.append(_LegendRow("tab", f"holding tab ({len(setup.tabs)})"))
    if setup.breaks:
        rows.append(_LegendRow("break", f"break cut, opens the frame ({len(setup.breaks)})"))
    if setup.entry is not None:
        rows.append(_LegendRow("entry", f"the bit enters at {_place(setup.entry)}"))
    if setup.hinge_side:
        rows.append(_LegendRow("hinge", f"free for the tape hinge: {setup.hinge_side}"))
    if setup.clamps:
        rows.append(_LegendRow("clamp", f"clamp ({len(setup.clamps)})"))
    return [row.piece(room_mm) for row in rows]


def _mark_words(mark: Mark) -> str:
    kind = "hole" if mark.kind == "hole" else "mark"
    name = f"key {kind}" if mark.is_key else kind
    return f"{name} Ø {mark.diameter_mm:.1f}"


def _place(at: Point) -> str:
    return f"({at[0]:.1f}, {at[1]:.1f})"


@dataclass(frozen=True)
class _LegendRow:
    """A sign and what it means; no sign for plain words."""

    sign: str
    words: str

    def piece(self, room_mm: float) -> Piece:
        """One line."""
        indent = 7.0 if self.sign else 0.0
        line = Line(shortened(self.words, SMALL, room_mm - indent), SMALL, indent)
        height = SMALL.size_mm * 1.42

        def draw(surface: Surface, at: Point) -> None:
            _draw_sign(surface, self.sign, (at[0] + 2.5, at[1] - 0.6 * SMALL.size_mm))
            line.draw(surface, at)

        return Piece(height, draw)


def _draw_sign(surface: Surface, sign: str, at: Point) -> None:
    x, y = at
    if sign == "zero":
        draw_zero(surface, at)
    elif sign in ("key", "mark"):
        draw_mark(surface, at, 1.0, is_key=sign == "key")
    elif sign == "tab":
        draw_tab(surface, at)
    elif sign == "entry":
        draw_entry(surface, at)
    elif sign == "break":
        draw_line(surface, (x - 2.0, y), (x + 2.0, y), Pen(BREAK, 1.2))
    elif sign:
        colour = "#d7e3ea" if sign == "hinge" else "#c9c2b4"
        draw_box(surface, (x - 2.0, y - 1.3), (x + 2.0, y + 1.3), Fill(colour), THIN)
