"""What the tools draw over the picture: strokes on their way, touch-ups that are made, corners to take."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from app.desk.picture_edits import px_of, px_per_mm, sheet_corners
from app.desk.picture_tools import Tool
from app.desk.theme import Theme
from app.desk.view import Seen

if TYPE_CHECKING:
    from app.desk.picture_edits import Stroke
    from app.desk.picture_hand import PictureHand
    from core.findings import Point
    from core.shown import Shown
    from core.touch.edit import Touch

#: px of half a handle, and of a line and the light line under it.
HANDLE_PX, LINE_PX, UNDER_PX = 5.0, 1.5, 4.0


def paint_marks(painter: QPainter, hand: "PictureHand", shown: "Shown", seen: Seen, theme: Theme) -> None:
    """Everything of the tool in the hand; the painter stands in px."""
    painter.save()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for index, touch in enumerate(hand.job.picture.touches):
        is_chosen = hand.chosen == index and hand.tool in (Tool.RUB, Tool.JOIN, Tool.PART)
        drawn = (hand.touch_in_hand(shown) or touch) if is_chosen else touch
        _paint_touch(painter, drawn, shown, seen, theme, is_chosen=is_chosen)
    for corner in hand.job.shape.corners:
        _line(painter, theme, _ring(seen.of(*shown.place.of(corner.at)), HANDLE_PX + 3.0))
    if hand.tool is Tool.CORNER and hand.corner is not None and hand.stroke is None:
        _line(painter, theme, _ring(seen.of(*hand.corner), HANDLE_PX + 6.0))
    if hand.tool is Tool.SHEET:
        _paint_sheet(painter, hand, shown, seen, theme)
    if hand.tool is Tool.CROP and hand.job.picture.crop and hand.stroke is None:
        _line(painter, theme, _box_path(hand.job.picture.crop[0], hand.job.picture.crop[1], shown, seen))
    if hand.stroke is not None and not hand.stroke.is_press:
        _paint_stroke(painter, hand.tool, hand.stroke, shown, seen, theme)
    painter.restore()


def _paint_stroke(
    painter: QPainter, tool: Tool, stroke: "Stroke", shown: "Shown", seen: Seen, theme: Theme
) -> None:
    start, now = seen.of(*stroke.start), seen.of(*stroke.now)
    if tool in (Tool.RUB, Tool.CORNER):
        _line(painter, theme, _ring(start, stroke.length_mm * seen.scale))
    elif tool in (Tool.JOIN, Tool.PART):
        _line(painter, theme, _bar(start, now, stroke.width_mm * seen.scale))
    elif tool in (Tool.LEVEL, Tool.SAME):
        _line(painter, theme, QPolygonF([start, now]))
    elif tool is Tool.CROP:
        _line(painter, theme, _box_path(px_of(shown, stroke.start), px_of(shown, stroke.now), shown, seen))


def _paint_touch(
    painter: QPainter, touch: "Touch", shown: "Shown", seen: Seen, theme: Theme, *, is_chosen: bool
) -> None:
    at = shown.place.of(touch.at)
    px = seen.scale / px_per_mm(shown, at)
    shape: QPolygonF | QRectF
    if touch.to is not None:
        shape = _bar(seen.of(*at), seen.of(*shown.place.of(touch.to)), touch.size * px)
    else:
        shape = _ring(seen.of(*at), touch.size * px if touch.size else HANDLE_PX)
    _line(painter, theme, shape, "accent" if is_chosen else "ink")
    _paint_handle(painter, seen.of(*at), theme, is_chosen=is_chosen)


def _paint_sheet(painter: QPainter, hand: "PictureHand", shown: "Shown", seen: Seen, theme: Theme) -> None:
    corners = list(sheet_corners(shown, hand.job))
    if hand.chosen is not None and hand.moved_to is not None:
        corners[hand.chosen] = hand.moved_to
    at = [seen.of(*corner) for corner in corners]
    _line(painter, theme, QPolygonF([*at, at[0]]))
    for index, place in enumerate(at):
        _paint_handle(painter, place, theme, is_chosen=index == hand.chosen)


def _paint_handle(painter: QPainter, at: QPointF, theme: Theme, *, is_chosen: bool) -> None:
    painter.setPen(QPen(theme.colour("ink"), 1.0))
    painter.setBrush(theme.colour("accent" if is_chosen else "card"))
    painter.drawRect(QRectF(at.x() - HANDLE_PX, at.y() - HANDLE_PX, 2.0 * HANDLE_PX, 2.0 * HANDLE_PX))
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _line(painter: QPainter, theme: Theme, shape: QPolygonF | QRectF, colour: str = "accent") -> None:
    """A line on a lighter one, so that it is seen on every picture."""
    for name, width in (("page", UNDER_PX), (colour, LINE_PX)):
        painter.setPen(QPen(theme.colour(name), width))
        if isinstance(shape, QRectF):
            painter.drawEllipse(shape)
        else:
            painter.drawPolyline(shape)


def _ring(at: QPointF, radius: float) -> QRectF:
    return QRectF(at.x() - radius, at.y() - radius, 2.0 * radius, 2.0 * radius)


def _bar(start: QPointF, end: QPointF, width: float) -> QPolygonF:
    ahead = end - start
    length = max((ahead.x() ** 2 + ahead.y() ** 2) ** 0.5, 1e-9)
    aside = QPointF(-ahead.y(), ahead.x()) * (width / 2.0 / length)
    return QPolygonF([start + aside, end + aside, end - aside, start - aside, start + aside])


def _box_path(one: "Point", other: "Point", shown: "Shown", seen: Seen) -> QPolygonF:
    """An upright box of the source picture, which may lie askew here."""
    corners = (one, (other[0], one[1]), other, (one[0], other[1]), one)
    return QPolygonF([seen.of(*shown.place.of(corner)) for corner in corners])
