"""How things on the sheet look while a hand is on them, in px; what stands still is on the page below."""

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QWidget

from app.desk.label import lettering
from app.desk.part_paint import tinted
from app.desk.theme import Theme
from app.desk.view import Seen, transform_of

if TYPE_CHECKING:
    import shapely

    from app.desk.clamp_thing import ClampThing
    from app.desk.entry_thing import EntryThing
    from app.desk.mark_thing import MarkThing
    from app.desk.stock_thing import StockThing
    from app.desk.thing import Thing

#: px of the zero's axes, and of the handle on a side of the sheet.
AXIS_PX, HANDLE_PX = 22.0, 5.0
#: px per mm above which every entry is drawn: on a smaller picture they would hide the slot.
ENTRY_ABOVE = 1.5


def paint_clamp(
    painter: QPainter, widget: QWidget, thing: "ClampThing", seen: Seen, theme: Theme, *, is_marked: bool
) -> None:
    """A hatched card with its height on it."""
    clamp = thing.clamp
    x_min, y_min, x_max, y_max = clamp.box()
    box = QRectF(seen.of(x_min, y_max), seen.of(x_max, y_min))
    painter.setPen(QPen(theme.colour("accent" if is_marked else "ink"), 2 if is_marked else 1))
    shape = painter.drawEllipse if clamp.is_round else painter.drawRect
    painter.setBrush(tinted(theme, "card", 235))
    shape(box)
    painter.setBrush(QBrush(tinted(theme, "quiet", 70), Qt.BrushStyle.FDiagPattern))
    shape(box)
    words = f"{clamp.height_mm:g} high"
    painter.setFont(lettering(widget))
    if painter.fontMetrics().horizontalAdvance(words) + 8 < box.width():
        painter.setPen(theme.colour("ink"))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)


def paint_zero(painter: QPainter, at: QPointF, theme: Theme) -> None:
    """Both axes and a dot, where the zero is in the hand."""
    painter.setPen(QPen(theme.colour("accent"), 2))
    painter.setBrush(theme.colour("accent"))
    painter.drawLine(at, at + QPointF(AXIS_PX, 0.0))
    painter.drawLine(at, at - QPointF(0.0, AXIS_PX))
    painter.drawEllipse(at, 6.0, 6.0)


def paint_round(painter: QPainter, thing: "Thing", seen: Seen, theme: Theme) -> None:
    """A ring round a hole."""
    painter.setPen(QPen(theme.colour("accent"), 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    reach = max(thing.half[0] * seen.scale, 4.0) + 4.0
    painter.drawEllipse(seen.of(*thing.at), reach, reach)


def paint_mark(
    painter: QPainter, thing: "MarkThing", among: "tuple[Thing, ...]", seen: Seen, theme: Theme
) -> None:
    """The hole where it would be bored, in the colour of a caution with a bar where it is badly placed."""
    is_bad = thing.is_bad(among)
    at, radius = seen.of(*thing.at), max(thing.radius_mm * seen.scale, 4.0)
    painter.setPen(QPen(theme.colour("caution" if is_bad else "accent"), 2))
    painter.setBrush(theme.colour("board").darker(112))
    painter.drawEllipse(at, radius, radius)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(at, radius + 5.0, radius + 5.0)
    if is_bad:
        slant = QPointF(radius + 5.0, -radius - 5.0) * 0.7071
        painter.drawLine(at - slant, at + slant)


def paint_entry(painter: QPainter, thing: "EntryThing", seen: Seen, theme: Theme, *, is_marked: bool) -> None:
    """A pointer from the waste on to the wall, filled where the maker placed it."""
    if not is_marked and seen.scale < ENTRY_ABOVE:
        return
    colour = theme.colour("accent" if is_marked else "path")
    painter.setPen(QPen(colour, 2 if is_marked else 1))
    painter.setBrush(colour if thing.is_by_hand else theme.colour("card"))
    outward = thing.on.outward
    along, away = (
        QPointF(-math.sin(outward), -math.cos(outward)),
        QPointF(math.cos(outward), -math.sin(outward)),
    )
    tip, high, half = seen.of(*thing.on.at), (14.0 if is_marked else 11.0), (6.0 if is_marked else 4.5)
    painter.drawPolygon([tip, tip + away * high + along * half, tip + away * high - along * half])


def ground_path(area: "shapely.Geometry") -> QPainterPath:
    """An area of the frame as a path of the scene: mm, y down."""
    from shapely import get_coordinates, get_parts  # noqa: PLC0415 - with the first mark in the hand

    path = QPainterPath()
    for piece in get_parts(area):
        for ring in (piece.exterior, *piece.interiors) if not piece.is_empty else ():
            places = get_coordinates(ring).tolist()
            path.moveTo(places[0][0], -places[0][1])
            for x, y in places[1:]:
                path.lineTo(x, -y)
            path.closeSubpath()
    return path


def paint_ground(painter: QPainter, path: QPainterPath, seen: Seen, theme: Theme) -> None:
    """Where a mark may stand, lit up."""
    painter.save()
    painter.setTransform(transform_of(seen))
    painter.setPen(QPen(tinted(theme, "accent", 150), 0, Qt.PenStyle.DashLine))
    painter.setBrush(tinted(theme, "accent", 46))
    painter.drawPath(path)
    painter.restore()


def paint_stock(painter: QPainter, thing: "StockThing", seen: Seen, theme: Theme) -> None:
    """The sheet as large as the hand wants it, and a handle on what is moved."""
    wide, deep = thing.at
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(theme.colour("accent"), 2, Qt.PenStyle.DashLine))
    painter.drawRect(QRectF(seen.of(0.0, deep), seen.of(wide, 0.0)))
    painter.setPen(QPen(theme.colour("accent"), 2))
    painter.setBrush(theme.colour("card"))
    box = QRectF(-HANDLE_PX, -HANDLE_PX, 2.0 * HANDLE_PX, 2.0 * HANDLE_PX)
    painter.drawRect(box.translated(seen.of(*thing.handle)))
