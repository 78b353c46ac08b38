"""Recent work on a card, for when something lies on the desk already."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtWidgets import QLabel, QWidget

from app.desk.card import Popover
from app.desk.recent import Recent
from app.desk.recent_row import RecentRow


class RecentCard(Popover):
    """The same row as on the empty page; one that is pressed closes it."""

    wide_px = 960

    def __init__(self, window: QWidget, opener: QWidget, recents: Sequence[Recent]) -> None:
        super().__init__(window, opener, "Recent work")
        self.row = RecentRow("")
        self.body.addWidget(self.row)
        self.row.stand(recents)
        self.row.asked.connect(self._asked)
        self.row.forgotten.connect(lambda _path: self.shut())
        self._none = QLabel("Nothing was opened, saved or written yet.")
        self.body.addWidget(self._none)
        self._none.setVisible(not recents)

    def take_keyboard(self) -> None:
        """The newest one has it."""
        (self.row.buttons[0] if self.row.buttons else self).setFocus()

    def _asked(self, _path: Path) -> None:
        self.shut()
