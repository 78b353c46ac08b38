# ruff: noqa: RUF009 - groups are frozen and their defaults may be shared
"""The Job: every choice that the maker made, one frozen value.

A Job never changes; with_choice gives another one. What differs from the defaults, and what a stage
of the Build depends on, is read from the declarations beside the fields.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from hashlib import sha256
from types import MappingProxyType
from typing import Any

from core.errors import WrongCall
from core.job.bench_choices import BitChoices, CuttingChoices, FitChoices, StockChoices
from core.job.choice import Choice, Stage, choices_in
from core.job.drawing_choices import FilmChoices, PartChoices, PictureChoices, ShapeChoices
from core.job.machine_choices import FilesChoices, KnifeChoices, MachineChoices


@dataclass(frozen=True)
class Source:
    """The picture that a Job came from, its file's name and bytes; face is a second one, for the films."""

    name: str
    data: bytes = field(repr=False)
    face: "Source | None" = None

    @cached_property
    def digest(self) -> str:
        """SHA-256 of the bytes, in hexadecimal."""
        return sha256(self.data).hexdigest()

    @property
    def digests(self) -> tuple[str, ...]:
        """That of the picture, and of the second one where there is one."""
        return (self.digest, *(self.face.digests if self.face else ()))

    @property
    def stem(self) -> str:
        """The name without folder and ending."""
        return self._own_name.rpartition(".")[0] or self._own_name

    @property
    def ending(self) -> str:
        """What stands behind the last point of the name; empty when there is none."""
        stem, _, ending = self._own_name.rpartition(".")
        return ending if stem else ""

    @property
    def _own_name(self) -> str:
        return self.name.replace("\\", "/").rpartition("/")[2]


#: Choices whose default gives way to others: film that goes on the sheet first lies farther inside, a narrow
#: bit leaves less, tabs are as high as is usual in the sheet. The same value said by the maker does not.
GIVING_WAY = frozenset({"film.inset", "cutting.allowance", "part.tab_height", "part.tab_neck"})


@dataclass(frozen=True)
class Job:
    """Every choice by group; source and face are the names of the pictures' files, "" without one.

    said: those of GIVING_WAY that were said to be what their default is.
    """

    source: str = ""
    face: str = ""
    picture: PictureChoices = PictureChoices()
    shape: ShapeChoices = ShapeChoices()
    part: PartChoices = PartChoices()
    film: FilmChoices = FilmChoices()
    fit: FitChoices = FitChoices()
    stock: StockChoices = StockChoices()
    bit: BitChoices = BitChoices()
    cutting: CuttingChoices = CuttingChoices()
    knife: KnifeChoices = KnifeChoices()
    machine: MachineChoices = MachineChoices()
    files: FilesChoices = FilesChoices()
    said: frozenset[str] = frozenset()

    def value(self, key: str) -> Any:
        """The value of GROUP.CHOICE. Raises WrongCall for a choice that does not exist."""
        choice = choice_named(key)
        return getattr(getattr(self, choice.group), choice.name)

    def text(self, key: str) -> str:
        """The value of GROUP.CHOICE as it was typed. Raises WrongCall as value() does."""
        return choice_named(key).written(self.value(key))

    def with_choice(self, key: str, text: str) -> "Job":
        """The Job with GROUP.CHOICE as the text says. Raises WrongCall (no such choice) or BadValue."""
        return self.with_value(key, choice_named(key).read(text))

    def with_value(self, key: str, value: Any) -> "Job":
        """The Job with GROUP.CHOICE of this value, already read. Raises WrongCall as value() does."""
        choice = choice_named(key)
        group = replace(getattr(self, choice.group), **{choice.name: value})
        is_word = key in GIVING_WAY and choice.is_same(value, choice.default)
        said = self.said | {key} if is_word else self.said - {key}
        return replace(self, **{choice.group: group}, said=said)

    def with_default(self, key: str) -> "Job":
        """The Job with the default of GROUP.CHOICE, as if nobody had said it. Raises WrongCall."""
        job = self.with_value(key, choice_named(key).default)
        return replace(job, said=job.said - {key})

    def is_default(self, key: str) -> bool:
        """Whether GROUP.CHOICE means what its default means, however it was typed."""
        choice = choice_named(key)
        return choice.is_same(self.value(key), choice.default)

    def gives_way(self, key: str) -> bool:
        """Whether GROUP.CHOICE is its default and nobody said so."""
        return self.is_default(key) and key not in self.said

    def differences(self) -> tuple[str, ...]:
        """The keys of every choice that does not mean its default, in their order."""
        return tuple(key for key in CHOICES if not self.is_default(key))

    def woken_by(self, stage: Stage | str) -> tuple[object, ...]:
        """The values of the choices that wake this very stage, in their order."""
        woken = [key for key, choice in CHOICES.items() if choice.wakes == stage]
        return (*(self.value(key) for key in woken), self.said.intersection(woken))


def _all_choices() -> Mapping[str, Choice]:
    groups = [entry for entry in fields(Job) if entry.name not in {"source", "face", "said"}]
    choices = [choice for group in groups for choice in choices_in(group.name, type(group.default))]
    return MappingProxyType({choice.key: choice for choice in choices})


#: Every choice by its key, in the order of the groups.
CHOICES = _all_choices()


def choice_named(key: str) -> Choice:
    """The choice of this key. Raises WrongCall, which names the nearest one."""
    if key in CHOICES:
        return CHOICES[key]
    nearest = nearest_choice(key)
    hint = f"the nearest is {nearest}" if nearest else "`samecut choices` lists them all"
    raise WrongCall(f"There is no choice {key}; {hint}.")


def nearest_choice(key: str) -> str:
    """The key that looks most like this one, by whole key or by name alone; empty if none does."""
    from difflib import get_close_matches  # noqa: PLC0415 - needed only for a sentence about a mistake

    wanted = key.strip().casefold().replace("-", "_")
    keys = get_close_matches(wanted, CHOICES, 1)
    if keys:
        return keys[0]
    by_name = {choice.name: choice.key for choice in CHOICES.values()}
    names = get_close_matches(wanted.rpartition(".")[2], by_name, 1)
    return by_name[names[0]] if names else ""
