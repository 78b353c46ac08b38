"""What every page of the book is framed by: title, fold, veil, hair-cross, ring and focus; all in px."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QLinearGradient, QPainter, QPen
from PySide6.QtWidgets import QWidget

from app.desk.label import lettering, paint_label
from app.desk.theme import Theme
from app.desk.view import TITLE_PX

#: px of the shade where a page runs into the book's fold.
FOLD_PX = 22.0
#: px that a title stands in from the page's left, and that its ground fades over.
INDENT_PX, FADE_PX = 18.0, 8.0
#: px; the ring round a place that was asked for.
RING_PX = 13.0


def paint_fold(painter: QPainter, page: QWidget, side: Qt.Edge, theme: Theme) -> None:
    """A soft shade towards the fold."""
    edge = float(page.width()) if side is Qt.Edge.RightEdge else 0.0
    inner = edge - FOLD_PX if edge else FOLD_PX
    shade = QLinearGradient(inner, 0.0, edge, 0.0)
    shade.setColorAt(0.0, QColor(0, 0, 0, 0))
    shade.setColorAt(1.0, QColor(0, 0, 0, 70 if theme.name == "dark" else 26))
    painter.fillRect(QRectF(min(inner, edge), 0.0, FOLD_PX, page.height()), shade)


#: What a veiled page says of itself.
COMING, STUCK = "old \u00b7 the new one is on its way", "old \u00b7 the new one could not be made"


def paint_veil(painter: QPainter, page: QWidget, words: str, theme: Theme) -> None:
    """What lies below is old, and says so."""
    veil = theme.colour("veil")
    veil.setAlpha(120)
    painter.fillRect(page.rect(), veil)
    paint_corner(painter, page, words, theme)


def paint_corner(painter: QPainter, page: QWidget, words: str, theme: Theme) -> None:
    """What all of the page is, in its lower right corner."""
    corner = QPointF(page.width() - 14.0, page.height() - 14.0)
    paint_label(painter, page, corner, words, theme, Qt.AlignmentFlag.AlignRight)


def paint_title(painter: QPainter, page: QWidget, title: tuple[str, str], theme: Theme) -> None:
    """Two lines on a ground that fades into the page; too long ones end in three points."""
    fade, ground = QLinearGradient(0.0, 0.0, 0.0, TITLE_PX + FADE_PX), theme.colour("page")
    for stop, alpha in ((0.0, 245), (0.8, 225), (1.0, 0)):
        ground.setAlpha(alpha)
        fade.setColorAt(stop, ground)
    painter.fillRect(QRectF(0.0, 0.0, page.width(), TITLE_PX + FADE_PX), fade)
    _paint_line(painter, page, title[0], theme.colour("ink"), 10.0, QFont.Weight.DemiBold)
    _paint_line(painter, page, title[1], theme.colour("quiet"), 30.0, QFont.Weight.Normal)


def _paint_line(
    painter: QPainter, page: QWidget, words: str, colour: QColor, top: float, weight: QFont.Weight
) -> None:
    painter.setFont(lettering(page, weight))
    painter.setPen(colour)
    room = page.width() - 2.0 * INDENT_PX
    fitting = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, int(room))
    painter.drawText(QRectF(INDENT_PX, top, room, 22.0), Qt.AlignmentFlag.AlignLeft, fitting)


def paint_hair(painter: QPainter, page: QWidget, at: QPointF, theme: Theme) -> None:
    """The level line right across, the upright, and a ring where the pointer is on the other page."""
    line = theme.colour("accent")
    line.setAlpha(110)
    x, y = float(round(at.x())), float(round(at.y()))
    painter.fillRect(QRectF(0.0, y, page.width(), 1.0), line)  # a filled line costs a tenth of a drawn one
    painter.fillRect(QRectF(x, TITLE_PX, 1.0, page.height()), line)
    if not page.underMouse():
        painter.setPen(QPen(theme.colour("accent"), 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(at, 4.0, 4.0)


def paint_place(painter: QPainter, at: QPointF, theme: Theme) -> None:
    """A ring on a ground of its own, so that it shows on every colour."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for colour, width in (("page", 5.0), ("caution", 2.0)):
        painter.setPen(QPen(theme.colour(colour), width))
        painter.drawEllipse(at, RING_PX, RING_PX)


def paint_focus(painter: QPainter, page: QWidget, theme: Theme) -> None:
    """A line round the page that the keys go to."""
    painter.setPen(QPen(theme.colour("accent"), 1))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(QRectF(page.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
