"""A saved Job's picture that is no longer where the Job says: looked for near the Job, by name and by digest.

Only folders next to the Job are looked at: its own, those in it, the one above, and those beside. A picture
is taken only when it is the one that the Job was made from; a Job that tells no digest of it takes one of
the same name from its own folder alone.
"""

from collections.abc import Iterator
from contextlib import suppress
from hashlib import sha256
from itertools import islice
from pathlib import Path

from core.errors import LostPicture, UnreadableFile
from core.files import read_file
from core.job.saved import PictureEntry

#: Folders of one kind that are looked into, and files whose digest is taken: a second's work at most.
MOST_FOLDERS, MOST_FILES = 40, 200
#: Bytes of the largest file whose digest is taken.
LARGEST = 64 << 20


def find_picture(job: Path, entry: PictureEntry, pointed: Path | None = None) -> tuple[Path, bytes]:
    """The picture's file and bytes, for the Job in the file job; pointed is where somebody says it is.

    Where another picture lies in its place and the true one is nowhere near, the other's bytes are given.
    Raises LostPicture where there is none, UnreadableFile where it cannot be read.
    """
    place = job.parent / entry.path
    data = _read_if_there(place)
    if data is not None and _is_the_one(data, entry):
        return place, data
    if pointed is not None and (told := _if_it_is(pointed, entry)) is not None:
        return pointed, told
    found = next(_elsewhere(job, entry), None)
    if found is not None:
        return found
    if data is not None:
        return place, data
    if pointed is not None:
        raise LostPicture(f"{pointed.name} is another picture than the one that {job.name} was made from.")
    raise LostPicture(
        f"There is no picture {place}, and none like it near {job.name}; put it beside the Job again."
    )


def _if_it_is(place: Path, entry: PictureEntry) -> bytes | None:
    """The bytes of the file where it is the picture. Raises UnreadableFile where it cannot be read."""
    data = read_file(place, LARGEST)
    return data if data and _is_the_one(data, entry) else None


def _read_if_there(place: Path) -> bytes | None:
    """The bytes of the file, None where there is none. Raises UnreadableFile where it cannot be read."""
    try:
        if not place.exists():
            return None
    except OSError:  # a name that no file can have
        return None
    return read_file(place)


def _is_the_one(data: bytes, entry: PictureEntry) -> bool:
    return not entry.digest or sha256(data).hexdigest() == entry.digest


def _elsewhere(job: Path, entry: PictureEntry) -> Iterator[tuple[Path, bytes]]:
    """The picture in other places, those where it has kept its name first."""
    folders = [job.parent] if not entry.digest else list(_near(job.parent))
    named = [folder / entry.name for folder in folders]
    others = islice(_alike(folders, Path(entry.name).suffix), MOST_FILES) if entry.digest else ()
    for place in (*named, *others):
        with suppress(UnreadableFile, OSError):
            data = read_file(place, LARGEST)
            if data and _is_the_one(data, entry):
                yield place, data


def _near(folder: Path) -> Iterator[Path]:
    yield folder
    yield from _inside(folder)
    above = folder.absolute().parent
    yield above
    yield from _inside(above)


def _inside(folder: Path) -> Iterator[Path]:
    """The folders in a folder, links left out."""
    with suppress(OSError):
        inner = (one for one in sorted(folder.iterdir()) if one.is_dir() and not one.is_symlink())
        yield from islice(inner, MOST_FOLDERS)


def _alike(folders: list[Path], ending: str) -> Iterator[Path]:
    """Files with the picture's ending."""
    for folder in folders:
        with suppress(OSError):
            yield from (one for one in sorted(folder.iterdir()) if one.suffix.casefold() == ending.casefold())
