"""Which film lies on top: the films in a column as they lie, each with a button up and one down."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from app.desk.roles import swatch_of

if TYPE_CHECKING:
    from app.desk.desk import Desk


class FilmOrder(QWidget):
    """Says the names of all films from the lowest up whenever one of them is moved."""

    said = Signal(str)

    def __init__(self, desk: "Desk") -> None:
        super().__init__()
        self._desk = desk
        self._films: tuple[tuple[str, str], ...] = ()
        self.moves: dict[tuple[str, int], QPushButton] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(4, 1)
        desk.shown_changed.connect(self._shown)  # a method, not a lambda: it goes when the card goes

    @property
    def names(self) -> tuple[str, ...]:
        """The films from the lowest up, as they are wanted now."""
        return tuple(name for name, _ in self._films)

    def refresh(self) -> None:
        """One row for each film, the uppermost first."""
        films = self._wanted()
        if films != self._films:
            self._films = films
            self._make_rows()

    def _wanted(self) -> tuple[tuple[str, str], ...]:
        """Names and colours as they lie, or as the Job asks for where that is still being made."""
        shown = self._desk.shown
        films = tuple((film.name, film.colour) for film in shown.films.films) if shown is not None else ()
        rank = {name: place for place, name in enumerate(self._desk.job.film.order)}
        return tuple(sorted(films, key=lambda film: rank.get(film[0], -1)))

    def _shown(self, _shown: object, is_old: bool) -> None:  # noqa: FBT001 - a signal's argument
        if not is_old:
            self.refresh()

    def _make_rows(self) -> None:
        self.moves = {}
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        for row, (name, colour) in enumerate(reversed(self._films)):
            self._grid.addWidget(swatch_of(colour), row, 0)
            self._grid.addWidget(QLabel(name), row, 1)
            for column, (step, sign, word) in enumerate(((1, "↑", "up"), (-1, "↓", "down")), 2):
                button = QPushButton(sign)
                button.setFixedSize(34, 28)
                button.setAccessibleName(f"film {name} {word}")
                button.setEnabled(0 <= len(self._films) - 1 - row + step < len(self._films))
                button.clicked.connect(lambda _=False, name=name, step=step: self._move(name, step))
                self._grid.addWidget(button, row, column)
                self.moves[name, step] = button

    def _move(self, name: str, step: int) -> None:
        names = list(self.names)
        place = names.index(name)
        names[place], names[place + step] = names[place + step], names[place]
        self.said.emit("; ".join(names))
        if (button := self.moves.get((name, step))) is not None and button.isEnabled():
            button.setFocus()
