"""What a file of a kit says, read by libraries that share nothing with the proof: the oracle of the faults.

Drawings become points along every contour of every layer, in mm; papers and pictures become what is seen
of them; the Job and the report become their values.
"""

import json
import re
import tomllib
from dataclasses import dataclass, field
from io import BytesIO, StringIO

import numpy as np
from scipy.spatial import cKDTree

#: mm between two points along a contour.
STEP = 0.02
#: mm beyond which it does not matter how far something has moved.
FAR = 0.2
#: mm; a point with another one so near has not moved by what must be seen, and is not looked at again.
NEAR = 0.005
#: How many of the nearest points' pieces of line are looked at.
NEIGHBOURS = 4
#: mm; what reaches farther has moved far, so its corners are enough.
LARGE = 1000.0


class Unreadable(Exception):
    """Another reader makes nothing of the file."""


@dataclass(frozen=True)
class Drawn:
    """Points (n, 2) mm of each contour, by layer; is_closed beside each."""

    layers: dict[str, list[tuple[np.ndarray, bool]]] = field(default_factory=dict)

    def lines(self, layer: str) -> list[np.ndarray]:
        """The points along each contour of a layer."""
        return [points for points, _ in self.layers[layer]]


def drawn_svg(data: bytes) -> Drawn:
    """Through svgelements, one user unit of a drawing in mm being what its size and view box make it."""
    from svgelements import SVG, Group, Matrix, Path, Shape  # noqa: PLC0415 - slow to import, needed only here

    drawn: dict[str, list] = {}

    def walk(group, layer):
        for one in group:
            if isinstance(one, Group):
                walk(one, layer or one.id or "")
            elif isinstance(one, Shape):
                for part in Path(one).as_subpaths():
                    drawn.setdefault(layer, []).append(_along(Path(part)))

    try:
        svg = SVG.parse(BytesIO(data), reify=True, ppi=25.4)
        page = Matrix(svg.viewbox_transform)  # only its scale is of the drawing; where the page begins is not
        origin = complex(page.e, page.f)
        walk(svg, "")
    except Exception as error:
        raise Unreadable(str(error)) from error
    turned = {
        layer: [
            (np.column_stack((path.real - origin.real, origin.imag - path.imag)), closed)
            for path, closed in paths
        ]
        for layer, paths in drawn.items()
    }
    return Drawn(turned)


def _along(path):
    """Points of one subpath as complex numbers, and whether it ends where it began."""
    from svgelements import Arc, Close, Line, Move  # noqa: PLC0415 - the same

    places = []
    for segment in path:
        if isinstance(segment, Move):
            continue
        start, end = complex(segment.start), complex(segment.end)
        if isinstance(segment, (Line, Close)):
            count = max(int(min(abs(end - start), LARGE) / STEP), 1) + 1
            places.append(start + (end - start) * np.linspace(0, 1, count))
        elif isinstance(segment, Arc):
            count = max(int(min(abs(segment.sweep) * abs(segment.rx), LARGE) / STEP), 1) + 2
            places.append(_npoint(segment, count))
        else:
            places.append(_npoint(segment, 500))
    along = np.concatenate(places) if places else np.array([complex(path.first_point or 0j)])
    return along, bool(len(path) and isinstance(path[-1], Close)) or abs(along[0] - along[-1]) < 1e-6


def _npoint(segment, count):
    x, y = segment.npoint(np.linspace(0, 1, count)).T
    return x + 1j * y


#: mm of each $INSUNITS (DXF Reference, HEADER section); 0 states none.
_UNITS = {0: 1.0, 1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 9: 0.0254, 10: 914.4, 14: 100.0}


def drawn_dxf(data: bytes) -> Drawn:
    """Through ezdxf, in the unit that the header states."""
    import ezdxf  # noqa: PLC0415 - slow to import, needed only here
    from ezdxf.path import make_path  # noqa: PLC0415 - the same

    drawn: dict[str, list] = {}
    try:
        document = ezdxf.read(StringIO(data.decode("cp1252").replace("\r\n", "\n")))
        scale = _UNITS.get(document.header.get("$INSUNITS", 0), np.nan)
        for entity in document.modelspace():
            path = make_path(entity)
            corners = np.array([(x, y) for x, y, _ in path.flattening(5e-4, segments=1)]) * scale
            layer = entity.dxf.layer.lower().replace("_", "-")
            drawn.setdefault(layer, []).append((_dense(corners), bool(path.is_closed)))
    except Exception as error:
        raise Unreadable(str(error)) from error
    return Drawn(drawn)


#: Plotter units in a mm (HP-GL: 1016 in an inch).
_PLOTTER_UNITS = 40.0


def drawn_plot(data: bytes) -> Drawn:
    """The lines of the lowered pen of an HP-GL plot, by pen, told by a reader of a few lines of its own."""
    drawn: dict[str, list] = {}
    pen, at, is_down, is_relative = "0", np.zeros(2), False, False
    try:
        text = "".join(data.decode("ascii").split()).upper()
        if not re.fullmatch(r"(?:[A-Z]{2}[-+0-9.,]*;+)+", text):
            raise Unreadable(text[:20])
        for name, words in re.findall(r"([A-Z]{2})([-+0-9.,]*);", text):
            numbers = [float(word) for word in words.split(",") if word]
            if name not in ("IN", "DF", "SP", "PA", "PR", "PU", "PD"):
                raise Unreadable(name)
            if name in ("IN", "SP", "PU"):
                is_down = False
            if name == "SP":
                pen = words
                continue
            is_down |= name == "PD"
            is_relative = (is_relative or name == "PR") and name not in ("PA", "IN", "DF")
            places = np.array(numbers).reshape(-1, 2) / _PLOTTER_UNITS
            line = np.vstack((at, np.cumsum(np.vstack((at, places)), axis=0)[1:] if is_relative else places))
            if is_down and len(line) > 1:
                lines = drawn.setdefault(pen, [])
                follows = bool(lines) and np.array_equal(lines[-1][-1], at)
                lines.append(np.vstack((lines.pop(), line[1:])) if follows else line)
            at = line[-1]
    except ValueError as error:
        raise Unreadable(str(error)) from error
    return Drawn({pen: [(_dense(line), False) for line in lines] for pen, lines in drawn.items()})


def _dense(corners: np.ndarray) -> np.ndarray:
    if len(corners) < 2 or not np.abs(corners).max() < LARGE:
        return corners.reshape(-1, 2)
    counts = np.maximum(np.hypot(*np.diff(corners, axis=0).T) / STEP, 1).astype(int)
    at = np.repeat(np.arange(len(counts)), counts) + np.concatenate([np.arange(n) / n for n in counts])
    at = np.append(at, len(counts))
    return np.column_stack([np.interp(at, np.arange(len(corners)), values) for values in corners.T])


def moved_by(one: list[np.ndarray], other: list[np.ndarray]) -> float:
    """The farthest that any point of one is from the other, both ways, mm; infinite beyond FAR."""
    points = np.vstack(one), np.vstack(other)
    boxes = [np.concatenate((each.min(axis=0), each.max(axis=0))) for each in points]
    if not np.abs(boxes[0] - boxes[1]).max() < FAR:
        return np.inf
    return max(farthest(points[0], other), farthest(points[1], one))


def farthest(points: np.ndarray, lines: list[np.ndarray]) -> float:
    """The farthest of the points from the lines, mm.

    The nearest point of a line may be half a STEP along it from the foot, so a point that none is near is
    held against the pieces of line that the nearest points end.
    """
    ends = np.vstack(lines)
    gaps, near = cKDTree(ends).query(points, k=min(NEIGHBOURS, len(ends)), distance_upper_bound=FAR)
    gaps, near = gaps.reshape(len(points), -1), near.reshape(len(points), -1)
    closest = gaps[:, 0]
    if not np.isfinite(closest).all():
        return np.inf
    follows = np.concatenate([np.arange(len(line)) for line in lines]) > 0
    rows = np.nonzero(closest > NEAR)[0]
    for column in range(near.shape[1]):
        for after in (0, 1):
            to = near[rows, column] + after
            known = to < len(ends)
            known[known] = follows[to[known]]
            at = rows[known]
            start, end = ends[to[known] - 1], ends[to[known]]
            closest[at] = np.minimum(closest[at], _to_pieces(points[at], start, end))
    return float(closest.max())


def _to_pieces(points: np.ndarray, starts: np.ndarray, ends: np.ndarray) -> np.ndarray:
    along = ends - starts
    squared = np.maximum((along**2).sum(axis=1), 1e-30)
    share = np.clip(((points - starts) * along).sum(axis=1) / squared, 0.0, 1.0)
    return np.hypot(*(points - starts - share[:, None] * along).T)


def pages_of(data: bytes) -> list[tuple]:
    """Size, text and look of each page of a PDF."""
    import pypdfium2  # noqa: PLC0415 - needed only here

    try:
        document = pypdfium2.PdfDocument(data)
        pages = []
        for page in document:
            seen = page.render(scale=1.0).to_numpy()
            pages.append((page.get_size(), page.get_textpage().get_text_range(), seen.tobytes()))
    except Exception as error:
        raise Unreadable(str(error)) from error
    return pages


def pixels_of(data: bytes) -> tuple:
    """Size and pixels of a picture."""
    from PIL import Image  # noqa: PLC0415 - needed only here

    try:
        picture = Image.open(BytesIO(data)).convert("RGBA")
    except Exception as error:
        raise Unreadable(str(error)) from error
    return picture.size, picture.tobytes()


def values_of_toml(data: bytes) -> dict:
    """The values of a Job."""
    try:
        return tomllib.loads(data.decode())
    except ValueError as error:
        raise Unreadable(str(error)) from error


def values_of_json(data: bytes) -> dict:
    """The values of a report, without its seconds."""
    try:
        values = json.loads(data)
    except ValueError as error:
        raise Unreadable(str(error)) from error
    return (
        {key: value for key, value in values.items() if key != "seconds"}
        if isinstance(values, dict)
        else values
    )
