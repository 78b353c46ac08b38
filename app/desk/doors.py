"""The ways in: a file chosen, dropped, pasted or worked on lately, and the demo.

What comes in takes the place of what lies on the desk. Where that is saved nowhere, the maker is asked, once.
"""

from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QMimeData, QObject
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFileDialog

from app.desk.filing import work_name
from app.desk.incoming import PICTURES, found_in
from app.desk.leave_card import LeaveCard
from app.desk.lost_card import LostCard
from app.desk.recent import Recent
from app.desk.recent_card import RecentCard
from app.desk.remembering import Remembering
from core.job.job import Source

if TYPE_CHECKING:
    from app.desk.history import Step
    from app.desk.window import DeskWindow

_KINDS = f"Pictures and Jobs ({PICTURES} *.samecut)"


class Doors(QObject):
    """Of one window."""

    def __init__(self, window: "DeskWindow") -> None:
        super().__init__(window)
        self._window, self._desk = window, window.desk
        self._asked_about: Step | None = None
        self._lost: LostCard | None = None
        self.recents: tuple[Recent, ...] = ()
        self._memory = Remembering(self._desk, window.fail)
        self._desk.make_room = self._make_room
        self._desk.picture_lost.connect(self._ask_where)
        first = window.first
        first.open_asked.connect(self.ask_for_file)
        first.paste_asked.connect(self.paste)
        first.demo_asked.connect(self.open_demo)
        first.recent.asked.connect(self.open)
        first.recent.forgotten.connect(self.forget)

    def begin(self, state: Path) -> None:
        """Show what was worked on lately, which lies in this folder."""
        self._memory.begin(state, self._list)

    def forget(self, path: Path) -> None:
        """Take it off the list of recent work."""
        self._memory.forget(path, self._list)

    def show_recent(self) -> None:
        """Recent work on a card, when something lies on the desk already."""
        self._memory.again(self._list_on_card)

    def ask_for_file(self) -> None:
        """Let the maker choose a file."""
        path, _ = QFileDialog.getOpenFileName(self._window, "Open a picture or a Job", "", _KINDS)
        if path:
            self.open(Path(path))

    def paste(self) -> None:
        """Take the picture or file that was copied."""
        found = found_in(QGuiApplication.clipboard().mimeData(), "pasted.png")
        if found is None:
            self._window.notice.say("There is no picture to paste; copy one first.")
        else:
            self.open(found)

    def open_demo(self) -> None:
        """Open the picture that comes along."""
        self.open(Source("turtle.png", files("assets").joinpath("demo", "turtle.png").read_bytes()))

    def drop(self, data: QMimeData, *, is_second: bool) -> bool:
        """Take what was dropped; is_second: it is to give the films of the picture that lies there."""
        found = found_in(data, "dropped.png")
        if found is None:
            return False
        if self._lost is not None and isinstance(found, Path):
            self._lost.point(found)
        elif is_second and self._desk.source is not None:
            self._take_second(found)
        else:
            self.open(found)
        return True

    def open(self, what: Path | Source) -> None:
        """Put it on the desk, in the place of what lies there."""
        if isinstance(what, Path):
            self._desk.open_path(what)
        else:
            self._desk.open_bytes(what.name, what.data)

    def _take_second(self, what: Path | Source) -> None:
        if isinstance(what, Path):
            self._desk.open_face(what)
        else:
            self._desk.take_face(what)

    def _make_room(self, go_on: Callable[[], None]) -> None:
        """Go on at once, unless what lies there is saved nowhere and was not asked about yet."""
        step = self._desk.step
        if not self._desk.has_unsaved or step is self._asked_about:
            go_on()
            return
        card = LeaveCard(self._window, self._window.strip.kit, work_name(self._desk), "Open the other")
        card.leave_asked.connect(lambda: self._leave(step, go_on))
        card.save_asked.connect(lambda: self._save_first(go_on))
        self._window.stand(card)
        card.save.setFocus()

    def _leave(self, step: "Step", go_on: Callable[[], None]) -> None:
        self._asked_about = step
        go_on()

    def _save_first(self, go_on: Callable[[], None]) -> None:
        """Save; the other comes when that is done, and not where nothing was saved."""

        def saved(_path: str) -> None:
            self._desk.saved.disconnect(saved)
            go_on()

        if self._window.save():
            self._desk.saved.connect(saved)

    def _ask_where(self, job: Path, sentence: str) -> None:
        card = LostCard(self._window, self._window.strip.kit, job, sentence)
        card.pointed.connect(lambda picture: self._desk.open_path(job, picture))
        card.closed.connect(self._found)
        self._lost = card
        self._window.stand(card)
        card.show_it.setFocus()

    def _found(self) -> None:
        self._lost = None

    def _list(self, recents: tuple[Recent, ...]) -> None:
        self.recents = recents
        self._window.first.recent.stand(recents)

    def _list_on_card(self, recents: tuple[Recent, ...]) -> None:
        self._list(recents)
        card = RecentCard(
            self._window, self._window.strip.brackets.get("picture", self._window.strip), recents
        )
        card.row.asked.connect(self.open)
        card.row.forgotten.connect(self.forget)
        self._window.stand(card)
        card.take_keyboard()
