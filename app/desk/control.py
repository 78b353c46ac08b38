"""One choice to look at and change: name, field, the other unit, the way back to the default, why it matters.

It draws the Job and proposes the next one; what is refused is said beside the field, and the last good
value stays.
"""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from app.desk.desk import Desk
from app.desk.field import Field, TextField, field_for
from app.desk.film_order import FilmOrder
from app.desk.names import name_of
from app.desk.roles import RolesField
from app.desk.spoken import other_unit, said
from core.errors import SamecutError
from core.job.job import CHOICES, Job

#: Choices with a field of their own, which says what the Desk shows.
_OWN_FIELDS: dict[str, type[RolesField] | type[FilmOrder]] = {
    "shape.colours": RolesField,
    "film.order": FilmOrder,
}
#: Width of the column of names, px.
NAME_PX = 168


class Control(QWidget):
    """The control of the choice with this key."""

    def __init__(self, desk: Desk, key: str) -> None:
        super().__init__()
        self.setObjectName(f"control {key}")
        self._desk, self._choice, self._name = desk, CHOICES[key], name_of(key)
        own = _OWN_FIELDS.get(key)
        self.field: Field | RolesField | FilmOrder = (
            own(desk) if own is not None else field_for(self._choice, self._name)
        )
        self._other, self._refused = _label("other"), _label("refused")
        self._back = self._back_button()
        self._lay_out()
        self.field.said.connect(self._propose)
        desk.job_changed.connect(self.refresh)
        self.refresh(desk.job)

    @property
    def key(self) -> str:
        """GROUP.CHOICE."""
        return self._choice.key

    @property
    def refused(self) -> str:
        """Why the last text was refused; empty when it was not."""
        return "" if self._refused.isHidden() else self._refused.text()

    def refresh(self, job: Job) -> None:
        """Show the Job's value, saying nothing."""
        value = job.value(self.key)
        if isinstance(self.field, RolesField | FilmOrder):
            self.field.refresh()
        else:
            self.field.shows(self._shown_text(job))
        self._other.setText(other_unit(self._choice, value))
        self._back.setVisible(not job.gives_way(self.key))
        self._refused.hide()

    def _shown_text(self, job: Job) -> str:
        value = job.value(self.key)
        text = said(self._choice, value)
        is_empty = isinstance(self.field, TextField) and text == "auto"
        return "" if is_empty else text

    def _propose(self, text: str) -> None:
        try:
            self._desk.propose(self.key, text)
        except SamecutError as error:
            self._refused.setText(str(error).removeprefix(f"{self.key}: "))
            self._refused.show()
            return
        self._refused.hide()
        if not isinstance(self.field, RolesField | FilmOrder):
            self.field.keep()
        self.refresh(self._desk.job)

    def _give_back(self) -> None:
        """The default itself, not its value typed: what gives way to other choices does so again."""
        self._desk.propose_default(self.key)
        self._refused.hide()
        if not isinstance(self.field, RolesField | FilmOrder):
            self.field.keep()
        self.refresh(self._desk.job)

    def _back_button(self) -> QPushButton:
        default = self._choice.default_text or "none"
        says_it = isinstance(self.field, TextField) and len(default) < 10
        button = QPushButton(f"↺ {default}" if says_it else "↺")  # words stand in a row, and need the room
        button.setObjectName("plain")
        button.setToolTip(f"Differs from the default, {default}; press to give that back.")
        button.setAccessibleName(f"{self._name}: back to {default}")
        button.clicked.connect(self._give_back)
        return button

    def _lay_out(self) -> None:
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 6)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(2)
        name = QLabel(self._name)
        name.setFixedWidth(NAME_PX)
        name.setWordWrap(True)
        name.setBuddy(self.field)
        self.field.setAccessibleName(self._name)
        self.field.setAccessibleDescription(self._choice.help)
        self.field.setToolTip(f"Takes {self._choice.limits()}.")
        help_line = _label("help")
        help_line.setText(self._choice.help)
        grid.addWidget(name, 0, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(self.field, 0, 1)
        grid.addWidget(self._other, 0, 2)
        grid.addWidget(self._back, 0, 3)
        grid.addWidget(self._refused, 1, 1, 1, 3)
        grid.addWidget(help_line, 2, 1, 1, 3)
        grid.setColumnStretch(2, 1)


def _label(name: str) -> QLabel:
    label = QLabel()
    label.setObjectName(name)
    label.setWordWrap(name != "other")
    return label
