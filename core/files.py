"""Reading files, and writing them whole or not at all: the one place that touches the disk.

What is being written has a name of its own beside the place it is for, `.NAME.samecut-new`, until every
byte of it is on the disk; then one rename puts it there. Whatever has that name is unfinished or thrown
away, and the next writer to the same place clears it. A folder takes an older one's place

* by one exchange where the system can, after which the older one has the passing name; or
* by two renames, the older one having `.NAME.samecut-old` between them: these names are the journal, and
  mend() gives an older folder its place back when the second rename never came.

Writers to places in the same folder take turns by a lock on that folder.
"""

import os
import shutil
import stat
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path

from core.errors import BadValue, UnreadableFile, Unwritable, WrongCall
from core.exchange import exchange

#: Bytes. Larger than any picture that is read; keeps a device or a film of hours from filling memory.
LARGEST_FILE = 1 << 30
#: Bytes of the longest file name that common file systems take.
LONGEST_NAME = 255

_NEW, _OLD = ".samecut-new", ".samecut-old"


def read_file(path: Path, largest: int = LARGEST_FILE) -> bytes:
    """The bytes of a plain file. Raises UnreadableFile for anything else, missing or larger than largest."""
    try:
        found = path.stat()
        if stat.S_ISDIR(found.st_mode):
            raise UnreadableFile(f"{path} is a folder; a file is needed.")
        if not stat.S_ISREG(found.st_mode):
            raise UnreadableFile(f"{path} is no plain file.")
        if found.st_size > largest:
            raise UnreadableFile(f"{path} is larger than {largest >> 20} MB, which is more than is read.")
        return path.read_bytes()
    except FileNotFoundError:
        raise UnreadableFile(f"There is no file {path}.") from None
    except (OSError, ValueError) as error:
        raise UnreadableFile(f"{path} cannot be read: {_reason(error)}.") from error


def read_folder(folder: Path) -> Mapping[str, bytes]:
    """The plain files that lie in the folder itself, by name; links and folders in it are passed over.

    Raises UnreadableFile when it is no folder, or one file of it cannot be read.
    """
    if not folder.is_dir():
        raise UnreadableFile(
            f"{folder} is no folder." if folder.exists() else f"There is no folder {folder}."
        )
    try:
        entries = sorted(entry for entry in folder.iterdir() if entry.is_file() and not entry.is_symlink())
    except OSError as error:
        raise UnreadableFile(f"{folder} cannot be read: {_reason(error)}.") from error
    files: dict[str, bytes] = {}
    for entry in entries:
        files[entry.name] = read_file(entry, LARGEST_FILE - sum(map(len, files.values())))
    return files


def write_file(path: Path, data: bytes) -> None:
    """The bytes in the file of this path, or the file as it was. Raises Unwritable."""
    place = _real(path)
    new = _passing(place, _NEW)
    with _writing(path), _turn(place.parent):
        if os.path.lexists(place) and not place.is_file():
            raise Unwritable(f"{path} is no plain file, so it is not written over.")
        _discard(new)
        with _discarded_on_failure(new):
            _write_bytes(new, data)
            if place.is_file():
                new.chmod(stat.S_IMODE(place.stat().st_mode))
            new.replace(place)
        _flush_folder(place.parent)


def write_folder(folder: Path, files: Mapping[str, bytes], may_replace: Callable[[Path], bool]) -> None:
    """The folder with these files and nothing else, or everything as it was.

    A folder that holds something is replaced only if may_replace says yes to it. Raises WrongCall when it
    says no, Unwritable when the disk does, BadValue when a file's name is more than a name.
    """
    _check_names(files)
    place = _real(folder)
    new = _passing(place, _NEW)
    with _writing(folder), _parents(place), _turn(place.parent):
        _mend(place)
        check_replaceable(place, may_replace)
        with _discarded_on_failure(new):
            _fill(new, files)
            check_replaceable(place, may_replace)  # again: somebody may have put a file there meanwhile
            _put_in_place(new, place)
        _flush_folder(place.parent)
        _forget(new)


def check_replaceable(folder: Path, may_replace: Callable[[Path], bool]) -> None:
    """Raise WrongCall unless the folder is absent, empty, or one that may be replaced; touch nothing."""
    try:
        if not os.path.lexists(folder):
            _check_room(folder)
            return
        if not folder.is_dir():
            raise WrongCall(f"{folder} is not a folder; give the kit a folder of its own.")
        if any(folder.iterdir()) and not may_replace(folder):
            raise WrongCall(
                f"{folder} holds something that is no earlier kit; give the kit a folder of its own."
            )
    except OSError as error:
        raise Unwritable(f"{folder} cannot be written: {_reason(error)}.") from error


def _check_room(place: Path) -> None:
    """Raise Unwritable when the nearest folder above the place cannot take anything new."""
    above = next(parent for parent in place.absolute().parents if os.path.lexists(parent))
    if not above.is_dir():
        raise Unwritable(f"{place} cannot be written: {above} is no folder.")
    if not os.access(above, os.W_OK | os.X_OK):
        raise Unwritable(f"{place} cannot be written: nothing may be written in {above}.")


def mend(folder: Path) -> None:
    """Finish or undo what a writer that was killed left beside the folder. Raises Unwritable."""
    place = _real(folder)
    leftovers = [_passing(place, ending) for ending in (_NEW, _OLD)]
    if any(map(os.path.lexists, leftovers)):
        with _writing(folder), _turn(place.parent):
            _mend(place)


def _mend(place: Path) -> None:
    old = _passing(place, _OLD)
    if os.path.lexists(old) and not os.path.lexists(place):
        old.rename(place)
    _discard(old)
    _discard(_passing(place, _NEW))


def _put_in_place(new: Path, place: Path) -> None:
    """What is at new is at place; what was at place is gone, or at new."""
    if place.is_dir() and any(place.iterdir()):
        if not exchange(new, place):
            _replace_in_two_steps(new, place)
        return
    if os.name == "nt" and place.is_dir():
        place.rmdir()  # elsewhere a rename takes the place of an empty folder in one step
    new.rename(place)


def _replace_in_two_steps(new: Path, place: Path) -> None:
    old = _passing(place, _OLD)
    place.rename(old)
    try:
        new.rename(place)
    except BaseException:
        old.rename(place)
        raise
    _forget(old)


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    folder.mkdir()
    for name in sorted(files):
        _write_bytes(folder / name, files[name])
    _flush_folder(folder)


def _write_bytes(path: Path, data: bytes) -> None:
    with path.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _flush_folder(folder: Path) -> None:
    """What was renamed in the folder outlasts a loss of power, where the system lets folders be flushed."""
    with suppress(OSError), _opened(folder) as handle:
        os.fsync(handle)


def _discard(path: Path) -> None:
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path)
    else:
        path.unlink(missing_ok=True)


def _forget(path: Path) -> None:
    """What was replaced is gone; where it cannot go yet, the next writer clears it."""
    with suppress(OSError):
        _discard(path)


@contextmanager
def _discarded_on_failure(new: Path) -> Iterator[None]:
    try:
        yield
    except BaseException:
        _forget(new)
        raise


@contextmanager
def _writing(path: Path) -> Iterator[None]:
    """What the system refuses becomes one sentence about the path."""
    try:
        yield
    except OSError as error:
        raise Unwritable(f"{path} cannot be written: {_reason(error)}.") from error


@contextmanager
def _parents(place: Path) -> Iterator[None]:
    """The folders above the place are there; those that were made for it go again on failure."""
    missing = [parent for parent in place.parents if not parent.exists()]
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        yield
    except BaseException:
        for parent in missing:
            with suppress(OSError):
                parent.rmdir()
        raise


@contextmanager
def _opened(folder: Path) -> Iterator[int]:
    handle = os.open(folder, os.O_RDONLY)
    try:
        yield handle
    finally:
        os.close(handle)


@contextmanager
def _turn(folder: Path) -> Iterator[None]:
    """Nobody else of ours writes in the folder meanwhile; systems and disks without locks go without."""
    try:
        import fcntl  # noqa: PLC0415 - not on every system
    except ImportError:
        yield
        return
    with _opened(folder) as handle:
        with suppress(OSError):
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield


def _real(path: Path) -> Path:
    """The place itself, where the path is a link to it."""
    return Path(os.path.realpath(path))


def _passing(place: Path, ending: str) -> Path:
    name = f".{place.name}{ending}"
    if len(os.fsencode(name)) > LONGEST_NAME:
        name = f".{sha256(os.fsencode(place.name)).hexdigest()}{ending}"
    return place.with_name(name)


def _check_names(files: Mapping[str, bytes]) -> None:
    for name in files:
        is_plain = name.isprintable() and not any(sign in name for sign in '/\\:*?"<>|')
        if not is_plain or name.strip(". ") == "" or len(os.fsencode(name)) > LONGEST_NAME:
            raise BadValue(f"'{name}' cannot name a file in a folder.")
    if len({name.casefold() for name in files}) < len(files):
        raise BadValue("two files of one folder differ in upper and lower case alone.")


def _reason(error: Exception) -> str:
    """What the system says, without its numbers."""
    said = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return said[:1].lower() + said[1:]
