"""Remembers what was worked on, with a picture, so that the next window can offer it."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from app.desk.desk import Desk
from app.desk.recent import Recent, forget, recents, remember
from core.kit.kit import FileRole

if TYPE_CHECKING:
    from core.kit.kit import Kit
    from core.shown import Shown


class Remembering(QObject):
    """Of one window; its list lies in the state folder."""

    def __init__(self, desk: Desk, failed: Callable[[str, bool], None]) -> None:
        super().__init__(desk)
        self._desk, self._failed = desk, failed
        self._state: Path | None = None
        self._last: Path | None = None
        desk.shown_changed.connect(self._shown)
        desk.saved.connect(lambda path: self._keep(Path(path)))
        desk.kit_written.connect(self._kit_written)

    def begin(self, state: Path, told: Callable[[tuple[Recent, ...]], object]) -> None:
        """Tell what is remembered there, and go on from it."""
        self._state = state
        self._desk.errands.run(lambda: recents(state), told, self._failed)

    def again(self, told: Callable[[tuple[Recent, ...]], object]) -> None:
        """Tell what is remembered by now."""
        if self._state is not None:
            self.begin(self._state, told)

    def forget(self, path: Path, told: Callable[[tuple[Recent, ...]], object]) -> None:
        """Take one off the list, and tell what stays."""
        state = self._state
        if state is None:
            return

        def work() -> tuple[Recent, ...]:
            forget(state, path)
            return recents(state)

        self._desk.errands.run(work, told, self._failed)

    def _shown(self, shown: "Shown | None", is_old: bool) -> None:  # noqa: FBT001 - a signal's argument
        """The first time that all of it is seen."""
        home = self._desk.home
        path = home.job or home.picture
        if shown is not None and not is_old and not shown.is_first_look and path and path != self._last:
            self._keep(path)

    def _kit_written(self, folder: str, kit: "Kit") -> None:
        """The Job in the kit, unless it is saved elsewhere."""
        if self._desk.home.job is None:
            jobs = [one for one in kit.report.get("files", ()) if one.get("role") == FileRole.JOB]
            for one in jobs:
                self._keep(Path(folder).absolute() / one["path"])

    def _keep(self, path: Path) -> None:
        state, shown, source = self._state, self._desk.shown, self._desk.source
        if state is None or shown is None or source is None:
            return
        from app.desk.thumbnail import thumbnail  # noqa: PLC0415 - brings numpy; something is shown by now

        self._last, png = path, thumbnail(shown)
        words = f"{path.stem}, {shown.size_mm[1]:.4g} mm"
        self._desk.errands.run(
            lambda: remember(state, path, words, source.digest, png), lambda _: None, self._failed
        )
