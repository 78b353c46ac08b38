"""Work that was opened, saved or written lately: where it lies, what it is, and a small picture of it.

One file tells all of it, the pictures lie beside it; what cannot be read is as if it had never been.
"""

import json
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from core.errors import UnreadableFile
from core.files import read_file, write_file
from core.job.saved import SUFFIX

#: What is remembered, and bytes of a list that long.
MOST, _LARGEST = 12, 1 << 16


@dataclass(frozen=True)
class Recent:
    """A Job's file or a picture's, what it is in words, its picture's digest, and a PNG that shows it."""

    path: Path
    words: str
    digest: str
    picture: Path

    @property
    def is_job(self) -> bool:
        """Whether it is a saved Job, and not a bare picture."""
        return self.path.suffix.casefold() == SUFFIX


def recents(state: Path) -> tuple[Recent, ...]:
    """The newest first."""
    try:
        told = json.loads(read_file(_list_in(state), _LARGEST)) if _list_in(state).is_file() else []
    except (UnreadableFile, ValueError):
        return ()
    read = [_read(state, one) for one in told] if isinstance(told, list) else []
    return tuple(one for one in read if one is not None)


def remember(state: Path, path: Path, words: str, digest: str, png: bytes) -> None:
    """Put it first. A Job takes the place of the bare picture that it was made from. Raises Unwritable."""
    new = Recent(path, words, digest, _picture_in(state, path))
    before = [one for one in recents(state) if one.path != path]
    if new.is_job:
        before = [one for one in before if one.is_job or one.digest != digest]
    elif any(one.is_job and one.digest == digest for one in before):
        return
    new.picture.parent.mkdir(parents=True, exist_ok=True)
    write_file(new.picture, png)
    _write(state, (new, *before))


def forget(state: Path, path: Path) -> None:
    """Take it off the list. Raises Unwritable."""
    _write(state, [one for one in recents(state) if one.path != path])


def _write(state: Path, every: Sequence[Recent]) -> None:
    kept = every[:MOST]
    told = [{"path": str(one.path), "words": one.words, "digest": one.digest} for one in kept]
    _list_in(state).parent.mkdir(parents=True, exist_ok=True)
    write_file(_list_in(state), json.dumps(told, indent=1).encode())
    pictures = {one.picture for one in kept}
    for picture in _list_in(state).parent.glob("*.png"):
        if picture not in pictures:
            with suppress(OSError):
                picture.unlink()


def _read(state: Path, told: object) -> Recent | None:
    if not isinstance(told, dict):
        return None
    path, words, digest = (told.get(name) for name in ("path", "words", "digest"))
    if not (isinstance(path, str) and isinstance(words, str) and isinstance(digest, str)) or not path:
        return None
    return Recent(Path(path), words, digest, _picture_in(state, Path(path)))


def _list_in(state: Path) -> Path:
    return state / "recent" / "list.json"


def _picture_in(state: Path, path: Path) -> Path:
    """A name for the picture that no other path has."""
    name = sha256(str(path).encode("utf-8", "surrogateescape")).hexdigest()[:16]
    return _list_in(state).with_name(f"{name}.png")
