"""How the part page looks: quiet board and stock, and a part of clear sheet whose edge catches the light."""

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QLinearGradient, QPainter, QPainterPath, QPen, QTransform

from app.desk.theme import SMALLEST_PT, Theme
from app.desk.view import Seen, transform_of

if TYPE_CHECKING:
    from app.desk.edge import Edge, OnEdge
    from app.desk.misfit import Misfit
    from app.desk.part_look import PartLook
    from app.desk.tab_hand import TabHand
    from core.sheet.placement import Placement
    from core.shown import Shown

#: The polished edge inside the part's outline: so many mm, but no more px.
BEVEL_MM, BEVEL_PX = 1.0, 5.0
#: More copies than this are drawn plainly: they are small then, and each costs.
MANY = 6
#: px per mm above which the bit's path is drawn: nearer together it only darkens the slot.
PATH_ABOVE = 2.5


def tinted(theme: Theme, name: str, alpha: int) -> QColor:
    """A colour of the theme, as thin as alpha (0 to 255)."""
    colour = theme.colour(name)
    colour.setAlpha(alpha)
    return colour


def paint_part(painter: QPainter, look: "PartLook", shown: "Shown", theme: Theme, scale: float) -> None:
    """From the board upwards; the painter stands in the scene, scale is px per mm."""
    _paint_board(painter, look, theme)
    _paint_stock(painter, look, shown, theme)
    _paint_hinge(painter, look, theme, scale)
    painter.fillPath(look.breaks, tinted(theme, "stock_edge", 170))
    for copy in look.copies:
        painter.save()
        painter.setTransform(copy, combine=True)
        _paint_piece(painter, look, shown, theme, scale)
        painter.restore()
    if scale >= PATH_ABOVE:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(tinted(theme, "path", 110), 0))
        painter.drawPath(look.last_lap)
    _paint_marks(painter, look, shown, theme, scale)
    _paint_zero(painter, look, theme, scale)


def _paint_piece(painter: QPainter, look: "PartLook", shown: "Shown", theme: Theme, scale: float) -> None:
    """One of the copies: its slot, and the part in it; of many copies without the light on the edge."""
    painter.fillPath(look.slot, theme.colour("board").darker(112))
    if len(look.copies) > MANY:
        painter.setPen(QPen(theme.colour("part_edge"), 0))
        painter.setBrush(theme.colour("part"))
        painter.drawPath(look.part)
        return
    _paint_solid(painter, look, shown, theme)
    _paint_edge(painter, look, theme, min(BEVEL_PX, BEVEL_MM * scale))


def paint_bare(painter: QPainter, look: "PartLook", shown: "Shown", theme: Theme, scale: float) -> None:
    """The stock before the cut, and where the part will be."""
    _paint_board(painter, look, theme)
    _paint_stock(painter, look, shown, theme)
    _paint_hinge(painter, look, theme, scale)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(tinted(theme, "part_edge", 120), 0, Qt.PenStyle.DotLine))
    for copy in look.copies:
        painter.drawPath(copy.map(look.part))
    _paint_zero(painter, look, theme, scale)


def _paint_board(painter: QPainter, look: "PartLook", theme: Theme) -> None:
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # upright edges need none, and it costs
    painter.fillRect(look.board, tinted(theme, "board", 120))


def _paint_stock(painter: QPainter, look: "PartLook", shown: "Shown", theme: Theme) -> None:
    is_clear = shown.layout.stock.is_clear
    painter.setBrush(tinted(theme, "stock", 205 if is_clear else 255))
    painter.setPen(QPen(theme.colour("stock_edge"), 0))
    painter.drawRect(look.stock)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)


def _paint_hinge(painter: QPainter, look: "PartLook", theme: Theme, scale: float) -> None:
    if look.hinge.isEmpty():
        return
    brush = QBrush(tinted(theme, "quiet", 42), Qt.BrushStyle.BDiagPattern)
    brush.setTransform(QTransform.fromScale(1.0 / scale, 1.0 / scale))
    painter.fillRect(look.hinge, brush)
    inner = QPen(tinted(theme, "quiet", 120), 0, Qt.PenStyle.DashLine)
    painter.setPen(inner)
    for line in _inner_sides(look):
        painter.drawLine(line)
    _paint_text(painter, look.hinge, "kept free for the tape hinge", theme, scale)


def _inner_sides(look: "PartLook") -> list[QLineF]:
    """The side of the strip that is not the stock's own edge."""
    box, sheet = look.hinge, look.stock
    sides = (
        (box.top() > sheet.top(), QLineF(box.topLeft(), box.topRight())),
        (box.bottom() < sheet.bottom(), QLineF(box.bottomLeft(), box.bottomRight())),
        (box.left() > sheet.left(), QLineF(box.topLeft(), box.bottomLeft())),
        (box.right() < sheet.right(), QLineF(box.topRight(), box.bottomRight())),
    )
    return [line for is_inner, line in sides if is_inner]


def _paint_text(painter: QPainter, box: QRectF, words: str, theme: Theme, scale: float) -> None:
    """Words in px, in the middle of a box of the scene, where there is room for them."""
    painter.save()
    at = painter.transform().mapRect(box)
    painter.resetTransform()
    font = QFont(painter.font())
    font.setPointSizeF(max(SMALLEST_PT, font.pointSizeF()))
    painter.setFont(font)
    text = painter.fontMetrics().boundingRect(words)
    if text.width() + 16 < at.width() and text.height() < at.height():
        painter.setPen(theme.colour("quiet"))
        painter.drawText(at, Qt.AlignmentFlag.AlignCenter, words)
    painter.restore()
    del scale


def _paint_solid(painter: QPainter, look: "PartLook", shown: "Shown", theme: Theme) -> None:
    """Clear sheet: a tint, and two soft bands of light across it."""
    painter.setPen(Qt.PenStyle.NoPen)
    painter.fillPath(look.part, theme.colour("part"))
    if not shown.layout.stock.is_clear:
        return
    box = look.part.boundingRect()
    sheen = QLinearGradient(box.topLeft(), box.bottomRight())
    light, clear = tinted(theme, "part_light", 90 if theme.name == "light" else 34), QColor(255, 255, 255, 0)
    for stop, colour in (
        (0.0, clear),
        (0.22, clear),
        (0.30, light),
        (0.36, light),
        (0.44, clear),
        (0.60, clear),
        (0.63, light),
        (0.65, light),
        (0.68, clear),
        (1.0, clear),
    ):
        sheen.setColorAt(stop, colour)
    painter.fillPath(look.part, sheen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(tinted(theme, "part_edge", 34), 0))
    painter.drawPath(look.seams)


def _paint_edge(painter: QPainter, look: "PartLook", theme: Theme, bevel_px: float) -> None:
    """The polished wall inside the outline, lit from one side, then the outline in ink."""
    painter.save()
    painter.setClipPath(look.part)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for brightness, path in look.facets:
        pen = QPen(_facet_colour(theme, brightness), 2.0 * bevel_px)
        pen.setCosmetic(True)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        painter.drawPath(path)
    painter.restore()
    painter.setPen(QPen(theme.colour("part_edge"), 0))
    painter.drawPath(look.part)


def _facet_colour(theme: Theme, brightness: float) -> QColor:
    if brightness >= 0.0:
        return tinted(theme, "part_light", round(60 + 180 * brightness))
    shade = theme.colour("path").darker(130) if theme.name == "light" else theme.colour("board").darker(220)
    shade.setAlpha(round(40 + 70 * -brightness))
    return shade


def _paint_marks(painter: QPainter, look: "PartLook", shown: "Shown", theme: Theme, scale: float) -> None:
    painter.setPen(QPen(theme.colour("mark"), 0))
    painter.setBrush(theme.colour("board").darker(112))
    painter.drawPath(look.holes)
    for mark in shown.layout.marks_on_sheet:
        at, reach = QPointF(mark.at[0], -mark.at[1]), mark.diameter_mm / 2.0 + 5.0 / scale
        for step in (QPointF(reach, 0.0), QPointF(0.0, reach)):
            painter.drawLine(at - step, at + step)
        if mark.is_key:
            box = QRectF(at.x() + reach, at.y() - 12.0 / scale, 46.0 / scale, 24.0 / scale)
            _paint_text(painter, box, "key", theme, scale)


def _paint_zero(painter: QPainter, look: "PartLook", theme: Theme, scale: float) -> None:
    """The work zero: both axes and a dot."""
    at, reach = look.zero, 22.0 / scale
    painter.setPen(QPen(theme.colour("accent"), 0))
    painter.setBrush(theme.colour("accent"))
    painter.drawLine(at, at + QPointF(reach, 0.0))
    painter.drawLine(at, at - QPointF(0.0, reach))
    painter.drawEllipse(at, 3.5 / scale, 3.5 / scale)


def paint_tabs(painter: QPainter, hand: "TabHand", seen: Seen, theme: Theme, hovered: int | None) -> None:
    """Bridges over the slot, as the bit leaves them; the chosen and the hovered one stand out."""
    bit = hand.edge.setup.bit.diameter_mm
    for index, (tab, wall) in enumerate(zip(hand.tabs, hand.walls, strict=True)):
        is_chosen = index == hand.chosen
        body = theme.colour("accent") if is_chosen else theme.colour("part")
        shape = bridge(wall, bit)
        painter.setBrush(theme.colour("part"))
        painter.setPen(QPen(theme.colour("part_edge"), 1))
        for copy in hand.others:
            painter.drawPath(_placed(_copied(tab, copy), seen).map(shape))
        painter.setBrush(body.lighter(112) if index == hovered and not is_chosen else body)
        painter.setPen(QPen(theme.colour("accent" if is_chosen or index == hovered else "part_edge"), 1))
        painter.drawPath(_placed(tab, seen).map(shape))
        if is_chosen or index == hovered:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            middle = _placed(tab, seen).map(QPointF(0.0, bit / 2.0))
            painter.drawEllipse(middle, 11.0, 11.0)


def _copied(tab: "OnEdge", copy: "Placement") -> "OnEdge":
    """The same tab of another copy."""
    turn = math.pi if copy.is_turned else 0.0
    return replace(tab, at=copy.point(tab.at), outward=tab.outward + turn)


def bridge(wall_mm: float, bit_mm: float) -> QPainterPath:
    """What stands of a tab, mm: the slot's width between two round ends that the bit left."""
    half, radius = wall_mm / 2.0, bit_mm / 2.0
    path = QPainterPath(QPointF(-half, 0.0))
    path.arcTo(QRectF(-half - radius, 0.0, bit_mm, bit_mm), 90.0, -180.0)
    path.lineTo(half, bit_mm)
    path.arcTo(QRectF(half - radius, 0.0, bit_mm, bit_mm), -90.0, -180.0)
    path.closeSubpath()
    return path


def _placed(tab: "OnEdge", seen: Seen) -> QTransform:
    """A tab's own mm (x along the edge, y outward) to px."""
    at = seen.of(*tab.at)
    turn = QTransform()
    turn.translate(at.x(), at.y())
    turn.rotateRadians(-tab.outward - math.pi / 2.0)
    turn.scale(seen.scale, seen.scale)
    return turn


def paint_unfit(painter: QPainter, edge: "Edge", seen: Seen, theme: Theme) -> None:
    """The hatching across the slot where a tab should not stand."""
    painter.save()
    painter.setTransform(transform_of(seen))
    painter.setPen(QPen(theme.colour("caution"), 0))
    painter.drawLines([QLineF(x, -y, to_x, -to_y) for (x, y), (to_x, to_y) in edge.hatching])
    painter.restore()


def paint_misfit(painter: QPainter, misfit: "Misfit", seen: Seen, theme: Theme) -> None:
    """Blades that stand out from the edge, as long as the misfit many times enlarged."""
    painter.save()
    painter.setTransform(transform_of(seen))
    painter.setPen(QPen(theme.colour("stop"), 0))
    painter.setBrush(tinted(theme, "stop", 150))
    for blade in misfit.blades:
        painter.drawPolygon(blade)
    painter.restore()
