"""A picture of what stands still, painted again only when what it depends on has changed.

While a hand zooms, or a height is dragged, a picture that was dear to paint is drawn scaled instead: soft
for a moment, but at once.
"""

from collections.abc import Callable
from time import perf_counter

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPixmap
from PySide6.QtWidgets import QWidget

from app.desk.view import Seen

#: s; what is painted quicker than this is always painted anew, and always sharp.
CHEAP_S = 0.004


class Layer:
    """Kept with what it shows and from where it is seen; None as its ground leaves it clear."""

    def __init__(self, ground: QColor | None = None) -> None:
        self.ground = ground
        self._picture: QPixmap | None = None
        self._what: object = None
        self._seen = Seen(1.0, 0.0, 0.0)
        self._cost_s = 0.0

    def forget(self) -> None:
        """Paint anew the next time."""
        self._picture = None

    def draw(  # noqa: PLR0913 - what it shows, from where, and how: each is another thing
        self,
        painter: QPainter,
        widget: QWidget,
        seen: Seen,
        what: object,
        paint: Callable[[QPainter], None],
        *,
        is_hurried: bool,
        away_px: float = 0.0,
    ) -> None:
        """Draw it, so many px to the right; a hurried one may be the last picture, scaled."""
        picture = self._kept(widget, what)
        is_other_view = picture is not None and seen != self._seen
        if picture is not None and is_other_view and is_hurried and self._cost_s > CHEAP_S:
            self._draw_scaled(painter, widget, picture, seen, away_px)
            return
        if picture is None or is_other_view:
            picture = self._painted(widget, paint)
            self._seen, self._what = seen, _whole(widget, what)
        painter.drawPixmap(QPointF(away_px, 0.0), picture)

    def _kept(self, widget: QWidget, what: object) -> QPixmap | None:
        return self._picture if self._what == _whole(widget, what) else None

    def _draw_scaled(
        self, painter: QPainter, widget: QWidget, picture: QPixmap, seen: Seen, away_px: float
    ) -> None:
        factor = seen.scale / self._seen.scale
        if self.ground is not None:
            painter.fillRect(widget.rect(), self.ground)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.translate(seen.left - self._seen.left * factor + away_px, seen.top - self._seen.top * factor)
        painter.scale(factor, factor)
        painter.drawPixmap(0, 0, picture)
        painter.restore()

    def _painted(self, widget: QWidget, paint: Callable[[QPainter], None]) -> QPixmap:
        """As large and as dense as the widget."""
        begun, ratio = perf_counter(), widget.devicePixelRatioF()
        picture = QPixmap(widget.size() * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(self.ground or Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint(painter)
        painter.end()
        self._picture, self._cost_s = picture, perf_counter() - begun
        return picture


def _whole(widget: QWidget, what: object) -> object:
    return what, widget.size().toTuple(), widget.devicePixelRatioF()
