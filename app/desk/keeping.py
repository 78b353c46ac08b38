"""The Job kept on the disk every few seconds, so that a crash costs no more than those.

Each window has a folder of its own in the user's state folder, with a lock that the system takes away
when the process dies, however it dies. A folder whose lock is free was left behind: its Job is offered.
A clean close clears the folder unless the work is in no kit.
"""

import os
import shutil
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO
from uuid import uuid4

from core.errors import SamecutError
from core.files import read_file, write_file
from core.job.job import Job, Source
from core.job.saved import PictureEntry, read_job, write_job

_JOB, _PICTURE, _FACE, _LOCK = "kept.samecut", "picture", "face", "lock"


@dataclass(frozen=True)
class Kept:
    """Work that was left: its folder, the Job and its picture."""

    folder: Path
    job: Job
    source: Source


def state_folder() -> Path:
    """Where the system keeps what programs remember."""
    from platformdirs import user_state_path  # noqa: PLC0415 - after the window has been shown

    return user_state_path("samecut", appauthor=False) / "desk"


class Keeper:
    """Keeps one window's Job; keep() may run on another thread than the rest, one call at a time."""

    def __init__(self, state: Path) -> None:
        self._state = state
        self._folder = state / uuid4().hex
        self._lock: IO[bytes] | None = None
        self._written: dict[str, str] = {}

    def keep(self, job: Job, source: Source) -> None:
        """Write the Job, and the picture where it is another. Raises Unwritable."""
        if self._lock is None:
            self._folder.mkdir(parents=True, exist_ok=True)
            self._lock = _locked(self._folder / _LOCK)
        picture = self._entry(_PICTURE, source)
        face = self._entry(_FACE, source.face) if source.face else None
        write_file(self._folder / _JOB, write_job(job, picture, face=face).encode())

    def _entry(self, name: str, source: Source) -> PictureEntry:
        """The picture, written under this name where another was."""
        if self._written.get(name) != source.digest:
            write_file(self._folder / name, source.data)
            self._written[name] = source.digest
        return PictureEntry(name, source.digest)

    def close(self, *, is_done: bool) -> None:
        """Let go of the folder; clear it when the work is done."""
        if self._lock is not None:
            self._lock.close()
            self._lock = None
            if is_done:
                clear(self._folder)

    def left(self) -> Kept | None:
        """The newest work that a window left behind; what cannot be read is cleared."""
        for folder in self._left_folders():
            try:
                return _read(folder)
            except SamecutError:
                clear(folder)
        return None

    def _left_folders(self) -> list[Path]:
        if not self._state.is_dir():
            return []
        folders = [entry for entry in self._state.iterdir() if entry.is_dir() and _is_free(entry / _LOCK)]
        return sorted(folders, key=_age, reverse=True)


def clear(folder: Path) -> None:
    """The folder is gone, if it can be."""
    shutil.rmtree(folder, ignore_errors=True)


def _age(folder: Path) -> float:
    with suppress(OSError):
        return (folder / _JOB).stat().st_mtime
    return 0.0


def _read(folder: Path) -> Kept:
    saved = read_job(read_file(folder / _JOB).decode("utf-8", "replace"), "the work that was left")
    data = read_file(folder / saved.picture.path)
    face = read_file(folder / saved.face.path) if saved.face else None
    return Kept(folder, saved.job, saved.source(data, "the work that was left", face))


def _locked(path: Path) -> IO[bytes]:
    file = path.open("wb")
    with suppress(OSError):
        _lock(file)
    return file


def _is_free(path: Path) -> bool:
    """Whether nobody holds the lock; a folder without one is somebody's first moment."""
    try:
        with path.open("r+b") as file:
            _lock(file)
            return True
    except OSError:
        return False


def _lock(file: IO[bytes]) -> None:
    """Take the lock or raise OSError."""
    if os.name == "nt":
        import msvcrt  # noqa: PLC0415 - only there

        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
        return
    import fcntl  # noqa: PLC0415 - not there

    fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
