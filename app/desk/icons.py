"""Our own icons, assets/icons/NAME.svg, in the colours of the theme and sharp on every screen.

In the drawings, currentColor is the colour asked for and "ground" the one behind it.
"""

from functools import cache
from importlib.resources import files

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap

#: Pixels per px: sharp at twice the density and when scaled down.
DENSITY = 3


@cache
def _drawing(name: str) -> str:
    return files("assets").joinpath("icons", f"{name}.svg").read_text(encoding="utf-8")


def pixmap(name: str, colour: str, ground: str, side_px: int) -> QPixmap:
    """The icon in a square of this many px."""
    from PySide6.QtSvg import QSvgRenderer  # noqa: PLC0415 - after the window has been shown

    text = _drawing(name).replace("currentColor", colour).replace('"ground"', f'"{ground}"')
    picture = QPixmap(side_px * DENSITY, side_px * DENSITY)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    QSvgRenderer(QByteArray(text.encode())).render(painter, QRectF(picture.rect()))
    painter.end()
    picture.setDevicePixelRatio(DENSITY)
    return picture


def icon(name: str, colour: str, ground: str, side_px: int = 20) -> QIcon:
    """The same, for buttons and windows."""
    return QIcon(pixmap(name, colour, ground, side_px))
