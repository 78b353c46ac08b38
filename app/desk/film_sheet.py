"""The film as a sheet of its own, which slides off the film page and over the part as the book is closed."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QTransform

from app.desk.layer import Layer
from app.desk.page import Page
from app.desk.paths import path_of, path_of_loops, placed
from app.desk.theme import Theme
from app.desk.view import transform_of

if TYPE_CHECKING:
    from core.shown import Shown

#: px of the spine between the two pages.
SPINE_PX = 92
#: How much of what lies below the backing hides, 0 to 255: all of it on the roll, little over the part.
ON_ROLL, OVER_PART = 255, 110


@dataclass(frozen=True, eq=False)
class FilmLook:
    """Paths in the scene: the box the cutter sees, dots, films in their colours, weed lines; the copies."""

    box: QPainterPath
    dots: QPainterPath
    films: tuple[tuple[QColor, QPainterPath], ...]
    copies: tuple[QTransform, ...]
    weeding: tuple[QLineF, ...] = ()


def film_look(shown: "Shown") -> FilmLook:
    """Everything that lies on the film's sheet."""
    dots = QPainterPath()
    for mark in shown.layout.marks:
        if mark.strip is not None:
            dots.addPath(path_of_loops((mark.strip,)))
            continue
        radius = mark.film_diameter_mm / 2.0
        dots.addEllipse(QPointF(mark.at[0], -mark.at[1]), radius, radius)
    films = tuple((QColor(film.colour), path_of(film.regions)) for film in shown.films.films)
    copies = tuple(placed(copy) for copy in shown.layout.copies)
    weeding = tuple(QLineF(x, -y, to_x, -to_y) for (x, y), (to_x, to_y) in shown.weed_lines)
    return FilmLook(path_of_loops((shown.sheet_box.loop,)), dots, films, copies, weeding)


class FilmSheet:
    """The sheet painted on nothing, so that it can lie on either page."""

    def __init__(self, backing: int) -> None:
        self._backing = backing
        self._look: FilmLook | None = None
        self._layer = Layer()

    def forget(self) -> None:
        """Something else is shown."""
        self._look = None
        self._layer.forget()

    def draw(self, painter: QPainter, page: Page, away_px: float) -> None:
        """The sheet, so many px to the right of where it lies when it is not moved."""

        def paint(onto: QPainter) -> None:
            onto.setTransform(transform_of(page.seen()))
            self.paint(onto, page)

        what = (*page.still_key(), page.view.has_picture)
        self._layer.draw(painter, page, page.seen(), what, paint, is_hurried=page.is_hurried, away_px=away_px)

    def paint(self, painter: QPainter, page: Page) -> None:
        """The sheet where it lies when it is not moved; the painter stands in the scene."""
        assert page.shown is not None  # noqa: S101 - nothing is painted without
        if self._look is None:
            self._look = film_look(page.shown)
        paint_film(painter, self._look, page.theme, self._backing)


def paint_film(painter: QPainter, look: FilmLook, theme: Theme, backing: int) -> None:
    """Backing, films as flat colour, dots."""
    ground = theme.colour("film_ground")
    ground.setAlpha(backing)
    painter.setBrush(ground)
    painter.setPen(QPen(theme.colour("quiet"), 0))
    painter.drawPath(look.box)
    for colour, path in look.films:
        edge = colour.darker(125) if colour.lightnessF() > 0.25 else colour.lighter(150)
        painter.setPen(QPen(edge, 0))
        painter.setBrush(colour)
        for copy in look.copies:
            painter.drawPath(copy.map(path))
    painter.setPen(QPen(theme.colour("quiet"), 0, Qt.PenStyle.DashLine))
    painter.drawLines(list(look.weeding))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(theme.colour("mark"))
    painter.drawPath(look.dots)


def leaf_px(page: Page) -> float:
    """How far a place lies from the same place on the other page, px."""
    return float(page.width() + SPINE_PX)


def paint_film_over(painter: QPainter, page: Page, film: FilmSheet) -> None:
    """The film on the part page, as far in as the book is closed."""
    away = (1.0 - page.view.closed) * leaf_px(page)
    film.draw(painter, page, away)
