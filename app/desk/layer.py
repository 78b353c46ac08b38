"""A picture of what stands still, painted again only when what it depends on has changed."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPixmap
from PySide6.QtWidgets import QWidget


class Layer:
    """Kept with the key that it was painted for; None as its ground leaves it clear."""

    def __init__(self) -> None:
        self._picture: QPixmap | None = None
        self._key: object = None

    def forget(self) -> None:
        """Paint anew the next time."""
        self._picture = None

    def picture(
        self, widget: QWidget, key: object, ground: QColor | None, paint: Callable[[QPainter], None]
    ) -> QPixmap:
        """As large and as dense as the widget."""
        ratio = widget.devicePixelRatioF()
        whole = (key, widget.size().toTuple(), ratio)
        if self._picture is None or whole != self._key:
            self._picture = _painted(widget, ratio, ground, paint)
            self._key = whole
        return self._picture


def _painted(
    widget: QWidget, ratio: float, ground: QColor | None, paint: Callable[[QPainter], None]
) -> QPixmap:
    picture = QPixmap(widget.size() * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(ground or Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    paint(painter)
    painter.end()
    return picture
