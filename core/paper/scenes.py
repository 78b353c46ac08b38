"""Small pictures of the bench, one to a step: what lies where, and which way the hands go.

Each is drawn in a box of WIDE x HIGH mm from its lower left corner. The same few things look the same in
all of them: the sheet pale, film coloured, tape clear and dashed, tools dark, movements as arrows.
"""

from collections.abc import Callable
from math import hypot

from core.findings import Point
from core.paper.order import Scene
from core.paper.shapes import draw_arrow_head, draw_box, draw_circle, draw_line, draw_polygon
from core.paper.surface import INK, Fill, Pen, Surface

#: mm that a picture takes.
WIDE, HIGH = 30.0, 17.0

SHEET, FILM, TOOL, HAND = Fill("#dfe8ea"), Fill("#2f7f78"), Fill("#5b6468"), "#b4232a"
EDGE, THIN, TAPE = Pen(INK, 0.3), Pen(INK, 0.2), Pen("#8a6d1f", 0.3, dash=(1.0, 0.7))
WHITE = Fill("#ffffff")


def draw_scene(surface: Surface, scene: Scene, at: Point) -> None:
    """The picture of a step, its lower left corner at this point."""
    _DRAWN[scene](_Moved(surface, at))


class _Moved:
    """Drawing helpers with the picture's own origin."""

    def __init__(self, surface: Surface, at: Point) -> None:
        self.surface, self.at = surface, at

    def to(self, x: float, y: float) -> Point:
        return self.at[0] + x, self.at[1] + y

    def box(self, low: Point, high: Point, fill: Fill | None, pen: Pen | None = EDGE) -> None:
        draw_box(self.surface, self.to(*low), self.to(*high), fill, pen)

    def disc(self, at: Point, radius: float, fill: Fill | None, pen: Pen | None = EDGE) -> None:
        draw_circle(self.surface, self.to(*at), radius, fill, pen)

    def shape(self, points: list[Point], fill: Fill | None, pen: Pen | None = EDGE) -> None:
        draw_polygon(self.surface, [self.to(*point) for point in points], fill, pen)

    def line(self, start: Point, end: Point, pen: Pen = EDGE) -> None:
        draw_line(self.surface, self.to(*start), self.to(*end), pen)

    def arrow(self, start: Point, end: Point) -> None:
        self.line(start, end, Pen(HAND, 0.4))
        away = (end[0] - start[0], end[1] - start[1])
        length = hypot(*away)
        draw_arrow_head(self.surface, self.to(*end), (away[0] / length, away[1] / length), HAND)

    def arc(self, start: Point, end: Point, bulge: float, pen: Pen) -> None:
        self.surface.move(*self.to(*start))
        self.surface.arc(*self.to(*end), bulge)
        self.surface.paint(None, pen)


def _frame(on: _Moved, key: Point) -> None:
    """The frame from above, its part inside, the key hole at one corner."""
    on.box((4, 1), (26, 16), SHEET)
    on.disc((15, 8.2), 4.2, WHITE, THIN)
    corners: list[Point] = [(6.4, 13.6), (23.6, 13.6), (6.4, 3.4), (23.6, 3.4)]
    for corner in corners:
        if corner == key:
            on.disc(corner, 1.5, WHITE, Pen(HAND, 0.45))
    others = [corner for corner in corners if corner != key][:2]
    for corner in others:
        on.disc(corner, 0.9, WHITE, THIN)


def _peel(on: _Moved) -> None:
    on.box((3, 3), (27, 5.5), SHEET)
    on.line((3, 6.3), (13, 6.3), Pen("#9a8f78", 0.6))
    on.arc((13, 6.3), (16, 12), 0.45, Pen("#9a8f78", 0.6))
    on.arrow((17, 12.5), (25, 12.5))


def _key_left(on: _Moved) -> None:
    _frame(on, (6.4, 13.6))


def _key_right(on: _Moved) -> None:
    _frame(on, (23.6, 13.6))


def _key_low_left(on: _Moved) -> None:
    _frame(on, (6.4, 3.4))


def _key_low_right(on: _Moved) -> None:
    _frame(on, (23.6, 3.4))


def _lower(on: _Moved) -> None:
    """Film sticky side up below, the frame coming down on it."""
    on.line((3, 3), (27, 3), TAPE)
    on.box((8, 3.2), (22, 4.2), FILM, None)
    on.box((3, 11), (9, 13), SHEET)
    on.box((11, 11), (19, 13), SHEET)
    on.box((21, 11), (27, 13), SHEET)
    on.arrow((10, 10), (10, 6))
    on.arrow((20, 10), (20, 6))


def _dot(on: _Moved) -> None:
    """A dot in its hole: even ring on the left, uneven and crossed out on the right."""
    on.disc((8.5, 8.5), 5.5, WHITE)
    on.disc((8.5, 8.5), 4.2, FILM, None)
    on.disc((22, 8.5), 5.5, WHITE)
    on.disc((21.0, 8.1), 4.2, FILM, None)
    on.line((16.5, 3), (27.5, 14), Pen(HAND, 0.5))


def _turn(on: _Moved) -> None:
    """Turned like a page, left edge to the right."""
    on.box((3, 3), (12, 13), SHEET)
    on.box((18, 3), (27, 13), SHEET, Pen(INK, 0.3, dash=(1.0, 0.7)))
    on.line((15, 2), (15, 14), THIN)
    on.arc((7, 13.8), (22, 13.8), -0.35, Pen(HAND, 0.4))
    on.arrow((21.4, 14.6), (23, 13.4))


def _punch(on: _Moved) -> None:
    on.box((3, 3), (27, 4.6), SHEET)
    on.line((3, 5.4), (27, 5.4), TAPE)
    on.box((12.4, 5.6), (13.4, 12), TOOL, None)
    on.box((16.6, 5.6), (17.6, 12), TOOL, None)
    on.box((12.4, 12), (17.6, 15), TOOL, None)
    on.arrow((23, 13), (23, 7))


def _hinge(on: _Moved) -> None:
    """Film and frame joined by tape along one side, the film folded back."""
    on.box((11, 3), (27, 5), SHEET)
    on.line((11, 5.4), (8, 5.4), Pen("#8a6d1f", 0.8))
    on.arc((9.5, 5.6), (4, 13), -0.3, Pen("#2f7f78", 0.8))
    on.arrow((7, 13.5), (14, 9))


def _rub(on: _Moved) -> None:
    """From the middle out."""
    on.box((4, 2), (26, 15), FILM, None)
    on.box((4, 2), (26, 15), None, TAPE)
    for end in ((6.0, 8.5), (24.0, 8.5), (15.0, 3.6), (15.0, 13.4)):
        start = (15 + 0.25 * (end[0] - 15), 8.5 + 0.25 * (end[1] - 8.5))
        on.line(start, end, Pen("#ffffff", 0.5))
        length = hypot(end[0] - 15, end[1] - 8.5)
        towards = ((end[0] - 15) / length, (end[1] - 8.5) / length)
        draw_arrow_head(on.surface, on.to(*end), towards, "#ffffff")


def _break(on: _Moved) -> None:
    """A tab between part and frame, the knife coming from the slot."""
    on.box((2, 3), (11, 9), SHEET)
    on.box((19, 3), (28, 9), WHITE)
    on.box((11, 3), (19, 4.6), SHEET)
    on.shape([(14.4, 16), (15.6, 16), (15.6, 7), (15, 5.4), (14.4, 7)], TOOL, None)
    on.arrow((21.5, 15), (21.5, 10.5))


def _snap(on: _Moved) -> None:
    """The frame bent at a break cut: the groove above, its thin bottom below."""
    on.shape([(2, 5.2), (13.2, 7.6), (14.6, 8.2), (13.9, 11.2), (2.2, 8.7)], SHEET)
    on.shape([(28, 5.2), (16.8, 7.6), (15.4, 8.2), (16.1, 11.2), (27.8, 8.7)], SHEET)
    on.arrow((4.5, 12.5), (3.6, 9.8))
    on.arrow((25.5, 12.5), (26.4, 9.8))


def _jog(on: _Moved) -> None:
    """The bit's tip over the middle of a mark."""
    on.box((2, 2), (28, 4.4), SHEET)
    on.box((12.5, 4.4), (17.5, 5.2), FILM, None)
    on.box((14.2, 6), (15.8, 12), TOOL, None)
    on.box((12.4, 12), (17.6, 15.5), TOOL, None)
    on.arrow((11, 8.5), (6, 8.5))
    on.arrow((19, 8.5), (24, 8.5))


def _lay(on: _Moved) -> None:
    """Film and tape on the uncut sheet."""
    on.box((2, 2), (28, 5), SHEET)
    on.box((6, 9), (24, 9.9), FILM, None)
    on.line((5, 10.6), (25, 10.6), TAPE)
    on.arrow((9, 8.3), (9, 5.8))
    on.arrow((21, 8.3), (21, 5.8))


def _sight(on: _Moved) -> None:
    """A part from above, strips of film beside its edges with an even gap."""
    on.box((8, 3.5), (22, 14), WHITE)
    strips = ((10, 14.6, 15, 15.6), (22.6, 5, 23.6, 10), (6.4, 8, 7.4, 13), (13, 1.9, 19, 2.9))
    for left, near, right, far in strips:
        on.box((left, near), (right, far), FILM, None)
    on.arrow((12, 9), (15, 9))
    on.arrow((18, 9), (15.4, 9))


def _pins(on: _Moved) -> None:
    """A board cut through: its pocket, and pins that stand out of it."""
    _board(on)
    for x in (5.2, 23.2):
        on.box((x, 4.0), (x + 1.6, 9.0), TOOL)


def _film_on_pins(on: _Moved) -> None:
    """The part in its pocket, film and tape on the pins above it."""
    _pins(on)
    on.box((9.4, 4.6), (20.6, 7.4), WHITE)
    on.line((3, 10.2), (27, 10.2), TAPE)
    on.box((10, 9.4), (20, 10.0), FILM, None)
    on.arrow((12, 14), (12, 11))
    on.arrow((18, 14), (18, 11))


def _board(on: _Moved) -> None:
    on.shape([(2, 2), (28, 2), (28, 6.6), (21, 6.6), (21, 4.6), (9, 4.6), (9, 6.6), (2, 6.6)], SHEET)


_DRAWN: dict[Scene, Callable[[_Moved], None]] = {
    Scene.PEEL: _peel,
    Scene.KEY_UPPER_LEFT: _key_left,
    Scene.KEY_UPPER_RIGHT: _key_right,
    Scene.KEY_LOWER_LEFT: _key_low_left,
    Scene.KEY_LOWER_RIGHT: _key_low_right,
    Scene.LOWER_FRAME: _lower,
    Scene.DOT_IN_HOLE: _dot,
    Scene.TURN_OVER: _turn,
    Scene.PUNCH: _punch,
    Scene.HINGE: _hinge,
    Scene.RUB: _rub,
    Scene.BREAK_OUT: _break,
    Scene.SNAP_FRAME: _snap,
    Scene.JOG: _jog,
    Scene.LAY_ON_SHEET: _lay,
    Scene.SIGHT: _sight,
    Scene.NEST_PINS: _pins,
    Scene.NEST_FILM: _film_on_pins,
}
