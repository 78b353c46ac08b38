"""How the played cut looks: the bare stock it begins with, slots by depth, chips by colour, and the bit."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from app.desk.label import KEEP, PAD_X, PAD_Y, lettering
from app.desk.play_words import legend
from app.desk.theme import Theme
from core.router.played import Chip

if TYPE_CHECKING:
    from core.shown import Shown

#: px of the bit's way by the chip it took: what is worse is wider too, never told by colour alone.
LINE_PX: Mapping[Chip, float] = {Chip.DOWN: 1.2, Chip.FULL: 1.6, Chip.THIN: 2.6, Chip.RUBS: 4.0}
#: px of a swatch in the legend, and of its row; rows of a column.
SWATCH_PX, ROW_PX, LEGEND_ROWS = 20.0, 20.0, 2


def chip_colour(theme: Theme, kind: Chip) -> QColor:
    """Blue, yellow and red-orange are told apart by all eyes, and differ in lightness."""
    return theme.colour(f"chip_{kind.name.lower()}")


def slot_colours(theme: Theme, depths: int) -> list[QColor]:
    """From a scratch to just above the board, darker as it is deeper; last, the board itself."""
    stock = theme.colour("stock")
    deeper = [stock.darker(106 + round(54 * step / max(depths - 1, 1))) for step in range(depths)]
    return [*deeper, theme.colour("board").darker(112)]


def paint_bit(painter: QPainter, at: QPointF, radius_px: float, z: float, theme: Theme) -> None:
    """Its circle on the stock, filled while it cuts, and a cross that shows also where it is small."""
    accent = theme.colour("accent")
    painter.setPen(QPen(theme.colour("page"), 4.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(at, radius_px, radius_px)
    painter.setPen(QPen(accent, 2.0))
    if z < 0.0:
        accent.setAlpha(110)
        painter.setBrush(accent)
    painter.drawEllipse(at, radius_px, radius_px)
    for step in (QPointF(1.0, 0.0), QPointF(0.0, 1.0)):
        painter.drawLine(at - step * (radius_px + 6.0), at - step * (radius_px + 2.0))
        painter.drawLine(at + step * (radius_px + 2.0), at + step * (radius_px + 6.0))


def paint_legend(painter: QPainter, page: QWidget, shown: "Shown", theme: Theme) -> None:
    """What the colours mean, in two columns on a card in the page's lower left corner."""
    rows = legend(shown)
    painter.setFont(lettering(page))
    metrics = painter.fontMetrics()
    columns = [rows[:LEGEND_ROWS], rows[LEGEND_ROWS:]]
    wides = [max(metrics.horizontalAdvance(words) for _, words in column) for column in columns]
    wide = sum(wides) + len(columns) * (SWATCH_PX + 2.0 * PAD_X) + PAD_X
    size = (wide, ROW_PX * LEGEND_ROWS + 2.0 * PAD_Y)
    box = QRectF(KEEP, page.height() - KEEP - size[1], *size)
    painter.setPen(QPen(theme.colour("line"), 1))
    painter.setBrush(theme.colour("card"))
    painter.drawRoundedRect(box, 5.0, 5.0)
    left = box.left() + PAD_X
    for column, text_px in zip(columns, wides, strict=True):
        for number, (kind, words) in enumerate(column):
            row = QRectF(left, box.top() + PAD_Y + number * ROW_PX, SWATCH_PX + PAD_X + text_px, ROW_PX)
            _paint_row(painter, row, kind, words, theme)
        left += SWATCH_PX + text_px + 2.0 * PAD_X


def _paint_row(painter: QPainter, row: QRectF, kind: Chip, words: str, theme: Theme) -> None:
    middle = QPointF(row.left(), row.center().y())
    painter.setPen(QPen(chip_colour(theme, kind), LINE_PX[kind]))
    painter.drawLine(middle, middle + QPointF(SWATCH_PX, 0.0))
    painter.setPen(theme.colour("ink"))
    painter.drawText(row.adjusted(SWATCH_PX + PAD_X, 0.0, 2.0, 0.0), Qt.AlignmentFlag.AlignVCenter, words)
