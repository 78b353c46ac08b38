"""What becomes of each colour of the picture: a swatch and the roles in a row, one of them down."""

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from app.desk.field import WordRow
from core.job.wish import RoleOfColour
from core.patches.role import Role

if TYPE_CHECKING:
    from app.desk.desk import Desk
    from core.shown import Shown


class RolesField(QWidget):
    """Says the whole list of colours and roles whenever one of them changes."""

    said = Signal(str)

    def __init__(self, desk: "Desk") -> None:
        super().__init__()
        self._desk = desk
        self._palette: tuple[str, ...] = ()
        self._rows: dict[str, WordRow] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(4)
        desk.shown_changed.connect(self._shown)  # a method, not a lambda: it goes when the card goes

    def refresh(self) -> None:
        """One row for each colour that was found, with the role it has."""
        shown = self._desk.shown
        palette = shown.palette if shown is not None else ()
        if palette != self._palette:
            self._make_rows(palette)
        for colour, row in self._rows.items():
            row.shows(self._role(colour, shown))

    def _shown(self, _shown: object, is_old: bool) -> None:  # noqa: FBT001 - a signal's argument
        if not is_old:
            self.refresh()

    def _make_rows(self, palette: tuple[str, ...]) -> None:
        self._palette, self._rows = palette, {}
        while (item := self._grid.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        for number, colour in enumerate(palette):
            row = WordRow(tuple(Role), f"colour {colour}")
            row.said.connect(lambda role, colour=colour: self._say(colour, role))
            self._grid.addWidget(swatch_of(colour), number, 0, Qt.AlignmentFlag.AlignVCenter)
            self._grid.addWidget(row, number, 1)
            self._rows[colour] = row
        if self._rows:
            self.setFocusProxy(next(iter(self._rows.values())))

    def _role(self, colour: str, shown: "Shown | None") -> str:
        for wish in self._desk.job.shape.colours:
            if wish.colour == colour:
                return str(wish.role)
        is_ground = shown is not None and shown.palette.index(colour) == shown.ground
        return str(Role.GROUND if is_ground else Role.FILM)

    def _say(self, colour: str, role: str) -> None:
        others = [wish for wish in self._desk.job.shape.colours if wish.colour != colour]
        wishes = [*others, RoleOfColour(colour, Role(role))]
        self.said.emit("; ".join(f"{wish.colour} {wish.role} {wish.film}".strip() for wish in wishes))


def swatch_of(colour: str) -> QLabel:
    """A small field of a colour, which says its name."""
    swatch = QLabel()
    swatch.setFixedSize(24, 24)
    swatch.setStyleSheet(f"background: {colour}; border: 1px solid #808080; border-radius: 4px;")
    swatch.setAccessibleName(colour)
    swatch.setToolTip(colour)
    return swatch
