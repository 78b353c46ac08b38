"""The shapes of SVG as sub-paths in their own coordinates (SVG 2, chapters Basic Shapes and Paths)."""

import math
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from core.artwork.affine import Affine
from core.artwork.edges import Bezier, Bow, Edge, Oval, SubPath, circle, polygon
from core.artwork.svg_tree import Element
from core.drawing.read.svg_path import commands, read_points
from core.drawing.read.svg_units import MM, read_length
from core.errors import UnreadableFile

#: User units; beyond them a radius is no bend that anyone sees, and its squares leave the numbers there are.
NO_RADIUS, NO_BEND = 1e-9, 1e12


@dataclass(frozen=True)
class Viewport:
    """Width and height that percentages are of, user units."""

    width: float
    height: float

    def length(self, text: str, of: str = "both") -> float:
        """A length in user units; of says which side a percentage is of ("width", "height" or "both")."""
        if text.endswith("%"):
            return self.percent(text, of)
        size = read_length(text) if text else None
        if text and size is None:
            raise UnreadableFile(f'The drawing has the length "{text[:40]}", which cannot be read.')
        return size.mm / MM["px"] if size else 0.0

    def percent(self, text: str, of: str) -> float:
        """SVG 2, Units: other lengths are of the diagonal over the square root of 2."""
        sides = {"width": self.width, "height": self.height}
        whole = sides.get(of, math.hypot(self.width, self.height) / math.sqrt(2.0))
        try:
            return float(text[:-1]) / 100.0 * whole
        except ValueError:
            raise UnreadableFile(f'The drawing has the length "{text[:40]}", which cannot be read.') from None


def sub_paths(element: Element, viewport: Viewport) -> tuple[SubPath, ...]:
    """The sub-paths of a shape; none where it has no size."""
    return SHAPES[element.tag](element, viewport)


def _path(element: Element, _viewport: Viewport) -> tuple[SubPath, ...]:
    return read_path(element.get("d"))


def _sizes(element: Element, viewport: Viewport, *names: str) -> list[float]:
    sides = {"x": "width", "y": "height", "c": "", "r": "", "w": "width", "h": "height"}
    found = []
    for name in names:
        side = "width" if "x" in name else "height" if "y" in name else sides.get(name[0], "")
        found.append(viewport.length(element.get(name), side))
    return found


def _line(element: Element, viewport: Viewport) -> tuple[SubPath, ...]:
    x1, y1, x2, y2 = _sizes(element, viewport, "x1", "y1", "x2", "y2")
    return (SubPath((Bow(complex(x1, y1), complex(x2, y2)),), is_closed=False),)


def _corners(element: Element) -> list[complex]:
    return [complex(x, y) for x, y in read_points(element.get("points"))]


def _polyline(element: Element, _viewport: Viewport) -> tuple[SubPath, ...]:
    points = _corners(element)
    return (polygon(points, is_closed=False),) if len(points) > 1 else ()


def _polygon(element: Element, _viewport: Viewport) -> tuple[SubPath, ...]:
    points = _corners(element)
    return (polygon(points, is_closed=True),) if len(points) > 1 else ()


def _circle(element: Element, viewport: Viewport) -> tuple[SubPath, ...]:
    x, y, radius = _sizes(element, viewport, "cx", "cy", "r")
    return (circle(complex(x, y), radius),) if radius > 0.0 else ()


def _ellipse(element: Element, viewport: Viewport) -> tuple[SubPath, ...]:
    x, y = _sizes(element, viewport, "cx", "cy")
    rx, ry = _radii(element, viewport)
    if not (rx > 0.0 and ry > 0.0):
        return ()
    whole = Oval.between(complex(x, y), complex(rx), 1j * ry, 0.0, 2.0 * math.pi)
    return (SubPath(whole.mapped(Affine()), is_closed=True),)


def _radii(element: Element, viewport: Viewport) -> tuple[float, float]:
    """Rx and ry; one that is not said is the other (SVG 2, auto)."""
    rx, ry = element.get("rx").replace("auto", ""), element.get("ry").replace("auto", "")
    return viewport.length(rx or ry, "width"), viewport.length(ry or rx, "height")


def _rectangle(element: Element, viewport: Viewport) -> tuple[SubPath, ...]:
    x, y = _sizes(element, viewport, "x", "y")
    wide, tall = (
        viewport.length(element.get("width"), "width"),
        viewport.length(element.get("height"), "height"),
    )
    if not (wide > 0.0 and tall > 0.0):
        return ()
    rx, ry = _radii(element, viewport)
    rx, ry = min(max(rx, 0.0), wide / 2.0), min(max(ry, 0.0), tall / 2.0)
    if not (rx and ry):
        corners = [complex(x, y), complex(x + wide, y), complex(x + wide, y + tall), complex(x, y + tall)]
        return (polygon(corners, is_closed=True),)
    drawing = Drawing()
    drawing.move(complex(x + rx, y))
    ends = [
        (complex(x + wide - rx, y), complex(x + wide, y + ry)),
        (complex(x + wide, y + tall - ry), complex(x + wide - rx, y + tall)),
        (complex(x + rx, y + tall), complex(x, y + tall - ry)),
        (complex(x, y + ry), complex(x + rx, y)),
    ]
    for straight, round_corner in ends:
        drawing.line(straight)
        drawing.arc((rx, ry, 0.0, False, True), round_corner)
    drawing.close()
    return drawing.all()


SHAPES: dict[str, Callable[[Element, Viewport], tuple[SubPath, ...]]] = {
    "path": _path,
    "line": _line,
    "polyline": _polyline,
    "polygon": _polygon,
    "circle": _circle,
    "ellipse": _ellipse,
    "rect": _rectangle,
}

#: rx, ry, the x axis' turn in degrees, whether the large arc, whether the angle grows.
Radii = tuple[float, float, float, bool, bool]


@dataclass
class Drawing:
    """A pen that gathers sub-paths."""

    done: list[SubPath] = field(default_factory=list)
    edges: list[Edge] = field(default_factory=list)
    first: complex = 0j
    at: complex = 0j
    #: where a smooth curve's first handle points to, and after which kind of curve
    handle: complex = 0j
    after: str = ""

    def move(self, to: complex) -> None:
        """Begin a sub-path."""
        self._finish(is_closed=False)
        self.first = self.at = to

    def line(self, to: complex) -> None:
        """A straight line; one without length counts, since a round cap makes a dot of it."""
        self.edges.append(Bow(self.at, to))
        self.at = to

    def curve(self, *points: complex) -> None:
        """A Bezier curve by its further points."""
        self.edges.append(Bezier(np.array([self.at, *points], dtype=np.complex128)))
        self.handle, self.at = points[-2], points[-1]

    def arc(self, radii: Radii, to: complex) -> None:
        """An arc of an oval (SVG 2, implementation notes); radii too small grow until they reach."""
        if to == self.at:
            return
        rx, ry = abs(radii[0]), abs(radii[1])
        if not (NO_RADIUS < rx < NO_BEND and NO_RADIUS < ry < NO_BEND):
            self.line(to)
            return
        to_unit = Affine.scale(1.0 / rx, 1.0 / ry).after(Affine.turn(-math.radians(radii[2])))
        start, end = to_unit.of(self.at), to_unit.of(to)
        half = math.asin(min(abs(end - start) / 2.0, 1.0))
        half = math.pi - half if radii[3] else half
        bow = Bow(start, end, math.tan(half / 2.0) * (1.0 if radii[4] else -1.0))
        self.edges.extend(_with_ends(bow.mapped(to_unit.inverse()), self.at, to))
        self.at = to

    def close(self) -> None:
        """Back to where the sub-path began."""
        if self.at != self.first or not self.edges:
            self.edges.append(Bow(self.at, self.first))
        self._finish(is_closed=True)
        self.at = self.first

    def _finish(self, *, is_closed: bool) -> None:
        if self.edges:
            self.done.append(SubPath(tuple(self.edges), is_closed))
        self.edges = []

    def all(self) -> tuple[SubPath, ...]:
        """Every sub-path."""
        self._finish(is_closed=False)
        return tuple(self.done)


def _with_ends(edges: tuple[Edge, ...], start: complex, end: complex) -> list[Edge]:
    """The same edges from and to exactly these points."""
    found = list(edges)
    for place, (a, b) in ((0, (start, None)), (-1, (None, end))):
        edge = found[place]
        first, last = a if a is not None else edge.start, b if b is not None else edge.end
        if isinstance(edge, Bow):
            found[place] = Bow(first, last, edge.bulge)
        elif isinstance(edge, Oval):
            found[place] = Oval(edge.centre, edge.u, edge.v, edge.first, edge.last, first, last)
    return found


def read_path(data: str) -> tuple[SubPath, ...]:
    """The sub-paths of path data. UnreadableFile where its grammar breaks."""
    pen = Drawing()
    for command, values in commands(data):
        base = pen.at if command.islower() else 0j
        _draw(pen, command.upper(), values, base)
        pen.after = command.upper()
    return pen.all()


def _draw(pen: Drawing, name: str, values: list[float], base: complex) -> None:
    if name == "Z":
        pen.close()
    elif name == "H":
        pen.line(complex(base.real + values[0], pen.at.imag))
    elif name == "V":
        pen.line(complex(pen.at.real, base.imag + values[0]))
    elif name == "A":
        rx, ry, turn, large, growing, x, y = values
        pen.arc((rx, ry, turn, large == 1.0, growing == 1.0), base + complex(x, y))
    else:
        points = [base + complex(x, y) for x, y in zip(values[::2], values[1::2], strict=True)]
        if name == "M":
            pen.move(points[0])
        elif name == "L":
            pen.line(points[0])
        else:
            _bend(pen, name, points)


def _bend(pen: Drawing, name: str, points: list[complex]) -> None:
    if name in "ST":
        smooth = pen.after in ("CS" if name == "S" else "QT")
        points = [2.0 * pen.at - pen.handle if smooth else pen.at, *points]
    pen.curve(*points)
