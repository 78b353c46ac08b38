"""A Surface within a Surface: what is drawn on it is scaled and moved first, so drawings need no scale."""

from dataclasses import replace

from core.findings import Point
from core.paper.surface import Fill, Letters, Pen, Surface


class Scaled:
    """See Surface; a point p lands on factor p + shift, pens and letters are scaled too."""

    def __init__(self, surface: Surface, factor: float, shift: Point) -> None:
        self._surface, self._factor, self._shift = surface, factor, shift

    def _to(self, x: float, y: float) -> Point:
        return x * self._factor + self._shift[0], y * self._factor + self._shift[1]

    def move(self, x: float, y: float) -> None:
        """See Surface."""
        self._surface.move(*self._to(x, y))

    def line(self, x: float, y: float) -> None:
        """See Surface."""
        self._surface.line(*self._to(x, y))

    def arc(self, x: float, y: float, bulge: float) -> None:
        """See Surface."""
        self._surface.arc(*self._to(x, y), bulge)

    def close(self) -> None:
        """See Surface."""
        self._surface.close()

    def paint(self, fill: Fill | None, pen: Pen | None) -> None:
        """See Surface."""
        if pen is not None:
            dash = tuple(length * self._factor for length in pen.dash)
            pen = replace(pen, width_mm=pen.width_mm * self._factor, dash=dash)
        self._surface.paint(fill, pen)

    def text(self, words: str, at: Point, letters: Letters) -> None:
        """See Surface."""
        scaled = replace(letters, size_mm=letters.size_mm * self._factor)
        self._surface.text(words, self._to(*at), scaled)
