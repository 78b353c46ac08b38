"""The depth strip: the cut from its first mm to its last, seen from the side, and its time in words.

From left to right lies the way of the bit below the stock's top, contour after contour and pass after pass;
downward lies the depth, drawn larger. Tabs stand as bumps in the last passes.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPaintEvent, QPen, QPolygonF, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.desk.label import lettering
from app.desk.layer import Layer
from app.desk.part_paint import tinted
from app.desk.theme import Theme, theme_of
from app.desk.view import Seen

if TYPE_CHECKING:
    from app.desk.desk import Desk
    from core.shown import Shown

HIGH_PX = 92
#: px for the words at the left.
WORDS_PX = 232.0
#: The strip stands still: it is seen from where it is.
UNMOVED = Seen(1.0, 0.0, 0.0)
#: Spoil board drawn below the deepest cut, as a share of the stock.
BOARD_SHARE = 0.35


class DepthStrip(QWidget):
    """Shows; nothing in it can be taken yet."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__()
        self.desk = desk
        self._profile: QPolygonF | None = None
        self._layer = Layer()
        self._starts: tuple[tuple[float, str], ...] = ()
        self.setAccessibleName("depth strip")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        desk.shown_changed.connect(self._take)
        self._take(desk.shown, is_old=False)

    def sizeHint(self) -> QSize:  # noqa: N802 - Qt's name
        """Low and wide."""
        return QSize(600, HIGH_PX)

    def _take(self, shown: "Shown | None", is_old: bool) -> None:  # noqa: FBT001 - a signal's argument
        if not is_old or shown is None:
            self._profile = None if shown is None else profile_of(shown)
            self.setAccessibleDescription("" if shown is None else ", ".join(words_of(shown)))
            self._layer.forget()
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Words at the left, the cut beside them: painted once, until something else is shown."""
        del event
        theme, painter = theme_of(self), QPainter(self)
        self._layer.ground = theme.colour("page")
        what = (theme.name, id(self._profile))
        self._layer.draw(painter, self, UNMOVED, what, self._paint_layer, is_hurried=False)
        if self._profile is not None and self.desk.is_old:
            painter.fillRect(self.rect(), tinted(theme, "veil", 120))
        painter.end()

    def _paint_layer(self, painter: QPainter) -> None:
        shown, theme = self.desk.shown, theme_of(self)
        if shown is not None and self._profile is not None:
            self._paint_words(painter, theme, words_of(shown))
            box = QRectF(self.rect()).adjusted(WORDS_PX, 10.0, -16.0, -10.0)
            paint_cut(painter, box, shown, self._profile, theme)

    def _paint_words(self, painter: QPainter, theme: Theme, words: tuple[str, ...]) -> None:
        painter.setFont(lettering(self))
        high = painter.fontMetrics().height() + 3.0
        top = (self.height() - high * len(words)) / 2.0
        for index, line in enumerate(words):
            painter.setPen(theme.colour("ink" if index == 0 else "quiet"))
            box = QRectF(18.0, top + index * high, WORDS_PX - 24.0, high)
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, line)


def words_of(shown: "Shown") -> tuple[str, ...]:
    """Time, length of cut, passes and tabs."""
    minutes, seconds = divmod(round(shown.seconds), 60)
    tabs, skin = len(shown.path.tabs), shown.setup.tab_rule.skin_mm
    held = f"skin of {skin:g} mm" if skin else f"{tabs} tab{'' if tabs == 1 else 's'}"
    return (
        f"{minutes} min {seconds:02d} s of cutting",
        f"{shown.path.cut_length_mm / 1000.0:.2f} m in {shown.path.passes} passes",
        f"{held} · skim {shown.setup.cutting.skim_mm:g} mm",
    )


def profile_of(shown: "Shown") -> QPolygonF:
    """(way below the top mm, z mm) of every move that cuts, in the order of the program."""
    import numpy as np  # noqa: PLC0415 - something is shown by now

    toolpath = shown.path.toolpath
    starts, ends = toolpath.starts(), toolpath.ends
    chords = np.hypot(*(ends - starts)[:, :2].T)
    lengths = chords / np.sinc(2.0 * np.arctan(toolpath.bulges) / np.pi)
    cuts = np.minimum(starts[:, 2], ends[:, 2]) < 0.0
    way = np.cumsum(np.where(cuts, lengths, 0.0))
    corners = [QPointF(0.0, 0.0)]
    corners += [QPointF(x, min(z, 0.0)) for x, z in zip(way.tolist(), ends[:, 2].tolist(), strict=True)]
    return QPolygonF(corners)


def paint_cut(painter: QPainter, box: QRectF, shown: "Shown", profile: QPolygonF, theme: Theme) -> None:
    """Stock and board in section, what the bit takes, and the line it runs on."""
    thick, deep = shown.layout.stock.thickness_mm, -shown.path.bottom_z_mm
    whole = max(profile.last().x(), 1e-6)
    down = box.height() / max(deep, thick * (1.0 + BOARD_SHARE))
    bed = box.top() + thick * down
    painter.fillRect(QRectF(box.left(), box.top(), box.width(), bed - box.top()), theme.colour("stock"))
    painter.fillRect(QRectF(box.left(), bed, box.width(), box.bottom() - bed), tinted(theme, "board", 150))
    to_box = QTransform(box.width() / whole, 0.0, 0.0, -down, box.left(), box.top())
    line, cut = to_box.map(profile), QPainterPath()
    cut.addPolygon(line)
    cut.lineTo(box.topRight())
    cut.lineTo(box.topLeft())
    painter.fillPath(cut, tinted(theme, "page", 215))
    painter.setPen(QPen(theme.colour("path"), 0))
    painter.drawPolyline(line)
    painter.setPen(QPen(theme.colour("stock_edge"), 0))
    painter.drawLine(QPointF(box.left(), bed), QPointF(box.right(), bed))
    painter.setPen(QPen(theme.colour("stock_edge"), 0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(box)
