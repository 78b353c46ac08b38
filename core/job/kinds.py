"""What a choice may be: for each kind, text to value, value to text, and its limits in words."""

from abc import ABC, abstractmethod
from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Generic, TypeVar

from core.errors import BadValue
from core.units import LENGTH, Family, Measure, parsed

T = TypeVar("T")

#: What stands for a day that has not been.
NEVER = "never"

#: What a Job file holds for one choice; a list holds texts.
Plain = str | int | bool | list[str]


class Kind(ABC, Generic[T]):
    """One kind of value. read() raises BadValue, as the middle of a sentence, for what it is not."""

    name: ClassVar[str]

    @property
    def unit(self) -> str:
        """The unit of a bare number; empty for kinds that have none."""
        return ""

    @abstractmethod
    def read(self, text: str) -> T:
        """The value that the text says. Raises BadValue."""

    @abstractmethod
    def written(self, value: T) -> str:
        """Text that reads back to the same value."""

    @abstractmethod
    def limits(self) -> str:
        """What is allowed, in words that fit behind "takes"."""

    def plain(self, value: T) -> Plain:
        """The value as a Job file holds it."""
        return self.written(value)

    def is_same(self, one: T, other: T) -> bool:
        """Whether both mean the same, however they were typed."""
        return one == other


@dataclass(frozen=True)
class Quantity(Kind[Measure]):
    """A number with a unit, from least to most, which are written as people would."""

    name: ClassVar[str] = "quantity"
    family: Family
    least: str
    most: str

    @property
    def unit(self) -> str:
        """The unit of a bare number."""
        return self.family.bare_unit

    def read(self, text: str) -> Measure:
        """What was typed and its value in the inside unit."""
        measure = parsed(text, self.family)
        if measure.value < parsed(self.least, self.family).value:
            raise BadValue(f"{text.strip()} is too little; it takes {self.limits()}")
        if measure.value > parsed(self.most, self.family).value:
            raise BadValue(f"{text.strip()} is too much; it takes {self.limits()}")
        return measure

    def written(self, value: Measure) -> str:
        """What was typed."""
        return value.typed

    def limits(self) -> str:
        """From least to most."""
        return f"{self.least} to {self.most}"

    def is_same(self, one: Measure, other: Measure) -> bool:
        """Whether both have the same value, however they were typed."""
        return one.value == other.value


def length(least: str, most: str) -> Quantity:
    """A length between these two."""
    return Quantity(LENGTH, least, most)


@dataclass(frozen=True)
class Count(Kind[int]):
    """A whole number."""

    name: ClassVar[str] = "count"
    least: int
    most: int

    def read(self, text: str) -> int:
        """The number, written in plain digits."""
        digits = text.strip()
        if not (digits.isascii() and digits.isdigit() and len(digits) < len(str(self.most)) + 3):
            raise BadValue(f"'{text}' is no such whole number; it takes {self.limits()}")
        if not self.least <= int(digits) <= self.most:
            raise BadValue(f"{digits} is out of reach; it takes {self.limits()}")
        return int(digits)

    def written(self, value: int) -> str:
        """Plain digits."""
        return str(value)

    def limits(self) -> str:
        """From least to most."""
        return f"{self.least} to {self.most}"

    def plain(self, value: int) -> Plain:
        """The number itself."""
        return value


@dataclass(frozen=True)
class Word(Kind[str]):
    """One of a few words; those that come with a later version are told apart from nonsense."""

    name: ClassVar[str] = "word"
    words: tuple[str, ...]
    later: tuple[str, ...] = ()

    def read(self, text: str) -> str:
        """The word, however it was spelled in upper and lower case."""
        wanted = " ".join(text.split()).casefold()
        for word in self.words:
            if word.casefold() == wanted:
                return word
        if wanted in self.later:
            raise BadValue(f"'{wanted}' comes with a later version; for now it takes {self.limits()}")
        raise BadValue(f"'{text}' is not one of its words; it takes {self.limits()}")

    def written(self, value: str) -> str:
        """The word."""
        return value

    def limits(self) -> str:
        """The words."""
        return " or ".join((", ".join(self.words[:-1]), self.words[-1])).removeprefix(" or ")


@dataclass(frozen=True)
class YesNo(Kind[bool]):
    """Yes or no."""

    name: ClassVar[str] = "yes or no"

    def read(self, text: str) -> bool:
        """True for yes, true and on; False for no, false and off."""
        wanted = text.strip().casefold()
        if wanted in {"yes", "true", "on"}:
            return True
        if wanted in {"no", "false", "off"}:
            return False
        raise BadValue(f"'{text}' is neither; it takes {self.limits()}")

    def written(self, value: bool) -> str:  # noqa: FBT001 - the value is the truth itself
        """Yes or no."""
        return "yes" if value else "no"

    def limits(self) -> str:
        """Both words."""
        return "yes or no"

    def plain(self, value: bool) -> Plain:  # noqa: FBT001 - the value is the truth itself
        """The truth itself."""
        return value


@dataclass(frozen=True)
class Colour(Kind[str]):
    """A colour as #rrggbb, kept in lower case."""

    name: ClassVar[str] = "colour"

    def read(self, text: str) -> str:
        """The colour; #rgb is taken too, each digit doubled."""
        digits = text.strip().removeprefix("#").casefold()
        is_hex = bool(digits) and all(digit in "0123456789abcdef" for digit in digits)
        if not (is_hex and text.strip().startswith("#") and len(digits) in {3, 6}):
            raise BadValue(f"'{text}' is no colour; it takes {self.limits()}")
        return "#" + (digits if len(digits) == 6 else "".join(digit * 2 for digit in digits))

    def written(self, value: str) -> str:
        """The colour."""
        return value

    def limits(self) -> str:
        """The form."""
        return "a colour like #2e7d5b"


@dataclass(frozen=True)
class Day(Kind[str]):
    """A day as ISO 8601 writes it, or never."""

    name: ClassVar[str] = "day"

    def read(self, text: str) -> str:
        """The day."""
        said = text.strip().casefold()
        try:
            return said if said == NEVER else date.fromisoformat(said).isoformat()
        except ValueError:
            raise BadValue(f"'{text}' is no day; it takes {self.limits()}") from None

    def written(self, value: str) -> str:
        """The day."""
        return value

    def limits(self) -> str:
        """The form."""
        return f"a day like 2026-03-31, or {NEVER}"


@dataclass(frozen=True)
class Name(Kind[str]):
    """A name that files are called by; no separators, no control characters, no dot in front."""

    name: ClassVar[str] = "name"
    longest: int = 60

    def read(self, text: str) -> str:
        """The name, trimmed."""
        given = text.strip()
        is_plain = given.isprintable() and not any(sign in given for sign in '/\\:*?"<>|')
        if not given or given.startswith(".") or not is_plain or len(given) > self.longest:
            raise BadValue(f"'{given[: self.longest]}' cannot name a file; it takes {self.limits()}")
        return given

    def written(self, value: str) -> str:
        """The name."""
        return value

    def limits(self) -> str:
        """The form."""
        return f"up to {self.longest} letters, digits, spaces and hyphens"


@dataclass(frozen=True)
class Several(Kind[tuple[T, ...]], Generic[T]):
    """A list of one kind, its items parted by semicolons (a comma may be a decimal sign)."""

    name: ClassVar[str] = "list"
    of: Kind[T]
    least: int = 0
    most: int = 999
    items: str = "values"

    @property
    def unit(self) -> str:
        """The unit of a bare number in it."""
        return self.of.unit

    def read(self, text: str) -> tuple[T, ...]:
        """The items in their order."""
        parts = [part.strip() for part in text.split(";") if part.strip()]
        if not self.least <= len(parts) <= self.most:
            raise BadValue(f"{len(parts)} {self.items} were given; it takes {self.limits()}")
        return tuple(self.of.read(part) for part in parts)

    def written(self, value: tuple[T, ...]) -> str:
        """The items, parted by semicolons."""
        return "; ".join(map(self.of.written, value))

    def limits(self) -> str:
        """How many, and what each of them may be."""
        return f"{self.least} to {self.most} {self.items}, each {self.of.limits()}, parted by semicolons"

    def plain(self, value: tuple[T, ...]) -> Plain:
        """A list of texts."""
        return [self.of.written(item) for item in value]

    def is_same(self, one: tuple[T, ...], other: tuple[T, ...]) -> bool:
        """Whether both mean the same, item by item."""
        return len(one) == len(other) and all(map(self.of.is_same, one, other))
