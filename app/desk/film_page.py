"""The film page: what the knife cuts, in the colours of the films, with the dots that find the holes."""

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter

from app.desk.film_pieces import FilmPieces
from app.desk.film_sheet import ON_ROLL, FilmSheet, leaf_px
from app.desk.film_weeds import FilmWeeds, beside
from app.desk.label import paint_label
from app.desk.page import REACH_PX, Page
from app.desk.part_page import BESIDE
from app.desk.picture_layer import PictureLayer
from app.desk.theme import Theme
from app.desk.view import CommonView, Seen

if TYPE_CHECKING:
    from app.desk.desk import Desk
    from core.sheet.mark import Mark


class FilmPage(Page):
    """Films in flat colour on one sheet; the picture and its patches with P."""

    def __init__(self, desk: "Desk", view: CommonView) -> None:
        self._film = FilmSheet(ON_ROLL)
        self._pointer: QPointF | None = None
        super().__init__(desk, view, "film page")
        self._picture = PictureLayer(self, is_clean=True)
        self._pieces = FilmPieces(self)
        self._weeds = FilmWeeds(self)
        self._weeds.take_up(self.shown)

    def title(self) -> tuple[str, str]:
        """The films, and the box that the cutter's program shows."""
        assert self.shown is not None  # noqa: S101 - a page without anything shown has no title
        if self.view.has_picture:
            return self._picture.title()
        width, height = self.shown.sheet_box.size_mm
        films = self.shown.films.films
        names = films[0].name if len(films) == 1 else f"{len(films) or 'no'} films"
        behind = " · cut mirrored" if self.shown.job.film.side == "behind" else ""
        return "Film on your roll", f"{width:g} \u00d7 {height:g} mm box · {names}{behind}"

    def fold_side(self) -> Qt.Edge:
        """The film lies on the right."""
        return Qt.Edge.LeftEdge

    def shown_anew(self) -> None:
        """Other films."""
        self._film.forget()
        self._picture.forget()
        self._pieces.forget()
        self._weeds.take_up(self.shown)

    def still_stamp(self) -> object:
        """The picture is part of the still layer, and the film while the book is open."""
        return self.view.has_picture, self.view.closed == 0.0

    def paint_still(self, painter: QPainter, theme: Theme) -> None:
        """The picture, where it is wanted; else the film, unless it is being moved."""
        if self.view.has_picture:
            self._picture.paint(painter, theme, self.seen().scale)
        elif self.view.closed == 0.0:
            self._film.paint(painter, self)

    def paint_moving(self, painter: QPainter, seen: Seen, theme: Theme) -> None:
        """The film, as far as the book is open, and the box's size."""
        if self.view.closed > 0.0 and not self.view.has_picture:
            self._film.draw(painter, self, -self.view.closed * leaf_px(self))
        elif self.view.closed == 0.0 and not self.view.has_picture:
            self._pieces.paint(painter, seen, theme)
            self._weeds.paint(painter, seen, theme, self._line_at(self._pointer))
        self._picture.paint_hovered(painter, self._pointer, seen, theme)

    def paint_words(self, painter: QPainter, seen: Seen, theme: Theme) -> None:
        """Beside the weed line in the hand, else beside the pointer."""
        if (in_hand := self._weeds.said_in_hand()) is not None:
            paint_label(painter, self, beside(seen.of(*in_hand[0])), in_hand[1], theme)
        elif self._pointer is not None and (words := self.named_at(self._pointer)):
            paint_label(painter, self, self._pointer + BESIDE, words, theme)

    def named_at(self, at: QPointF) -> str:
        """A patch of the picture, a dot, a film, or a weed line."""
        if self.shown is None or self.view.closed >= 0.5:
            return ""
        point = self.seen().back(at)
        if self.view.has_picture:
            return self._picture.named_at(point)
        line = self._line_at(at)
        if line is not None and self._weeds.hand is not None:
            return self._weeds.hand.lines.said_of(line)
        return self._dot_at(point) or self._film_at(point)

    def _line_at(self, at: QPointF | None) -> int | None:
        """The weed line under the pointer, where no piece of film lies."""
        if at is None or self.shown is None or self.view.closed > 0.0:
            return None
        point = self.seen().back(at)
        line = self._weeds.at(point, REACH_PX / 2.0 / self.seen().scale)
        return line if line is not None and self._pieces.at(point) is None else None

    def _dot_at(self, point: tuple[float, float]) -> str:
        assert self.shown is not None  # noqa: S101 - named_at asks so
        for mark in self.shown.layout.marks:
            if math.dist(mark.at, point) <= max(mark.film_diameter_mm, REACH_PX / self.seen().scale) / 2.0:
                return _mark_words(mark)
        return ""

    def _film_at(self, point: tuple[float, float]) -> str:
        found = self._pieces.at(point)
        return self._pieces.said_of(found) if found is not None else ""

    def pressed(self, at: QPointF) -> bool:
        """A patch of the picture; or choose a piece of film, by which the page is moved all the same."""
        point = self.seen().back(at)
        if self.view.has_picture:
            return self._picture.pressed(point)
        if self.view.closed > 0.0:
            return False
        self.update()
        if self._line_at(at) is not None:
            self._pieces.chosen = None
            return self._weeds.pressed(point, REACH_PX / 2.0 / self.seen().scale)
        self._weeds.leave()
        self._pieces.choose(point)
        return False

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Another weed line, where no film lies."""
        point = self.seen().back(event.position())
        is_waste = self.shown is not None and not self.view.has_picture and self.view.closed == 0.0
        if not (is_waste and self._pieces.at(point) is None and self._weeds.add(point)):
            self.mousePressEvent(event)
        self.update()

    def dragged(self, at: QPointF) -> None:
        """A stroke of the picture's tool, or a weed line up and down."""
        if self.view.has_picture:
            self._picture.hand.dragged(self.seen().back(at))
        elif self._weeds.is_dragged:
            self._weeds.dragged(self.seen().back(at))

    def released(self, at: QPointF) -> None:
        """What the tool drew becomes the Job's, or the line's height."""
        del at
        self._weeds.released()
        if self.view.has_picture:
            self._picture.hand.released()
            self.update()

    def keyed(self, event: QKeyEvent) -> bool:
        """Keys of the picture's tool, or of the chosen piece or weed line."""
        if self.shown is None:
            return False
        if not self.view.has_picture:
            return self.view.closed == 0.0 and self._keyed_on_film(Qt.Key(event.key()), event.modifiers())
        return self._picture.hand.keyed(Qt.Key(event.key()), event.modifiers())

    def _keyed_on_film(self, key: Qt.Key, modifiers: Qt.KeyboardModifier) -> bool:
        spot = self.seen().back(self._pointer) if self._pointer is not None else None
        if self._weeds.keyed(key, modifiers, spot):
            self._pieces.chosen = None
            return True
        if self._pieces.keyed(key):
            self._weeds.leave()
            return True
        return False

    def end_walks(self) -> None:
        """Of a weed line, of what was drawn on the picture."""
        self._picture.hand.end_walk()
        self._weeds.end_walk()

    def focusOutEvent(self, event: QFocusEvent) -> None:  # noqa: N802 - Qt's name
        """A walk ends where the hand goes elsewhere."""
        self.end_walks()
        super().focusOutEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Remember the pointer for the words beside it."""
        self._pointer = event.position()
        super().mouseMoveEvent(event)
        self.freshen(self._pointer.y())
        if self.view.has_picture:
            self.update()  # another patch may be outlined, and patches are large

    def leaveEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Nothing is under the pointer any more."""
        self._pointer = None
        self.update()
        super().leaveEvent(event)


def _mark_words(mark: "Mark") -> str:
    """What a mark of the film is for."""
    if mark.kind == "edge":
        return f"sight edge · {mark.film_diameter_mm:g} mm wide, beside the part"
    name = "key" if mark.is_key else "plain"
    if mark.kind == "blind":
        return f"{name} ring · {mark.film_diameter_mm:g} mm, lies over a pin"
    if mark.kind == "film":
        return f"{name} dot · {mark.film_diameter_mm:g} mm, the bit is jogged over it"
    dot = "key dot" if mark.is_key else "dot"
    return f"{dot} · {mark.film_diameter_mm:g} mm, lies in a hole of {mark.diameter_mm:g}"
