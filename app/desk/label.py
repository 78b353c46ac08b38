"""A few words on a small card of their own, painted where they are needed and never cut off."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QPainter, QPen
from PySide6.QtWidgets import QWidget

from app.desk.theme import SMALLEST_PT, Theme

#: px between words and the card's edge, and between card and page's edge.
PAD_X, PAD_Y, KEEP = 8.0, 4.0, 6.0
#: In the middle, in two lines where one is too long.
LETTERED = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap


def lettering(widget: QWidget, weight: QFont.Weight = QFont.Weight.Normal) -> QFont:
    """The widget's font, no smaller than can be read at arm's length."""
    font = QFont(widget.font())
    font.setPointSizeF(max(font.pointSizeF(), SMALLEST_PT))
    font.setWeight(weight)
    return font


def paint_label(
    painter: QPainter,
    widget: QWidget,
    at: QPointF,
    words: str,
    theme: Theme,
    side: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignLeft,
) -> None:
    """The card's lower left corner (lower right with AlignRight) at a place of the widget, px."""
    painter.setFont(lettering(widget))
    room = QRectF(widget.rect()).adjusted(KEEP, KEEP, -KEEP, -KEEP)
    inside = QRectF(0.0, 0.0, max(room.width() - 2.0 * PAD_X, 1.0), room.height())
    text = QRectF(painter.fontMetrics().boundingRect(inside.toRect(), LETTERED, words))
    box = QRectF(0.0, 0.0, text.width() + 2.0 * PAD_X, text.height() + 2.0 * PAD_Y)
    box.moveBottomLeft(at)
    if side is Qt.AlignmentFlag.AlignRight:
        box.moveBottomRight(at)
    box = _kept_within(box, room)
    painter.setPen(QPen(theme.colour("line"), 1))
    painter.setBrush(theme.colour("card"))
    painter.drawRoundedRect(box, 5.0, 5.0)
    painter.setPen(theme.colour("ink"))
    painter.drawText(box, LETTERED, words)


def _kept_within(box: QRectF, room: QRectF) -> QRectF:
    box.moveLeft(max(min(box.left(), room.right() - box.width()), room.left()))
    box.moveTop(max(min(box.top(), room.bottom() - box.height()), room.top()))
    return box
