"""A picture or a saved Job, opened from its path; and the places that a command may write to."""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from app.moved_picture import find_picture
from app.tables import with_own_bits
from core.errors import UnreadableFile, Unwritable, WrongCall
from core.files import check_replaceable, mend, read_file
from core.job.job import Job, Source
from core.job.saved import LONGEST_TEXT, SUFFIX, SavedJob, read_job
from core.kit.older_kit import is_older_kit, report_in

#: A character of UTF-8 takes four bytes at most.
_LARGEST_JOB = 4 * LONGEST_TEXT


@dataclass(frozen=True)
class Opened:
    """A Job and its picture, and the files of the picture and of the second one where they have any.

    unknown are the keys of a saved Job that this version does not know; has_moved tells that the picture
    was found elsewhere than where the Job says.
    """

    job: Job
    source: Source
    unknown: tuple[str, ...] = ()
    picture: Path | None = None
    face: Path | None = None
    has_moved: bool = False


def opened(path: Path, pointed: Path | None = None) -> Opened:
    """The Job that the file holds, or a new one for the picture that it is. Raises UnreadableFile.

    pointed is where somebody says that a picture lies which is lost. Raises LostPicture where one still is.
    """
    if path.suffix.casefold() != SUFFIX:
        name = plain_name(path)
        source = Source(name, _something(path, read_file(path)))
        return Opened(with_own_bits(Job(source=name)), source, picture=path)
    saved = saved_job(path)
    place, data = find_picture(path, saved.picture, pointed)
    face = find_picture(path, saved.face, pointed) if saved.face is not None else None
    source = saved.source(
        _something(place, data), plain_name(path), _something(*face) if face is not None else None
    )
    told = path.parent / saved.picture.path
    return Opened(
        saved.job, source, saved.unknown, place, face[0] if face is not None else None, place != told
    )


def second_picture(path: Path) -> Source:
    """The picture in this file, to give the films. Raises UnreadableFile."""
    return Source(plain_name(path), _something(path, read_file(path)))


def with_face(found: Opened, path: Path) -> Opened:
    """The same with a second picture, from its file, that gives the films. Raises UnreadableFile."""
    face = second_picture(path)
    source = replace(found.source, face=face)
    return replace(found, job=replace(found.job, face=face.name), source=source, face=path)


def saved_job(path: Path) -> SavedJob:
    """The Job saved in a file; what a killed writer left beside it goes. Raises UnreadableFile."""
    with suppress(Unwritable):  # a Job on a disk that cannot be written can be read all the same
        mend(path)
    try:
        text = read_file(path, _LARGEST_JOB).decode("utf-8")
    except UnicodeDecodeError:
        raise UnreadableFile(f"{path} is no Job: it is not text in UTF-8.") from None
    return read_job(text, plain_name(path))


def plain_name(path: Path) -> str:
    """The file's name as text that can be written anywhere; bytes that are no text become question marks."""
    return path.name.encode("utf-8", "replace").decode("utf-8")


def _something(path: Path, data: bytes) -> bytes:
    if not data:
        raise UnreadableFile(f"{path} is empty; a picture is needed.")
    return data


def check_kit_place(folder: Path) -> None:
    """Raise WrongCall or Unwritable when a kit cannot become this folder; mend what a killed writer left."""
    mend(folder)
    check_replaceable(folder, is_older_kit)


def check_report_place(report: str | None, kit: Path, source: Path) -> None:
    """Raise WrongCall or Unwritable when the report cannot go there without harm."""
    if report in (None, "-"):
        return
    place = Path(str(report)).resolve()
    if place == source.resolve():
        raise WrongCall(f"--report would write over {source}; give it a file of its own.")
    if kit.resolve() in (place, *place.parents):
        raise WrongCall(f"The kit carries its report already; give --report a file outside {kit}.")
    if not place.parent.is_dir():
        raise Unwritable(f"{report} cannot be written: there is no folder {place.parent}.")


def earlier_report(since: Path | None, out: Path) -> Mapping[str, Any] | None:
    """The report to compare with: of the kit named, else of the one that is written over; None without one.

    Raises UnreadableFile where the kit named has none, or what is there cannot be read.
    """
    folder = out if since is None else since
    try:
        found = report_in(folder) if since is not None or folder.is_dir() else None
    except OSError as error:
        raise UnreadableFile(f"{folder} cannot be read: {error.strerror}.") from error
    if since is None:
        return found
    if found is None:
        raise UnreadableFile(f"{since} is no kit: there is no report in it that can be read.")
    return found
