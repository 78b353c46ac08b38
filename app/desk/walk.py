"""A walk by the arrow keys: steps that follow each other soon become one step of undo."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer

if TYPE_CHECKING:
    from app.desk.desk import Desk

#: ms after the last arrow key until the Job has what was walked.
WALK_MS = 500


class Walk:
    """done() is called once when it ends; not when it is given up, or another picture lies on the desk."""

    def __init__(self, desk: "Desk", done: Callable[[], None]) -> None:
        self._desk, self._done = desk, done
        self._source: object = None
        self._timer = QTimer(singleShot=True, interval=WALK_MS)
        self._timer.timeout.connect(self.end)
        self.is_on = False

    def go_on(self) -> None:
        """Another step; True of is_on from now until the walk ends."""
        if not self.is_on:
            self._source = self._desk.source
        self.is_on = True
        self._timer.start()

    def end(self) -> None:
        """What was walked becomes the Job's; nothing where nobody walks."""
        if self.is_on:
            self.give_up()
            if self._desk.source is self._source:
                self._done()

    def give_up(self) -> None:
        """It leads nowhere."""
        self._timer.stop()
        self.is_on = False
