"""Recordings as the pages of a PDF: true size, embedded face, equal bytes every time.

A PDF has no arcs. Eight Béziers a circle are 0.0002 mm out on a radius of 50 mm, four 0.014 mm (computed).
"""

import io
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from core.findings import Point
from core.paper.lettering import face_of, register_faces
from core.paper.recorder import Recording
from core.paper.surface import Anchor, Fill, Letters, Pen

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas  # type: ignore[import-untyped]

#: PDF's own unit (ISO 32000-1, 8.3.2): points per mm.
POINTS_PER_MM = 72.0 / 25.4

#: rad; the longest arc that one Bézier stands for, an eighth of a turn.
LONGEST_BEZIER = math.pi / 4.0


@dataclass(frozen=True)
class Paper:
    """A sheet of paper, mm."""

    name: str
    width_mm: float
    height_mm: float


A4 = Paper("A4", 210.0, 297.0)
LETTER = Paper("Letter", 215.9, 279.4)


def write_pdf(pages: Sequence[Recording], paper: Paper, title: str) -> bytes:
    """One page for each recording, origin at the page's lower left corner."""
    from reportlab import rl_config  # type: ignore[import-untyped]  # noqa: PLC0415 - slow to import
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415 - slow to import, needed only here

    rl_config.useA85 = 0  # packed bytes need no second dress as letters: smaller, sooner written
    register_faces()
    stream = io.BytesIO()
    size = (paper.width_mm * POINTS_PER_MM, paper.height_mm * POINTS_PER_MM)
    canvas = Canvas(stream, pagesize=size, invariant=1)
    canvas.setTitle(title)
    canvas.setCreator("Samecut")
    for page in pages:
        page.play(PdfSurface(canvas))
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


class PdfSurface:
    """See Surface; draws on the page that the canvas is at."""

    def __init__(self, canvas: "Canvas") -> None:
        self._canvas = canvas
        self._path = canvas.beginPath()
        self._at: Point = (0.0, 0.0)

    def move(self, x: float, y: float) -> None:
        """See Surface."""
        self._path.moveTo(x * POINTS_PER_MM, y * POINTS_PER_MM)
        self._at = (x, y)

    def line(self, x: float, y: float) -> None:
        """See Surface."""
        self._path.lineTo(x * POINTS_PER_MM, y * POINTS_PER_MM)
        self._at = (x, y)

    def arc(self, x: float, y: float, bulge: float) -> None:
        """See Surface."""
        for curve in beziers(self._at, (x, y), bulge):
            self._path.curveTo(*(value * POINTS_PER_MM for point in curve for value in point))
        self._at = (x, y)

    def close(self) -> None:
        """See Surface."""
        self._path.close()

    def paint(self, fill: Fill | None, pen: Pen | None) -> None:
        """See Surface."""
        canvas = self._canvas
        canvas.saveState()
        canvas.setLineJoin(1)
        if fill is not None:
            canvas.setFillColor(fill.colour)
            canvas.setFillAlpha(fill.opacity)
        if pen is not None:
            canvas.setStrokeColor(pen.colour)
            canvas.setStrokeAlpha(pen.opacity)
            canvas.setLineWidth(pen.width_mm * POINTS_PER_MM)
            canvas.setDash([length * POINTS_PER_MM for length in pen.dash])
        canvas.drawPath(self._path, stroke=int(pen is not None), fill=int(fill is not None), fillMode=1)
        canvas.restoreState()
        self._path = canvas.beginPath()

    def text(self, words: str, at: Point, letters: Letters) -> None:
        """See Surface."""
        canvas = self._canvas
        canvas.setFillColor(letters.colour)
        canvas.setFont(face_of(letters), letters.size_mm * POINTS_PER_MM)
        put = {
            Anchor.START: canvas.drawString,
            Anchor.MIDDLE: canvas.drawCentredString,
            Anchor.END: canvas.drawRightString,
        }[letters.anchor]
        put(at[0] * POINTS_PER_MM, at[1] * POINTS_PER_MM, words)


def beziers(start: Point, end: Point, bulge: float) -> tuple[tuple[Point, Point, Point], ...]:
    """Two handles and the end of each cubic; a handle is 4/3 tan(sweep / 4) of the radius long."""
    sweep = 4.0 * math.atan(bulge)
    count = max(1, math.ceil(abs(sweep) / LONGEST_BEZIER - 1e-9))
    (x0, y0), (x1, y1) = start, end
    reach = (1.0 - bulge * bulge) / (4.0 * bulge)
    cx, cy = (x0 + x1) / 2.0 - (y1 - y0) * reach, (y0 + y1) / 2.0 + (x1 - x0) * reach
    step = sweep / count
    handle = 4.0 / 3.0 * math.tan(step / 4.0)
    curves = []
    x, y = x0, y0
    for i in range(1, count + 1):
        turn = step * i
        cos, sin = math.cos(turn), math.sin(turn)
        u, v = (
            (x1, y1)
            if i == count
            else (cx + cos * (x0 - cx) - sin * (y0 - cy), cy + sin * (x0 - cx) + cos * (y0 - cy))
        )
        first = (x - handle * (y - cy), y + handle * (x - cx))
        second = (u + handle * (v - cy), v - handle * (u - cx))
        curves.append((first, second, (u, v)))
        x, y = u, v
    return tuple(curves)
