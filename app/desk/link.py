"""The window's end of the building process: asks without waiting, hears it, replaces it when it dies."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any, Protocol

from PySide6.QtCore import QObject, QSocketNotifier, QTimer, Signal

from app.worker import Answer, FirstLook, Progress, Wanted, Worker
from core.job.job import Job, Source

#: Where pipes cannot be watched (Windows), they are looked at this often, ms.
LOOK_MS = 15
#: A process that dies this often in a row on the same question is not asked it again.
MOST_DEATHS = 2


class Builds(Protocol):
    """What the window needs of a building process; app.worker.Worker is one."""

    @property
    def connection(self) -> Any:
        """Has fileno(), readable when there is something to receive."""

    def ask(self, wanted: Wanted, job: Job, source: Source, over: Path | None = None) -> int:
        """Ask; the number of the request. over: the folder that a kit is for."""

    def give_up(self) -> None:
        """Nothing that was asked is wanted any more."""

    def receive(self) -> Progress | FirstLook | Answer | None:
        """The next thing said, or None. Raises EOFError when the process is gone."""

    def close(self) -> None:
        """End it."""


class Link(QObject):
    """One question at a time; the newest wins. Answers to older ones are never told."""

    answered = Signal(object)
    looked = Signal(object)
    stage_changed = Signal(str)
    died = Signal(bool)

    def __init__(self, start: Callable[[], Builds] = Worker, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._start = start
        self._process: Builds | None = None
        self._watch: QObject | None = None
        self._question: tuple[Wanted, Job, Source, Path | None] | None = None
        self._number = 0
        self._deaths = 0
        self._is_open = False

    @property
    def is_asked(self) -> bool:
        """Whether an answer is still to come."""
        return self._question is not None

    def open(self) -> None:
        """Start the process, and ask what was asked before it was there."""
        self._is_open = True
        if self._process is not None:
            return
        self._process = self._start()
        self._watch = self._watching(self._process)
        if self._question is not None:
            self._number = self._process.ask(*self._question)

    def ask(self, wanted: Wanted, job: Job, source: Source, over: Path | None = None) -> None:
        """Ask this; whatever was asked before is given up. A process that was given up is tried once more."""
        self._question, self._deaths = (wanted, job, source, over), 0
        if self._process is not None:
            self._number = self._process.ask(*self._question)
        elif self._is_open:
            self.open()

    def give_up(self) -> None:
        """Nothing is wanted any more."""
        self._question = None
        if self._process is not None:
            self._process.give_up()

    def close(self) -> None:
        """End the process."""
        self._is_open = False
        process = self._leave()
        if process is not None:
            process.close()

    def _watching(self, process: Builds) -> QObject:
        if os.name == "nt":
            timer = QTimer(self)
            timer.timeout.connect(self._hear)
            timer.start(LOOK_MS)
            return timer
        watch = QSocketNotifier(process.connection.fileno(), QSocketNotifier.Type.Read, self)
        watch.activated.connect(self._hear)
        return watch

    def _hear(self) -> None:
        try:
            while self._process is not None and (said := self._process.receive()) is not None:
                self._tell(said)
        except (EOFError, OSError):
            self._replace()

    def _tell(self, said: Progress | FirstLook | Answer) -> None:
        if self._question is None or said.number != self._number:
            return
        if isinstance(said, Progress):
            self.stage_changed.emit(said.stage)
            return
        if isinstance(said, FirstLook):
            self.looked.emit(said)
            return
        self._question = None
        self.answered.emit(said)

    def _replace(self) -> None:
        dead = self._leave()
        if dead is not None:
            dead.close()
        self._deaths += 1
        is_hopeless = self._deaths >= MOST_DEATHS
        if is_hopeless:  # a process that cannot even start must not be started for ever
            self._question = None
        else:
            self.open()
        self.died.emit(is_hopeless)

    def _leave(self) -> Builds | None:
        process, self._process = self._process, None
        if isinstance(self._watch, QSocketNotifier):
            self._watch.setEnabled(False)
        elif isinstance(self._watch, QTimer):
            self._watch.stop()
        if self._watch is not None:
            self._watch.deleteLater()
        self._watch = None
        return process
