"""Pieces of film in the hand: a press chooses one, keys leave it out, take it in, join it, recolour it."""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from app.desk.paths import path_of, placed
from app.desk.theme import Theme
from app.desk.view import Seen, transform_of

if TYPE_CHECKING:
    from app.desk.page import Page
    from core.findings import Point
    from core.outline.region import Region
    from core.shown import Shown

#: px of the ring where a piece was left out, and within which it is taken.
RING_PX, REACH_PX = 7.0, 12.0
#: mm within which a place of the Job is that of a piece which was left out.
SAME_MM = 0.5


@dataclass(frozen=True)
class Piece:
    """A piece of the first copy: of which film, a place well inside it, its area; region None: left out."""

    film: str
    at: "Point"
    area_mm2: float
    region: "Region | None"


class FilmPieces:
    """The pieces of one page's films; chosen is the one that keys act on."""

    def __init__(self, page: "Page") -> None:
        self._page = page
        self._pieces: tuple[Piece, ...] | None = None
        self._paths: dict[int, QPainterPath] = {}
        self.chosen: int | None = None

    def forget(self) -> None:
        """Other films: what was chosen is looked for in its place."""
        before = None if self.chosen is None or self._pieces is None else self._pieces[self.chosen]
        self._pieces, self._paths, self.chosen = None, {}, None
        if before is not None and self._page.shown is not None:
            self.chosen = self.at(before.at)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Every piece, and after them those that were left out."""
        if self._pieces is None:
            self._pieces = _pieces_of(self._page.shown) if self._page.shown is not None else ()
        return self._pieces

    def at(self, point: "Point") -> int | None:
        """The piece here, the uppermost film's, of any copy; else one that was left out here."""
        own = self._on_first_copy(point)
        spot = QPointF(own[0], -own[1])
        for index in range(len(self.pieces) - 1, -1, -1):
            if self.pieces[index].region is not None and self._path(index).contains(spot):
                return index
        reach = REACH_PX / self._page.seen().scale
        gaps = [
            (math.dist(piece.at, own), index)
            for index, piece in enumerate(self.pieces)
            if piece.region is None
        ]
        nearest = min(gaps, default=(math.inf, -1))
        return nearest[1] if nearest[0] <= reach else None

    def choose(self, point: "Point") -> None:
        """Choose the piece here, or none."""
        self.chosen = self.at(point)
        self._tell()

    def keyed(self, key: Qt.Key) -> bool:
        """Return chooses the next; Delete leaves out or takes in; J joins; F gives it to the next film."""
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if not self.pieces:
                return False
            self.chosen = 0 if self.chosen is None else (self.chosen + 1) % len(self.pieces)
            self._tell()
        elif self.chosen is None:
            return False
        elif key is Qt.Key.Key_Escape:
            self.chosen = None
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._turn(self.pieces[self.chosen])
        elif key is Qt.Key.Key_J:
            self._join(self.pieces[self.chosen])
        elif key is Qt.Key.Key_F:
            self._recolour(self.pieces[self.chosen])
        else:
            return False
        self._page.update()
        return True

    def said_of(self, index: int) -> str:
        """What a piece is, and what can be done with it."""
        piece = self.pieces[index]
        what = f"film {piece.film} · piece of {piece.area_mm2:.1f} mm²"
        if piece.region is None:
            is_by_hand = self._word_about(piece) is not None
            return f"{what}, left out" + (" · Delete takes it in" if is_by_hand else " for its size")
        return what

    def paint(self, painter: QPainter, seen: Seen, theme: Theme) -> None:
        """The chosen piece's outline, and rings where pieces were left out; the painter stands in px."""
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for index, piece in enumerate(self.pieces):
            is_chosen = index == self.chosen
            if piece.region is None:
                painter.setPen(
                    QPen(theme.colour("accent" if is_chosen else "quiet"), 1.5, Qt.PenStyle.DashLine)
                )
                painter.drawEllipse(seen.of(*piece.at), RING_PX, RING_PX)
            elif is_chosen:
                outline = transform_of(seen).map(self._path(index))
                for colour, width in (("page", 5.0), ("accent", 2.0)):
                    painter.setPen(QPen(theme.colour(colour), width))
                    painter.drawPath(outline)

    # how it is done

    def _path(self, index: int) -> QPainterPath:
        if index not in self._paths:
            region = self.pieces[index].region
            self._paths[index] = path_of((region,)) if region is not None else QPainterPath()
        return self._paths[index]

    def _on_first_copy(self, point: "Point") -> "Point":
        """The same place of the first copy, where the point lies on another's film."""
        shown = self._page.shown
        assert shown is not None  # noqa: S101 - asked only with something shown
        spot = QPointF(point[0], -point[1])
        for copy in shown.layout.copies[1:]:
            back, is_one = placed(copy).inverted()
            on = back.map(spot)
            if is_one and any(
                self._path(index).contains(on)
                for index, piece in enumerate(self.pieces)
                if piece.region is not None
            ):
                return on.x(), -on.y()
        return point

    def _word_about(self, piece: Piece) -> "Point | None":
        """The Job's own place for a piece that was left out by hand."""
        shown = self._page.shown
        if shown is None:
            return None
        reach = max(SAME_MM, math.sqrt(piece.area_mm2))
        places = self._page.desk.job.film.dropped
        gaps = [(math.dist(shown.place.of(place), piece.at), place) for place in places]
        nearest = min(gaps, default=None)
        return nearest[1] if nearest is not None and nearest[0] <= reach else None

    def _turn(self, piece: Piece) -> None:
        """Leave a piece out, or take one in that a hand had left out."""
        shown, desk = self._page.shown, self._page.desk
        if shown is None:
            return
        places = desk.job.film.dropped
        if piece.region is not None:
            words = f"piece of film {piece.film} left out"
            desk.propose_value("film.dropped", (*places, _px(shown, piece.at)), words)
        elif (word := self._word_about(piece)) is not None:
            others = tuple(place for place in places if place != word)
            desk.propose_value("film.dropped", others, f"piece of film {piece.film} taken in")

    def _join(self, piece: Piece) -> None:
        """A bridge to the nearest piece of its film."""
        shown, desk = self._page.shown, self._page.desk
        if shown is not None and piece.region is not None:
            places = (*desk.job.film.joined, _px(shown, piece.at))
            desk.propose_value("film.joined", places, f"piece of film {piece.film} joined to the nearest")

    def _recolour(self, piece: Piece) -> None:
        """Its patch goes to the next film."""
        from app.desk.picture_layer import with_role  # noqa: PLC0415 - it brings the tools of the picture
        from core.patches.role import Role  # noqa: PLC0415 - with the first Shown

        shown, desk = self._page.shown, self._page.desk
        if shown is None or piece.region is None:
            return
        names = [film.name for film in shown.films.films]
        following = names[(names.index(piece.film) + 1) % len(names)]
        if following == piece.film:
            return
        if shown.film_outline is not shown.outline:
            self._page.view.told.emit("patches of a second picture have their roles in the card of the films")
            return
        patches = with_role(shown, desk.job.shape.patches, piece.at, Role.FILM, following)
        desk.propose_value("shape.patches", patches, f"patch of film {piece.film} given to film {following}")

    def _tell(self) -> None:
        if self.chosen is not None:
            is_there = self.pieces[self.chosen].region is not None
            words = self.said_of(self.chosen) + (" · Delete, J joins, F next film" if is_there else "")
            self._page.setAccessibleDescription(words)
            self._page.view.told.emit(words)


def _pieces_of(shown: "Shown") -> tuple[Piece, ...]:
    """Those of the lowest film first, then all that were left out."""
    made = [
        Piece(film.name, _inside(region), region.area(), region)
        for film in shown.films.films
        for region in film.regions
    ]
    made += [
        Piece(film.name, one.at, one.area_mm2, None) for film in shown.films.films for one in film.dropped
    ]
    return tuple(made)


def _inside(region: "Region") -> "Point":
    """A place inside the piece, the frame, mm."""
    from core.outline.polygon import to_polygon  # noqa: PLC0415 - brings numpy; something is shown by now

    at = to_polygon((region,), 0.01).point_on_surface()
    return float(at.x), float(at.y)


def _px(shown: "Shown", at: "Point") -> "Point":
    x, y = shown.place.back(at)
    return round(max(x, 0.0), 2), round(max(y, 0.0), 2)
