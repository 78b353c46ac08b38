"""How the depth strip looks: stock and board in section, what the bit takes, its marks, and the playhead."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen, QPolygonF

from app.desk.columns import Columns
from app.desk.cut_paint import chip_colour
from app.desk.part_paint import tinted
from app.desk.play_words import freed_words
from app.desk.theme import Theme
from core.router.freed import over_tabs
from core.router.played import Chip

if TYPE_CHECKING:
    from core.shown import Shown

#: Spoil board drawn below the deepest cut, as a share of the stock.
BOARD_SHARE = 0.35
#: px: height of the band that tells the chip and its gap to the section; half a mark.
BAND_PX, GAP_PX, MARK_PX = 7.0, 3.0, 4.0
#: What the mark of a tab says.
OVER_TAB = "over a tab"


@dataclass(frozen=True, eq=False)
class StripLook:
    """Made once for a Shown at a width in screen's pixels: its columns, and marks (second, words)."""

    shown: "Shown"
    columns: Columns
    tabs: tuple[float, ...]
    marks: tuple[tuple[float, str], ...]

    @classmethod
    def of(cls, shown: "Shown", wide: int) -> "StripLook":
        """What is drawn of this."""
        tabs = over_tabs(shown.path.toolpath, shown.run, shown.setup) if shown.path.tabs else ()
        freed = [(one.second, freed_words(one)) for one in shown.freed]
        marks = (*freed, *((second, OVER_TAB) for second in tabs))
        return cls(shown, Columns.of(shown.run, wide), tabs, marks)

    def is_of(self, shown: "Shown", wide: int) -> bool:
        """Whether it is made of this."""
        return self.shown is shown and self.columns.low.size == wide

    def mark_at(self, second: float, reach_s: float) -> tuple[float, str] | None:
        """The mark within reach of a second: what comes free before tabs, the nearest first."""
        near = [mark for mark in self.marks if abs(mark[0] - second) <= reach_s]
        return min(near, key=lambda mark: (mark[1] == OVER_TAB, abs(mark[0] - second)), default=None)


def section_of(box: QRectF, shown: "Shown") -> tuple[QRectF, float]:
    """Where stock and board are seen in section, px, and px per mm of depth."""
    section = box.adjusted(0.0, BAND_PX + GAP_PX, 0.0, 0.0)
    thick, deep = shown.layout.stock.thickness_mm, -shown.path.bottom_z_mm
    return section, section.height() / max(deep, thick * (1.0 + BOARD_SHARE))


def paint_strip(painter: QPainter, box: QRectF, look: StripLook, shown: "Shown", theme: Theme) -> None:
    """Everything that stands still."""
    section, down = section_of(box, shown)
    bed = section.top() + shown.layout.stock.thickness_mm * down
    stock = QRectF(section.left(), section.top(), section.width(), bed - section.top())
    painter.fillRect(stock, theme.colour("stock"))
    board = QRectF(section.left(), bed, section.width(), section.bottom() - bed)
    painter.fillRect(board, tinted(theme, "board", 150))
    _paint_cut(painter, section, look.columns, down, theme)
    painter.setPen(QPen(theme.colour("stock_edge"), 0))
    painter.drawLine(QPointF(section.left(), bed), QPointF(section.right(), bed))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(section)
    _paint_band(painter, box, look.columns, theme)
    _paint_marks(painter, box, look, shown, theme)


def _paint_cut(painter: QPainter, box: QRectF, columns: Columns, down: float, theme: Theme) -> None:
    """What is taken away, down to the deepest of each column, and the line that the bit runs on."""
    step = box.width() / columns.low.size
    xs = box.left() + step * (np.arange(columns.low.size) + 0.5)
    low = box.top() - np.minimum(columns.low, 0.0) * down
    high = box.top() - np.minimum(columns.high, 0.0) * down
    deepest = [QPointF(x, y) for x, y in zip(xs.tolist(), low.tolist(), strict=True)]
    cut = QPainterPath(QPointF(box.left(), box.top()))
    cut.addPolygon(QPolygonF([QPointF(box.left(), box.top()), *deepest, QPointF(box.right(), box.top())]))
    cut.closeSubpath()
    painter.fillPath(cut, tinted(theme, "page", 215))
    line = np.column_stack((xs, high, xs, low)).reshape(-1, 2).tolist()
    painter.setPen(QPen(theme.colour("path"), 0))
    painter.drawPolyline([QPointF(x, y) for x, y in line])


def _paint_band(painter: QPainter, box: QRectF, columns: Columns, theme: Theme) -> None:
    """The chip over the time: in every column as high as each kind has its share, the worst on top."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    step = box.width() / columns.low.size
    order = (Chip.RUBS, Chip.THIN, Chip.DOWN, Chip.FULL)
    lefts = (box.left() + step * np.arange(columns.low.size)).tolist()
    tops = np.full(columns.low.size, box.top())
    for kind in order:
        high = BAND_PX * columns.shares[:, kind]
        rects = [
            QRectF(x, top, step, tall)
            for x, top, tall in zip(lefts, tops.tolist(), high.tolist(), strict=True)
            if tall > 0.05
        ]
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(chip_colour(theme, kind))
        painter.drawRects(rects)
        tops = tops + high
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)


def _paint_marks(painter: QPainter, box: QRectF, look: StripLook, shown: "Shown", theme: Theme) -> None:
    """Below, a wedge for every tab; above, what is through: a ring, or a dot where no tab holds it."""
    across = box.width() / max(shown.run.total(), 1e-9)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(theme.colour("quiet"))
    for second in look.tabs:
        x, y = box.left() + second * across, box.bottom() + 3.0
        wedge = (QPointF(0.0, 0.0), QPointF(MARK_PX, 2.0 * MARK_PX), QPointF(-MARK_PX, 2.0 * MARK_PX))
        painter.drawPolygon([QPointF(x, y) + corner for corner in wedge])
    for one in shown.freed:
        colour = theme.colour("quiet" if one.tabs else "stop")
        x = box.left() + one.second * across
        painter.setPen(QPen(colour, 1.6))
        painter.setBrush(Qt.BrushStyle.NoBrush if one.tabs else colour)
        painter.drawEllipse(QPointF(x, box.top() - 7.0), MARK_PX, MARK_PX)
        painter.drawLine(QPointF(x, box.top() - 3.0), QPointF(x, box.bottom()))


def paint_head(painter: QPainter, box: QRectF, x: float, theme: Theme) -> None:
    """A line through the section with a grip below it."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    accent = theme.colour("accent")
    painter.fillRect(QRectF(x - 1.0, box.top() - 4.0, 2.0, box.height() + 8.0), accent)
    painter.setPen(QPen(theme.colour("page"), 1.0))
    painter.setBrush(accent)
    painter.drawEllipse(QPointF(x, box.bottom() + 6.0), 6.0, 6.0)
