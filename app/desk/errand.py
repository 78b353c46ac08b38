"""Work for the disk, done beside the window: reading a file, writing a kit, keeping the Job."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal
from shiboken6 import isValid

from core.errors import SamecutError


class _Told(QObject):
    """Lives in the window's thread, so that what the errand says arrives there."""

    done = Signal(object)
    failed = Signal(str, bool)


class _Errand(QRunnable):
    def __init__(self, work: Callable[[], Any], told: _Told) -> None:
        super().__init__()
        self._work, self._told = work, told

    def run(self) -> None:
        """Do it, and tell what came of it: a result, or a sentence."""
        try:
            result = self._work()
        except SamecutError as error:
            self._told.failed.emit(str(error), False)
        except Exception as error:  # noqa: BLE001 - told to the maker, and the window lives on
            self._told.failed.emit(defect_sentence(error), True)
        else:
            self._told.done.emit(result)


def defect_sentence(error: BaseException) -> str:
    """A mistake of ours, in one sentence."""
    return f"Samecut made a mistake of its own ({type(error).__name__}: {error}); please report it."


class Errands(QObject):
    """Runs errands one after another; close() waits for the last one."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._told: set[_Told] = set()
        self._is_closed = False

    def run(
        self,
        work: Callable[[], Any],
        done: Callable[[Any], object],
        failed: Callable[[str, bool], None],
        asker: QObject | None = None,
    ) -> None:
        """Do the work elsewhere; then call done(result) or failed(sentence, is_defect) here.

        Where there is an asker, such as a card, and it has gone meanwhile, nothing is called.
        """
        if self._is_closed:
            return
        told = _Told()
        self._told.add(told)
        told.done.connect(lambda result: self._came_back(told, asker, lambda: done(result)))
        told.failed.connect(
            lambda said, is_defect: self._came_back(told, asker, lambda: failed(said, is_defect))
        )
        self._pool.start(_Errand(work, told))

    def _came_back(self, told: _Told, asker: QObject | None, tell: Callable[[], object]) -> None:
        self._told.discard(told)
        if not self._is_closed and (asker is None or isValid(asker)):
            tell()

    @property
    def are_running(self) -> bool:
        """Whether something has not come back yet."""
        return bool(self._told)

    def close(self) -> None:
        """Wait for what was begun; nothing is told any more."""
        self._is_closed = True
        self._pool.waitForDone()
        self._told.clear()
