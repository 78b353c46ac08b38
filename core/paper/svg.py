"""A Surface that becomes an SVG picture; y is turned over here and nowhere else."""

from xml.sax.saxutils import escape, quoteattr

from core.findings import Point
from core.outline.loop import Bounds
from core.paper.recorder import Recording
from core.paper.surface import Fill, Letters, Pen

#: Digits after the point: 0.0001 mm, far below what a picture shows.
DECIMALS = 4

#: The face inside reportlab's wheel, by the name that its files give it.
FAMILY = "Bitstream Vera Sans"


class SvgSurface:
    """See Surface; box is the page in mm."""

    def __init__(self, box: Bounds) -> None:
        x_min, y_min, x_max, y_max = box
        wide, tall = _number(x_max - x_min), _number(y_max - y_min)
        head = f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{tall}mm"'
        self._parts = [f'{head} viewBox="{_number(x_min)} {_number(-y_max)} {wide} {tall}">']
        self._path: list[str] = []
        self._at: Point = (0.0, 0.0)

    def move(self, x: float, y: float) -> None:
        """See Surface."""
        self._path.append(f"M{_number(x)} {_number(-y)}")
        self._at = (x, y)

    def line(self, x: float, y: float) -> None:
        """See Surface."""
        self._path.append(f"L{_number(x)} {_number(-y)}")
        self._at = (x, y)

    def arc(self, x: float, y: float, bulge: float) -> None:
        """See Surface: radius = chord (1 + b^2) / 4 |b|; large beyond a half turn."""
        chord = ((x - self._at[0]) ** 2 + (y - self._at[1]) ** 2) ** 0.5
        radius = _number(chord * (1.0 + bulge * bulge) / (4.0 * abs(bulge)))
        large, sweep = int(abs(bulge) > 1.0), int(bulge < 0.0)
        self._path.append(f"A{radius} {radius} 0 {large} {sweep} {_number(x)} {_number(-y)}")
        self._at = (x, y)

    def close(self) -> None:
        """See Surface."""
        self._path.append("Z")

    def paint(self, fill: Fill | None, pen: Pen | None) -> None:
        """See Surface."""
        self._parts.append(f'<path d="{" ".join(self._path)}"{_filled(fill)}{_stroked(pen)}/>')
        self._path.clear()

    def text(self, words: str, at: Point, letters: Letters) -> None:
        """See Surface."""
        weight = ' font-weight="bold"' if letters.is_bold else ""
        self._parts.append(
            f'<text x="{_number(at[0])}" y="{_number(-at[1])}" font-family="{FAMILY}"{weight}'
            f' font-size="{_number(letters.size_mm)}" fill={quoteattr(letters.colour)}'
            f' text-anchor="{letters.anchor.value}">{escape(words)}</text>'
        )

    def document(self) -> bytes:
        """The picture as UTF-8."""
        return "\n".join([*self._parts, "</svg>", ""]).encode()


def svg_of(recording: Recording, box: Bounds) -> bytes:
    """A recording as an SVG picture of the box, mm."""
    surface = SvgSurface(box)
    recording.play(surface)
    return surface.document()


def _filled(fill: Fill | None) -> str:
    if fill is None:
        return ' fill="none"'
    return f' fill="{fill.colour}"' + _opacity("fill", fill.opacity)


def _stroked(pen: Pen | None) -> str:
    if pen is None:
        return ""
    dash = f' stroke-dasharray="{" ".join(map(_number, pen.dash))}"' if pen.dash else ""
    line = f' stroke="{pen.colour}" stroke-width="{_number(pen.width_mm)}" stroke-linejoin="round"{dash}'
    return line + _opacity("stroke", pen.opacity)


def _opacity(what: str, value: float) -> str:
    return f' {what}-opacity="{_number(value)}"' if value < 1.0 else ""


def _number(value: float) -> str:
    text = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
