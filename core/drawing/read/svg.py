"""SVG bytes back to contours in the frame: (x, y) of the file's user unit is (x, -y) times its size.

The file is streamed through the standard library's parser, which is told to refuse a document type
(and with it every entity). A layer is the outermost group with an id. What lines and circular arcs
cannot say is listed as not read, never approximated. Nothing here is shared with any writer.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from xml.parsers import expat

import numpy as np

from core.drawing.read.contours import Floats, NotRead, ReadContour, ReadDrawing, by_layer, closed_circle
from core.drawing.read.svg_path import CannotSay, read_path, read_points
from core.drawing.read.svg_plain_path import plain_path
from core.drawing.read.svg_units import (
    MM,
    Length,
    after,
    keeps_circles,
    numbers,
    read_length,
    read_transform,
    scales,
)
from core.errors import UnreadableFile

_NAMESPACE = "http://www.w3.org/2000/svg"
#: Elements of which nothing is drawn where they stand (SVG 2, chapter Document Structure).
_SILENT = frozenset({"title", "desc", "metadata", "defs"})
_GROUPS = frozenset({"g", "a"})
#: Properties, as attributes or in a style, by which shapes are hidden, cut off or moved after all.
_TREATED = ("display", "visibility", "opacity", "clip-path", "mask", "filter")
_TREATED_IN_STYLE = (*_TREATED, "transform", "translate", "scale", "rotate", "zoom")
Attributes = Mapping[str, str]


def read_svg(data: bytes) -> ReadDrawing:
    """Every contour of the file, in the frame. UnreadableFile for what is no SVG, or a broken one."""
    reading = _Reading()
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartDoctypeDeclHandler = _refuse_document_type
    parser.StartElementHandler = reading.start
    parser.EndElementHandler = reading.end
    try:
        parser.Parse(data, True)
    except (expat.ExpatError, ValueError, LookupError) as error:  # the two others: an unknown encoding
        raise UnreadableFile(f"This is no readable SVG drawing: {error}.") from error
    return reading.done()


def _refuse_document_type(*_words: object) -> None:
    raise UnreadableFile("The SVG drawing declares a document type; save it as plain SVG without one.")


@dataclass(frozen=True, eq=False)
class _Page:
    """The size as written and how a user unit lies in the frame: to_frame (2, 3)."""

    width: Length | None
    height: Length | None
    view_box: tuple[float, float, float, float] | None
    to_frame: Floats


@dataclass(frozen=True, eq=False)
class _Place:
    """Where in the file we are: what leads to the frame, the layer's name, whether it is drawn at all."""

    to_frame: Floats
    layer: str
    is_left_out: bool


@dataclass
class _Reading:
    """What has been read so far, fed by the parser."""

    page: _Page | None = None
    places: list[_Place] = field(default_factory=list)
    found: list[tuple[str, ReadContour]] = field(default_factory=list)
    not_read: list[NotRead] = field(default_factory=list)

    def start(self, name: str, attributes: Attributes) -> None:
        """An element begins."""
        namespace, _, tag = name.rpartition(" ")
        if self.page is None:
            self._start_page(tag, namespace, attributes)
            return
        here = self.places[-1]
        self.places.append(self._inside(here, tag if namespace == _NAMESPACE else "", attributes))

    def end(self, _name: str) -> None:
        """An element ends."""
        self.places.pop()

    def _start_page(self, tag: str, namespace: str, attributes: Attributes) -> None:
        if tag != "svg" or namespace != _NAMESPACE:
            raise UnreadableFile("This is no SVG drawing: its outermost element is another one.")
        self._look_at_style("", attributes)
        self.page = _read_page(attributes)
        self.places.append(_Place(self.page.to_frame, "", is_left_out=False))

    def _inside(self, here: _Place, tag: str, attributes: Attributes) -> _Place:
        if here.is_left_out or not tag or tag in _SILENT:
            return _Place(here.to_frame, here.layer, is_left_out=True)
        self._look_at_style(here.layer or attributes.get("id", ""), attributes)
        to_frame = after(read_transform(attributes.get("transform", "")), here.to_frame)
        if tag in _GROUPS:
            return _Place(to_frame, here.layer or attributes.get("id", ""), is_left_out=False)
        self._read_shape(_Place(to_frame, here.layer, is_left_out=False), tag, attributes)
        return _Place(to_frame, here.layer, is_left_out=True)

    def _look_at_style(self, layer: str, attributes: Attributes) -> None:
        """What hides shapes or moves them by a style is not followed, and said to be there."""
        styles = [rule.partition(":")[0].strip().lower() for rule in attributes.get("style", "").split(";")]
        told = [name for name in _TREATED if name in attributes]
        told += [name for name in styles if name in _TREATED_IN_STYLE]
        self.not_read.extend(NotRead(f"the style {name}", layer, is_style=True) for name in told)

    def _read_shape(self, here: _Place, tag: str, attributes: Attributes) -> None:
        shape = _SHAPES.get(tag)
        if shape is None:
            self.not_read.append(NotRead(f"the element {tag}", here.layer))
            return
        try:
            contours = [_in_frame(contour, here.to_frame) for contour in shape(attributes)]
        except CannotSay as why:
            self.not_read.append(NotRead(str(why), here.layer))
            return
        self.found.extend((here.layer, contour) for contour in contours)

    def done(self) -> ReadDrawing:
        """Everything read."""
        if self.page is None:
            raise UnreadableFile("This is no SVG drawing: there is nothing in it.")
        page = self.page
        return ReadDrawing(
            width_mm=page.width.mm if page.width else None,
            height_mm=page.height.mm if page.height else None,
            unit=page.width.unit if page.width else None,
            page=_page_box(page),
            layers=by_layer(self.found),
            not_read=tuple(self.not_read),
            unit_mm=float(page.to_frame[0, 0]),
        )


def _read_page(attributes: Attributes) -> _Page:
    width, height = read_length(attributes.get("width")), read_length(attributes.get("height"))
    box = _view_box(attributes.get("viewBox"))
    x = y = MM["px"]
    if box is not None and (width or height):
        wide = width.mm / box[2] if width else None
        tall = height.mm / box[3] if height else None
        x, y = scales(wide or tall or x, tall or wide or y, attributes.get("preserveAspectRatio", ""))
    elif box is not None:
        x = y = 1.0  # no size is stated: numbers count as mm, and unit None says so
    return _Page(width, height, box, np.array([[x, 0.0, 0.0], [0.0, -y, 0.0]]))


def _view_box(text: str | None) -> tuple[float, float, float, float] | None:
    if text is None:
        return None
    values = numbers(text)
    if len(values) != 4 or values[2] <= 0.0 or values[3] <= 0.0:
        raise UnreadableFile(f"The drawing's viewBox {text!r} is no rectangle.")
    return values[0], values[1], values[2], values[3]


def _page_box(page: _Page) -> tuple[float, float, float, float] | None:
    if page.view_box is None:
        return None
    x, y, wide, tall = page.view_box
    corners = np.array([[x, y + tall], [x + wide, y]]) @ page.to_frame[:, :2].T
    (x_min, y_min), (x_max, y_max) = corners.tolist()
    return x_min, y_min, x_max, y_max


def _in_frame(contour: ReadContour, to_frame: Floats) -> ReadContour:
    """The contour moved; a mirroring transform turns its arcs the other way."""
    if contour.bulges.any() and not keeps_circles(to_frame):
        raise CannotSay("a circular arc under a transform that makes it an oval")
    turns = np.sign(np.linalg.det(to_frame[:, :2]))
    with np.errstate(over="ignore", invalid="ignore"):
        points = contour.points @ to_frame[:, :2].T + to_frame[:, 2]
    if not np.isfinite(points).all():
        raise UnreadableFile("The drawing has a point that lies nowhere.")
    return ReadContour(points, contour.bulges * turns + 0.0, contour.is_closed)


def _size(attributes: Attributes, name: str) -> float:
    """An attribute in user units; one that is missing is 0 (SVG 2, initial values)."""
    text = attributes.get(name, "0")
    length = read_length(text)
    if length is None:
        raise UnreadableFile(f"The drawing has {name}={text!r}, which is no length.")
    return length.mm / MM["px"]


def _path(attributes: Attributes) -> list[ReadContour]:
    data = attributes.get("d", "")
    parts = plain_path(data) or read_path(data)
    return [ReadContour(part.points, part.bulges, part.is_closed) for part in parts]


def _line(attributes: Attributes) -> list[ReadContour]:
    x1, y1, x2, y2 = (_size(attributes, name) for name in ("x1", "y1", "x2", "y2"))
    return [ReadContour(np.array([[x1, y1], [x2, y2]]), np.zeros(1), is_closed=False)]


def _polyline(attributes: Attributes) -> list[ReadContour]:
    points = np.array(read_points(attributes.get("points", "")))
    return [ReadContour(points, np.zeros(len(points) - 1), is_closed=False)] if len(points) > 1 else []


def _polygon(attributes: Attributes) -> list[ReadContour]:
    points = np.array(read_points(attributes.get("points", "")))
    return [ReadContour(points, np.zeros(len(points)), is_closed=True)] if len(points) > 1 else []


def _rectangle(attributes: Attributes) -> list[ReadContour]:
    if any(_size(attributes, name) for name in ("rx", "ry")):
        raise CannotSay("a rectangle with rounded corners")
    x, y, wide, tall = (_size(attributes, name) for name in ("x", "y", "width", "height"))
    points = np.array([[x, y], [x + wide, y], [x + wide, y + tall], [x, y + tall]])
    return [ReadContour(points, np.zeros(4), is_closed=True)]


def _circle(attributes: Attributes) -> list[ReadContour]:
    x, y, radius = (_size(attributes, name) for name in ("cx", "cy", "r"))
    return [closed_circle(x, y, radius)] if radius > 0.0 else []


def _ellipse(attributes: Attributes) -> list[ReadContour]:
    x, y, rx, ry = (_size(attributes, name) for name in ("cx", "cy", "rx", "ry"))
    if rx != ry:
        raise CannotSay("an oval")
    return [closed_circle(x, y, rx)] if rx > 0.0 else []


_SHAPES: dict[str, Callable[[Attributes], list[ReadContour]]] = {
    "path": _path,
    "line": _line,
    "polyline": _polyline,
    "polygon": _polygon,
    "rect": _rectangle,
    "circle": _circle,
    "ellipse": _ellipse,
}
