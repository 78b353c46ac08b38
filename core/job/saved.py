"""A saved Job, NAME.samecut: TOML that a person can read and another program can merge.

Reading takes every choice as text, so that it stays as it was typed, and leaves alone what it does not
know. Writing changes an earlier text only where the Job says something else: comments, unknown keys
and the order of lines stay. `format` is raised only when an older reader would misunderstand a file;
new groups and choices do not raise it, and a file of a higher format is refused.

1. Standard TOML is read into plain values (tomllib); numbers with a point stay text.
2. The picture's entry and every known choice are read by their declarations.
3. A wrong value is found again in the text, to name its line (tomlkit, which keeps all white space).
"""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import PurePosixPath, PureWindowsPath
from typing import TYPE_CHECKING, Any

from core.errors import BadValue, UnreadableFile
from core.job.job import CHOICES, GIVING_WAY, Job, Source
from core.job.typed import typed

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

FORMAT = 1
SUFFIX = ".samecut"
MIME = "application/x-samecut+toml"
#: Characters; a Job with a role for each of a thousand patches has a twentieth of it.
LONGEST_TEXT = 1_000_000

_HEADING = "A Samecut Job: the choices that differ from their defaults. Your own comments are kept."
_SOURCE = "source"
_GROUPS = tuple(dict.fromkeys(choice.group for choice in CHOICES.values()))
#: Written even where it is the default: the first thing that a reader of a Job looks for.
_ALWAYS_WRITTEN = frozenset({"shape.height"})


@dataclass(frozen=True)
class PictureEntry:
    """The picture of a saved Job: its path relative to the Job, with /, and its SHA-256 or nothing."""

    path: str
    digest: str = ""

    @property
    def name(self) -> str:
        """The file's own name."""
        return PurePosixPath(self.path).name


@dataclass(frozen=True)
class SavedJob:
    """A Job as it was saved, its picture, and the keys that were not understood and are kept."""

    job: Job
    picture: PictureEntry
    unknown: tuple[str, ...] = ()
    face: PictureEntry | None = None

    def source(self, data: bytes, name: str, face: bytes | None = None) -> Source:
        """The pictures' bytes as the Job's source. Raises UnreadableFile when they are other pictures."""
        _check_digest(self.picture, data, name, "sha256")
        if self.face is None or face is None:
            return Source(self.job.source, data)
        _check_digest(self.face, face, name, "face_sha256")
        return Source(self.job.source, data, Source(self.job.face, face))


def _check_digest(entry: PictureEntry, data: bytes, name: str, key: str) -> None:
    if entry.digest and sha256(data).hexdigest() != entry.digest:
        raise UnreadableFile(
            f"{entry.path} is no longer the picture that {name} was made from; "
            f"put that picture back, or delete the line {key} in the Job to take the new one."
        )


class _Wrong(Exception):
    """A wrong value and the keys that lead to it."""

    def __init__(self, keys: tuple[str, ...], sentence: str) -> None:
        super().__init__(sentence)
        self.keys = keys


def read_job(text: str, name: str) -> SavedJob:
    """The Job in the text of the file called name. Raises UnreadableFile with line and reason."""
    tables = _tables(text, name)
    try:
        _check_format(tables)
        picture, face = _picture(tables), _face(tables)
        job = Job(
            _source_name(tables, "name", picture), _source_name(tables, "face_name", face) if face else ""
        )
        for key, said in _said(tables):
            job = job.with_value(key, said)
    except _Wrong as wrong:
        raise UnreadableFile(f"{name}{_line_of(text, wrong.keys)}: {wrong}") from wrong
    return SavedJob(job, picture, tuple(_unknown(tables)), face)


def _tables(text: str, name: str) -> Mapping[str, Any]:
    if len(text) > LONGEST_TEXT:
        raise UnreadableFile(f"{name} is too long to be a Job.")
    try:
        return tomllib.loads(_without_mark(text), parse_float=str)
    except (ValueError, RecursionError) as error:
        raise UnreadableFile(f"{name} cannot be read as a Job: {error or 'it is not TOML'}.") from error


def _without_mark(text: str) -> str:
    """The text without the mark of its byte order, which some editors put in front."""
    return text.removeprefix("\ufeff")


def _check_format(tables: Mapping[str, Any]) -> None:
    given = tables.get("format")
    if not isinstance(given, int) or isinstance(given, bool) or given < 1:
        raise _Wrong(("format",), f"a Job says which format it has, like `format = {FORMAT}`.")
    if given > FORMAT:
        raise _Wrong(("format",), f"format {given} needs a newer Samecut; this one reads format {FORMAT}.")


def _picture(tables: Mapping[str, Any]) -> PictureEntry:
    source = tables.get(_SOURCE)
    if not isinstance(source, dict) or not isinstance(source.get("picture"), str):
        raise _Wrong((_SOURCE,), 'a Job names its picture, like `picture = "turtle.png"` under [source].')
    return _entry(source, "picture", "sha256")


def _face(tables: Mapping[str, Any]) -> PictureEntry | None:
    """The second picture's entry, which stands beside the first one's."""
    source = tables[_SOURCE]
    return _entry(source, "face", "face_sha256") if "face" in source else None


def _entry(source: Mapping[str, Any], key: str, digest_key: str) -> PictureEntry:
    path, digest = source[key], source.get(digest_key, "")
    if not isinstance(path, str) or not is_relative(path):
        raise _Wrong((_SOURCE, key), f"'{path}' is no path from the Job to its picture, with / in it.")
    if not isinstance(digest, str):
        raise _Wrong((_SOURCE, digest_key), f"{digest_key} is the picture's digest, as text.")
    return PictureEntry(path, digest.casefold())


def is_relative(path: str) -> bool:
    """Whether the path, written with /, leads from a folder to a file on every system."""
    windows = PureWindowsPath(path)
    is_anchored = windows.drive or windows.root
    return bool(PurePosixPath(path).name and "\0" not in path and not is_anchored)


def _source_name(tables: Mapping[str, Any], key: str, picture: PictureEntry) -> str:
    given = tables[_SOURCE].get(key, picture.name)
    if not isinstance(given, str) or not given or "/" in given:
        raise _Wrong((_SOURCE, key), f"{key} is what the picture's file was first called.")
    return given


def _said(tables: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """Every known choice that the tables hold, and its value."""
    for group in _GROUPS:
        if not isinstance(tables.get(group, {}), dict):
            raise _Wrong((group,), f"{group} is a group of choices, so write [{group}].")
    for key, choice in CHOICES.items():
        held = tables.get(choice.group, {})
        if choice.name not in held:
            continue
        try:
            yield key, choice.read(typed(held[choice.name], key))
        except BadValue as error:
            raise _Wrong((choice.group, choice.name), str(error)) from error


def _unknown(tables: Mapping[str, Any]) -> Iterator[str]:
    """Keys that are no choice, in the order of the file."""
    for group, held in tables.items():
        if group in _GROUPS:
            yield from (f"{group}.{name}" for name in held if f"{group}.{name}" not in CHOICES)
        elif group not in ("format", _SOURCE):
            yield group


_MARK = "\x00"  # TOML holds no such character


def _line_of(text: str, keys: tuple[str, ...]) -> str:
    """`, line N` where the value of these keys stands; nothing when it is not in the text."""
    import tomlkit  # noqa: PLC0415 - needed only to write a Job and to name a line
    from tomlkit.exceptions import TOMLKitError  # noqa: PLC0415 - the same

    try:
        document = tomlkit.parse(_without_mark(text))
        holder: Any = document
        for key in keys[:-1]:
            holder = holder[key].value
        holder.item(keys[-1]).trivia.indent = _MARK
        before, mark, _ = document.as_string().partition(_MARK)
    except (TOMLKitError, KeyError, AttributeError, TypeError):
        return ""
    return f", line {before.count(chr(10)) + 1}" if mark else ""


def write_job(job: Job, picture: PictureEntry, earlier: str = "", face: PictureEntry | None = None) -> str:
    """The text of the saved Job: the earlier text, changed only where the Job says something else.

    face is the second picture, where there is one.

    Raises UnreadableFile when the earlier text is no Job, BadValue for a path that is not relative.
    """
    for entry in (picture, face):
        if entry is not None and not is_relative(entry.path):
            raise BadValue(f"{entry.path} is no path from the Job to its picture.")
    document = _document(earlier)
    _put_picture(document, ("picture", "sha256", "name"), picture, job.source)
    _put_picture(document, ("face", "face_sha256", "face_name"), face, job.face)
    said = dict(_said(_tables(earlier, "the earlier Job"))) if earlier else {}
    for key in CHOICES:
        _put_choice(document, job, key, said)
    return str(document.as_string())


def _document(earlier: str) -> "TOMLDocument":
    import tomlkit  # noqa: PLC0415 - needed only to write a Job and to name a line
    from tomlkit.exceptions import TOMLKitError  # noqa: PLC0415 - the same

    if earlier:
        read_job(earlier, "the earlier Job")
        try:
            return tomlkit.parse(_without_mark(earlier))
        except TOMLKitError as error:
            raise UnreadableFile(f"the earlier Job cannot be changed in place: {error}.") from error
    document = tomlkit.document()
    document.add(tomlkit.comment(_HEADING))
    document.add("format", tomlkit.item(FORMAT))
    return document


def _put_picture(
    document: "TOMLDocument", keys: tuple[str, str, str], picture: PictureEntry | None, name: str
) -> None:
    """Path, digest and the name where it is another; nothing of them without a picture."""
    table = _table(document, _SOURCE)
    entry = picture or PictureEntry("")
    said = (entry.path, entry.digest, "" if picture is None or name == entry.name else name)
    for key, wanted in zip(keys, said, strict=True):
        if not wanted:
            table.pop(key, None)
        elif table.get(key) != wanted:
            table[key] = wanted


def _put_choice(document: "TOMLDocument", job: Job, key: str, said: Mapping[str, Any]) -> None:
    choice, value = CHOICES[key], job.value(key)
    is_word = key in job.said
    if key in said and said[key] == value and is_word is _may_be_word(key, value):
        return
    if value != choice.default or key in _ALWAYS_WRITTEN or is_word:
        _table(document, choice.group)[choice.name] = choice.plain(value)
    elif key in said:
        _table(document, choice.group).pop(choice.name)


def _may_be_word(key: str, value: Any) -> bool:
    """Whether a text that says this value says a default that would give way."""
    choice = CHOICES[key]
    return key in GIVING_WAY and choice.is_same(value, choice.default)


def _table(document: "TOMLDocument", group: str) -> Any:
    """The group's table, added at the end where there is none."""
    import tomlkit  # noqa: PLC0415 - needed only to write a Job and to name a line

    if group not in document:
        document.add(group, tomlkit.table())
    return document[group]
