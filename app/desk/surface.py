"""A Surface of core's papers that paints on the screen; y is turned over by the painter's own transform."""

import cmath
import math

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QTransform

from core.findings import Point
from core.paper.surface import Fill, Letters, Pen

#: Straight pieces of an arc of one turn: no corner is seen in a picture of the bench.
PIECES = 96


class ScreenSurface:
    """See core/paper/surface.py; mm become px by a scale, from the lower left corner given in px."""

    def __init__(self, painter: QPainter, corner: QPointF, px_mm: float) -> None:
        self._painter = painter
        self._to_px = QTransform(px_mm, 0.0, 0.0, -px_mm, corner.x(), corner.y())
        self._px_mm = px_mm
        self._path = QPainterPath()

    def move(self, x: float, y: float) -> None:
        """See Surface."""
        self._path.moveTo(x, y)

    def line(self, x: float, y: float) -> None:
        """See Surface."""
        self._path.lineTo(x, y)

    def arc(self, x: float, y: float, bulge: float) -> None:
        """See Surface; the arc's points by its bulge, tan of a quarter of its sweep."""
        at = self._path.currentPosition()
        start, end, sweep = complex(at.x(), at.y()), complex(x, y), 4.0 * math.atan(bulge)
        if sweep == 0.0 or start == end:
            self._path.lineTo(x, y)
            return
        middle = start + (end - start) * (0.5 + 0.5j / math.tan(sweep / 2.0))
        count = max(2, math.ceil(PIECES * abs(sweep) / (2.0 * math.pi)))
        for piece in range(1, count):
            place = middle + (start - middle) * cmath.exp(1j * sweep * piece / count)
            self._path.lineTo(place.real, place.imag)
        self._path.lineTo(x, y)

    def close(self) -> None:
        """See Surface."""
        self._path.closeSubpath()

    def paint(self, fill: Fill | None, pen: Pen | None) -> None:
        """See Surface."""
        path = self._to_px.map(self._path)
        path.setFillRule(Qt.FillRule.WindingFill)
        if fill is not None:
            self._painter.fillPath(path, _colour(fill.colour, fill.opacity))
        if pen is not None:
            drawn = QPen(_colour(pen.colour, pen.opacity), max(pen.width_mm * self._px_mm, 1.0))
            if pen.dash:
                drawn.setDashPattern([dash / pen.width_mm for dash in pen.dash])
            self._painter.strokePath(path, drawn)
        self._path = QPainterPath()

    def text(self, words: str, at: Point, letters: Letters) -> None:
        """See Surface; pictures of the bench have no words, so this is only for those that have."""
        font = self._painter.font()
        font.setPixelSize(max(round(letters.size_mm * self._px_mm), 1))
        font.setBold(letters.is_bold)
        self._painter.setFont(font)
        self._painter.setPen(_colour(letters.colour, 1.0))
        place = self._to_px.map(QPointF(*at))
        wide = self._painter.fontMetrics().horizontalAdvance(words)
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[letters.anchor.value]
        self._painter.drawText(place - QPointF(back * wide, 0.0), words)


def _colour(name: str, opacity: float) -> QColor:
    colour = QColor(name)
    colour.setAlphaF(opacity)
    return colour
