"""The gauge plate as it is measured: every distance with its letter, and the one that is being read."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from app.desk.label import lettering
from app.desk.theme import Theme, theme_of
from core.findings import Point
from core.gauge.letters import letters_at
from core.gauge.plate import HOLE, HOLES_OFF, OPENING, PLATE, Measured, measured, steps

#: px round the plate, px of an arrow's head, mm of a step's side.
AROUND, HEAD_PX, STEP_MM = 10.0, 7.0, 9.0
_DISTANCES = {one.letter: one for one in measured()}


class GaugeFigure(QWidget):
    """Shows the letter in hand; none at first."""

    def __init__(self) -> None:
        super().__init__()
        self._letter = ""
        self._turn = QPointF()
        self._px = 1.0
        self.setMinimumSize(300, 200)
        self.setAccessibleName("the gauge plate, with a letter at every distance to read")

    @property
    def letter(self) -> str:
        """The letter in hand; "" for none."""
        return self._letter

    def point_at(self, letter: str) -> None:
        """Bring out what is read there; "" for nothing."""
        self._letter = letter
        self.update()

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """In the plate's proportion."""
        return QSize(430, round(430 * PLATE[1] / PLATE[0]))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Plate, openings, lines, letters."""
        painter, theme = QPainter(self), theme_of(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        room = (self.width() - 2.0 * AROUND) / PLATE[0], (self.height() - 2.0 * AROUND) / PLATE[1]
        self._px, self._turn = min(room), QPointF(self.width() / 2.0, self.height() / 2.0)
        self._paint_plate(painter, theme)
        for one in _DISTANCES.values():
            self._paint_line(painter, one.start, one.end, QPen(theme.colour("note"), 1.0))
        chosen = _DISTANCES.get(self._letter)
        if chosen is not None:
            start, end = _measured_ends(chosen)
            self._paint_line(painter, start, end, QPen(theme.colour("accent"), 3.0))
        self._paint_letters(painter, theme)
        painter.end()

    def _paint_plate(self, painter: QPainter, theme: Theme) -> None:
        painter.setPen(QPen(theme.colour("part_edge"), 1.5))
        painter.setBrush(theme.colour("part"))
        painter.drawRect(self._box((0.0, 0.0), PLATE))
        painter.setBrush(theme.colour("page"))
        painter.drawRect(self._box((0.0, 0.0), OPENING))
        for x in (-HOLES_OFF[0], HOLES_OFF[0]):
            for y in (-HOLES_OFF[1], HOLES_OFF[1]):
                painter.drawEllipse(self._box((x, y), (HOLE, HOLE)))
        for step in steps():
            is_chosen = step.letter == self._letter
            colour = theme.colour("accent" if is_chosen else "part_edge")
            painter.setPen(QPen(colour, 3.0 if is_chosen else 1.0))
            painter.drawRect(self._box(step.at, (STEP_MM, STEP_MM)))

    def _paint_line(self, painter: QPainter, start: Point, end: Point, pen: QPen) -> None:
        painter.setPen(pen)
        ends = self._at(start), self._at(end)
        painter.drawLine(*ends)
        long = ((ends[1].x() - ends[0].x()) ** 2 + (ends[1].y() - ends[0].y()) ** 2) ** 0.5
        along = (ends[1] - ends[0]) / long
        across = QPointF(-along.y(), along.x())
        for tip, way in ((ends[0], 1.0), (ends[1], -1.0)):
            for side in (0.4, -0.4):
                painter.drawLine(tip, tip + (along * way + across * side) * HEAD_PX)

    def _paint_letters(self, painter: QPainter, theme: Theme) -> None:
        for letters, place in letters_at(_DISTANCES.values(), steps()):
            is_chosen = self._letter in letters
            weight = QFont.Weight.Bold if is_chosen else QFont.Weight.Normal
            painter.setFont(lettering(self, weight))
            words = " ".join(letters)
            wide = painter.fontMetrics().horizontalAdvance(words)
            box = QRectF(0.0, 0.0, wide + 6.0, painter.fontMetrics().height())
            box.moveCenter(self._at(place))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(theme.colour("accent" if is_chosen else "card"))
            painter.drawRoundedRect(box, 4.0, 4.0)
            painter.setPen(theme.colour("on_accent" if is_chosen else "ink"))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    def _at(self, place: Point) -> QPointF:
        return self._turn + QPointF(place[0], -place[1]) * self._px

    def _box(self, middle: Point, size: tuple[float, float]) -> QRectF:
        box = QRectF(0.0, 0.0, self._px * size[0], self._px * size[1])
        box.moveCenter(self._at(middle))
        return box


def _measured_ends(one: Measured) -> tuple[Point, Point]:
    """From edge to edge: of holes the near or the far ones."""
    long = one.feature.meant_mm
    dx, dy = one.end[0] - one.start[0], one.end[1] - one.start[1]
    middle = ((one.start[0] + one.end[0]) / 2.0, (one.start[1] + one.end[1]) / 2.0)
    half = 0.5 * long / (dx**2 + dy**2) ** 0.5
    return (
        (middle[0] - half * dx, middle[1] - half * dy),
        (middle[0] + half * dx, middle[1] + half * dy),
    )
