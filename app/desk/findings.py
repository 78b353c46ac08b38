"""The right column, worth knowing: findings worst first, each with its place and what can be done."""

from datetime import datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.desk.acts import ACTS, Act
from app.desk.card import scrolled
from app.desk.desk import Desk
from app.desk.icons import icon, pixmap
from app.desk.remedies import REMEDIES
from app.desk.theme import theme_of
from core.grouped import Group, grouped

if TYPE_CHECKING:
    from core.findings import Finding, Point
    from core.shown import Shown

#: px of the column, and of what stays of it when folded.
WIDE, NARROW = 292, 40
#: px between two buttons, and of the room for a row of them: less the scroll bar, margins and frames.
BETWEEN, BUTTONS_PX = 4, WIDE - 62


#: What stands for the place of a finding that has none.
NOWHERE = (0.0, 0.0)

#: What the column says where it has nothing to list.
NOTHING, STILL_LOOKING = "Nothing to worry about.", "Still looking …"


class FindingView(QFrame):
    """One group of findings; pressing it goes from place to place."""

    pressed = Signal(object)
    choice_asked = Signal(str)
    act_asked = Signal(object, object)

    def __init__(self, group: Group, parent: QWidget) -> None:
        super().__init__(parent)
        self.setObjectName("finding")
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.group, self._next = group, 0
        self.setAccessibleName(f"{group.level}: {group.text} {group.remedy}")
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 8)
        column.setSpacing(4)
        column.addLayout(self._heading())
        self._remedy = QLabel(group.remedy)
        self._remedy.setObjectName("quiet")
        self._remedy.setWordWrap(True)
        column.addWidget(self._remedy)
        buttons = self._buttons()
        if buttons.count():
            column.addLayout(buttons)
        if group.places:
            self.setCursor(Qt.CursorShape.PointingHandCursor)

    def next_place(self) -> bool:
        """Go to the next place of the group; False when the last one was shown before."""
        if self._next >= max(1, len(self.group.places)):
            self._next = 0
            return False
        self._choose(on=True)
        if self.group.places:
            self._where.setText(f"{self._next + 1} of {len(self.group.places)}")
            self.pressed.emit(self.group.places[self._next])
        self._next += 1
        return True

    def leave(self) -> None:
        """No longer the chosen one."""
        self._next = 0
        self._where.setText(self._places_text())
        self._choose(on=False)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """A press anywhere on it asks for its next place."""
        if event.button() is Qt.MouseButton.LeftButton and not self.next_place():
            self.next_place()

    def _choose(self, *, on: bool) -> None:
        self.setProperty("chosen", on)
        self.style().unpolish(self)
        self.style().polish(self)

    def _heading(self) -> QHBoxLayout:
        theme = theme_of(self)
        row = QHBoxLayout()
        row.setSpacing(8)
        sign = QLabel()
        level = str(self.group.level)
        sign.setPixmap(pixmap(level, str(getattr(theme, level)), theme.page, 18))
        sign.setAccessibleName(level)
        sign.setToolTip(level)
        text = QLabel(self.group.text)
        text.setWordWrap(True)
        self._where = QLabel(self._places_text())
        self._where.setObjectName("quiet")
        row.addWidget(sign, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(text, 1)
        row.addWidget(self._where, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _places_text(self) -> str:
        count = len(self.group.findings)
        return f"×{count}" if count > 1 else ""  # noqa: RUF001 - a times sign is meant

    def place(self) -> "Point":
        """The place that is looked at, the first one to begin with; mm in the frame."""
        return self.group.places[max(0, self._next - 1)] if self.group.places else NOWHERE

    def _buttons(self) -> QVBoxLayout:
        """What can be pressed, in as many rows as the column has room for."""
        acts = [act for act in ACTS.get(self.group.code, ()) if self.group.places or not act.has_place]
        made = [
            self._button(act.words, lambda act=act: self.act_asked.emit(act, self.place())) for act in acts
        ]
        made += [
            self._button(f"{remedy.words}…", lambda key=remedy.key: self.choice_asked.emit(key))
            for remedy in REMEDIES.get(self.group.code, ())
        ]
        rows = QVBoxLayout()
        rows.setSpacing(4)
        row, left = None, 0
        for button in made:
            wide = button.sizeHint().width() + BETWEEN
            if row is None or wide > left:
                row, left = QHBoxLayout(), BUTTONS_PX
                row.setSpacing(BETWEEN)
                row.addStretch(1)
                rows.addLayout(row)
            row.insertWidget(row.count() - 1, button)
            left -= wide
        return rows

    def _button(self, text: str, pressed: object) -> QPushButton:
        button = QPushButton(text, self)
        button.ensurePolished()  # its width is asked for before it is shown
        button.setAccessibleDescription(self.group.text)
        button.clicked.connect(lambda _checked=False: pressed())  # type: ignore[operator]
        return button


class FindingsColumn(QWidget):
    """place_asked((x, y) mm) to show a place; choice_asked(key) to open a choice."""

    place_asked = Signal(object)
    choice_asked = Signal(str)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.views: list[FindingView] = []
        self._is_folded = False
        self._at = -1
        self._groups: tuple[Group, ...] = ()
        self._fold = QPushButton()
        self._fold.setObjectName("plain")
        self._fold.clicked.connect(lambda _checked=False: self.fold(is_folded=not self._is_folded))
        self._heading = QLabel("worth knowing")
        self._heading.setObjectName("title")
        self._scroll = self._list()
        top = QHBoxLayout()
        top.addWidget(self._heading, 1)
        top.addWidget(self._fold)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 8, 4)
        column.addLayout(top)
        column.addWidget(self._scroll, 1)
        column.setAlignment(top, Qt.AlignmentFlag.AlignTop)
        self.fold(is_folded=False)
        desk.shown_changed.connect(self._shown)

    def fold(self, *, is_folded: bool) -> None:
        """Make room for the pages, or come back."""
        self._is_folded = is_folded
        self.setFixedWidth(NARROW if is_folded else WIDE)
        self._scroll.setVisible(not is_folded)
        self._heading.setVisible(not is_folded)
        words = "show what is worth knowing" if is_folded else "fold this column"
        self._fold.setAccessibleName(words)
        self._fold.setToolTip(words)
        self.colour()

    def colour(self) -> None:
        """Take the colours of the present theme."""
        theme = theme_of(self)
        self._fold.setIcon(icon("unfold" if self._is_folded else "fold", theme.quiet, theme.desk))
        self._show(self._groups)

    def refresh(self) -> None:
        """Tell what the last Build found; the same findings are left where they are."""
        shown = self._desk.shown
        groups = grouped(_worth_knowing(shown)) if shown is not None else ()
        is_looking = shown is not None and shown.is_first_look
        self._nothing.setText(STILL_LOOKING if is_looking else NOTHING)
        if groups != self._groups:
            self._show(groups)
        self._nothing.setVisible(not groups and shown is not None)

    def _shown(self, _shown: object, is_old: bool) -> None:  # noqa: FBT001 - a signal's argument
        if not is_old:
            self.refresh()

    def next_finding(self) -> None:
        """Go to the next place: every place of every finding, worst first, then from the beginning."""
        if not self.views:
            return
        self.fold(is_folded=False) if self._is_folded else None
        if self._at >= 0 and self.views[self._at].next_place():
            return
        if self._at >= 0:
            self.views[self._at].leave()
        self._at = (self._at + 1) % len(self.views)
        self.views[self._at].next_place()
        self._scroll.ensureWidgetVisible(self.views[self._at])

    def _show(self, groups: tuple[Group, ...]) -> None:
        self._groups, self._at = groups, -1
        for view in self.views:
            self._column.removeWidget(view)
            view.hide()
            view.deleteLater()
        self.views = [self._view(group) for group in groups]
        for place, view in enumerate(self.views):
            self._column.insertWidget(place, view)

    def _view(self, group: Group) -> FindingView:
        view = FindingView(group, self._inside)
        view.pressed.connect(self.place_asked)
        view.pressed.connect(lambda _at, view=view: self._chose(view))
        view.choice_asked.connect(self.choice_asked)
        view.act_asked.connect(self._act)
        return view

    def _chose(self, view: FindingView) -> None:
        at = self.views.index(view)
        if self._at not in (-1, at):
            self.views[self._at].leave()
        self._at = at

    def _act(self, act: object, at: object) -> None:
        shown = self._desk.shown
        if shown is not None and isinstance(act, Act) and isinstance(at, tuple):
            self._desk.propose_job(act.change(self._desk.job, shown, at), act.done)

    def _list(self) -> QScrollArea:
        self._inside = QWidget()
        self._inside.setObjectName("scrolled")
        self._column = QVBoxLayout(self._inside)
        self._column.setContentsMargins(0, 0, 6, 0)
        self._column.setSpacing(8)
        self._nothing = QLabel(NOTHING)
        self._nothing.setObjectName("quiet")
        self._nothing.hide()
        self._column.addWidget(self._nothing)
        self._column.addStretch(1)
        return scrolled(self._inside)


def _worth_knowing(shown: "Shown") -> "tuple[Finding, ...]":
    """What the Build found, and which gauges are old, which only who knows the day can say."""
    from core.job.old_gauge import old_gauge_findings  # noqa: PLC0415 - it needs arrays

    if shown.is_first_look:
        return shown.findings
    today = datetime.now().astimezone().date()
    return (*shown.findings, *old_gauge_findings(shown.job, today))
