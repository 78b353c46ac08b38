"""One choice of the maker, declared once: command line, Job file, window and Build read it here."""

from dataclasses import Field, dataclass, field, fields
from enum import Enum, StrEnum
from typing import Any

from core.errors import BadValue
from core.job.kinds import Kind, Plain


class Auto(Enum):
    """Left to the Build, which resolves it; the Job keeps it as it is."""

    AUTO = "auto"


AUTO = Auto.AUTO


class Stage(StrEnum):
    """The stages of a Build in their order; a choice wakes one of them and all that stand on it.

    Those of a second picture are named beside those of the first; they run once the sheet is laid out.
    """

    READ = "read"
    SQUARE = "square"
    TOUCH = "touch"
    COLOURS = "colours"
    TRACE = "trace"
    SECOND_READ = "second-read"
    SECOND_COLOURS = "second-colours"
    SECOND_TRACE = "second-trace"
    MATCH = "match"
    REGULAR = "regular"
    SHAPE = "shape"
    PIECES = "pieces"
    HANGER = "hanger"
    SECOND_PATCHES = "second-patches"
    REACH = "reach"
    SHEET = "sheet"
    FOUND = "found"
    PATH = "path"
    FILMS = "films"
    NEST = "nest"
    SIGHT = "sight"
    FORECAST = "forecast"
    PROGRAM = "program"
    DRAWINGS = "drawings"
    PAPERS = "papers"


@dataclass(frozen=True)
class Declaration:
    """What stands beside a field of a group: everything about the choice but its name."""

    kind: Kind[Any]
    default: str
    wakes: Stage
    why: str
    may_be_auto: bool

    def read(self, text: str) -> Any:
        """The value that the text says; AUTO where that is allowed. Raises BadValue."""
        if text.strip().casefold() != AUTO.value:
            return self.kind.read(text)
        if not self.may_be_auto:
            raise BadValue(f"it cannot be auto; it takes {self.limits()}")
        return AUTO

    def limits(self) -> str:
        """What is allowed, in words."""
        return f"auto or {self.kind.limits()}" if self.may_be_auto else self.kind.limits()


_KEY = "choice"


def declared(kind: Kind[Any], default: str, wakes: Stage, why: str, *, may_be_auto: bool = False) -> Any:
    """A field of a group of choices, with its declaration beside it and its default read from text."""
    declaration = Declaration(kind, default, wakes, why, may_be_auto or default == AUTO.value)
    return field(default=declaration.read(default), metadata={_KEY: declaration})


@dataclass(frozen=True)
class Choice:
    """A declaration with its name: `bit.diameter` is group `bit`, name `diameter`."""

    group: str
    name: str
    declaration: Declaration

    @property
    def key(self) -> str:
        """GROUP.NAME."""
        return f"{self.group}.{self.name}"

    @property
    def kind(self) -> Kind[Any]:
        """Reads and writes its values."""
        return self.declaration.kind

    @property
    def unit(self) -> str:
        """The unit of a bare number, or nothing."""
        return self.kind.unit

    @property
    def default(self) -> Any:
        """The default value, or AUTO."""
        return self.declaration.read(self.declaration.default)

    @property
    def default_text(self) -> str:
        """The default as a maker would type it."""
        return self.declaration.default

    @property
    def may_be_auto(self) -> bool:
        """Whether it can be left to the Build."""
        return self.declaration.may_be_auto

    @property
    def wakes(self) -> Stage:
        """The first stage that must be made again when the choice changes."""
        return self.declaration.wakes

    @property
    def help(self) -> str:
        """Why it matters, in one line."""
        return self.declaration.why

    def limits(self) -> str:
        """What is allowed, in words."""
        return self.declaration.limits()

    def read(self, text: str) -> Any:
        """The value that the text says. Raises BadValue, one sentence that names the choice."""
        try:
            return self.declaration.read(text)
        except BadValue as error:
            raise BadValue(f"{self.key}: {error}.") from error

    def written(self, value: Any) -> str:
        """Text that reads back to the same value."""
        return str(AUTO.value) if value is AUTO else self.kind.written(value)

    def plain(self, value: Any) -> Plain:
        """The value as a Job file holds it."""
        return str(AUTO.value) if value is AUTO else self.kind.plain(value)

    def is_same(self, one: Any, other: Any) -> bool:
        """Whether both mean the same, however they were typed."""
        if one is AUTO or other is AUTO:
            return one is other
        return self.kind.is_same(one, other)


def choices_in(group: str, holder: type) -> tuple[Choice, ...]:
    """The choices that a group's dataclass declares, in the order it declares them."""
    return tuple(Choice(group, entry.name, _declaration(entry)) for entry in fields(holder))


def _declaration(entry: Field[Any]) -> Declaration:
    declaration = entry.metadata[_KEY]
    assert isinstance(declaration, Declaration)  # noqa: S101 - declared() alone makes such fields
    return declaration
