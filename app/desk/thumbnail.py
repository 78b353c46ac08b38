"""A small picture of the work: the part with its films on it, as it will hang there."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QIODevice, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen, QTransform

from app.desk.paths import path_of
from app.desk.theme import LIGHT

if TYPE_CHECKING:
    from core.shown import Shown

#: px, at twice the density that it is shown with; share of a side that stays free.
WIDE, HIGH, FREE = 288, 216, 0.06


def thumbnail(shown: "Shown") -> bytes:
    """PNG, clear where nothing is: it lies on either theme."""
    image = QImage(WIDE, HIGH, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    part = path_of(shown.as_cut)
    box = part.boundingRect()
    scale = (1.0 - 2.0 * FREE) * min(WIDE / max(box.width(), 1e-6), HIGH / max(box.height(), 1e-6))
    onto = QTransform(scale, 0.0, 0.0, scale, WIDE / 2.0 - box.center().x() * scale,
                      HIGH / 2.0 - box.center().y() * scale)  # fmt: skip
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setTransform(onto)
    painter.setPen(QPen(LIGHT.colour("part_edge"), 0))
    painter.setBrush(LIGHT.colour("part"))
    painter.drawPath(part)
    for film in shown.films.films:
        painter.fillPath(path_of(film.regions), QColor(film.colour))
    painter.end()
    return _png(image)


def _png(image: QImage) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload] # the stubs want bytes, Qt refuses them
    return bytes(buffer.data().data())
