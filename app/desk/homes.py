"""Where a Job and its picture lie on the disk, and how the Job is saved there.

A saved Job names its picture by the way from the Job to it. A picture that has no file, since it was pasted
or came along, is put beside the Job.
"""

import os
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path, PurePath

from app.opened import Opened
from core.errors import UnreadableFile
from core.files import read_file, write_file
from core.job.job import Job, Source
from core.job.saved import SUFFIX, PictureEntry, is_relative, write_job


@dataclass(frozen=True)
class Home:
    """The files of the Job, of its picture and of the second one; None where there is none yet."""

    job: Path | None = None
    picture: Path | None = None
    face: Path | None = None

    @property
    def folder(self) -> Path | None:
        """Where what belongs to the work is likely wanted."""
        known = self.job or self.picture
        return known.parent if known is not None else None


def home_of(path: Path, found: Opened) -> Home:
    """The home of what was opened from a file, a Job or a picture."""
    is_job = path.suffix.casefold() == SUFFIX
    return Home(path.absolute() if is_job else None, _absolute(found.picture), _absolute(found.face))


def _absolute(path: Path | None) -> Path | None:
    return path.absolute() if path is not None else None


def with_suffix(path: Path) -> Path:
    """The path as that of a Job."""
    return path if path.suffix.casefold() == SUFFIX else path.with_name(path.name + SUFFIX)


def save(path: Path, job: Job, source: Source, home: Home) -> Home:
    """Save the Job in this file, comments of an earlier one kept. Raises Unwritable."""
    picture = _picture_for(path, source, home.picture)
    face = _picture_for(path, source.face, home.face) if source.face is not None else None
    entry = _entry(path, picture, source)
    face_entry = _entry(path, face, source.face) if face is not None and source.face is not None else None
    write_file(path, _text(path, job, entry, face_entry).encode())
    return Home(path, picture, face)


def _entry(path: Path, picture: Path, source: Source) -> PictureEntry:
    return PictureEntry(_way(path, picture), source.digest)


def _text(path: Path, job: Job, entry: PictureEntry, face: PictureEntry | None) -> str:
    """The Job's text; a file that holds no Job is written over, as whoever chose its name was asked."""
    try:
        return write_job(job, entry, read_file(path).decode("utf-8") if path.exists() else "", face)
    except (UnreadableFile, UnicodeDecodeError):
        return write_job(job, entry, face=face)


def _picture_for(path: Path, source: Source, known: Path | None) -> Path:
    """The picture's own file where it can be named from the Job's, else one written beside the Job."""
    if known is not None and _holds(known, source) and is_relative(_way(path, known)):
        return known
    beside = next(place for place in _places(path, source) if not place.exists() or _holds(place, source))
    if not beside.exists():
        write_file(beside, source.data)
    return beside


def _places(path: Path, source: Source) -> Iterator[Path]:
    name = PurePath(source.name).name or "picture"
    yield path.parent / name
    for number in count(2):
        yield path.parent / f"{PurePath(name).stem}-{number}{PurePath(name).suffix}"


def _holds(place: Path, source: Source) -> bool:
    try:
        return place.is_file() and read_file(place) == source.data
    except UnreadableFile:
        return False


def _way(path: Path, picture: Path) -> str:
    """The way from the Job to the picture, with /; the whole path where none leads there."""
    try:
        return Path(os.path.relpath(picture, path.parent)).as_posix()
    except ValueError:  # another drive
        return picture.as_posix()
