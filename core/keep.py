"""Which results of an earlier Build may be kept: the one place that decides.

A stage is made again when a choice that wakes it has another value, or when a result it stands on
was made again. Results are compared by identity, since arrays have no single truth value.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from time import perf_counter
from typing import TypeVar, cast

from core.cancel import CancelToken

T = TypeVar("T")


@dataclass(frozen=True, eq=False)
class Kept:
    """What a stage stood on, what it gave, and how long it took."""

    choices: tuple[object, ...]
    needs: tuple[object, ...]
    result: object
    seconds: float

    def still_holds(self, choices: tuple[object, ...], needs: tuple[object, ...]) -> bool:
        """Whether the result is what the stage would give now."""
        stands_alike = len(self.needs) == len(needs) and all(map(_same, self.needs, needs))
        return stands_alike and self.choices == choices


def _same(earlier: object, now: object) -> bool:
    return earlier is now or (isinstance(now, (str, bytes, float, int)) and earlier == now)


def _silent(_stage: str) -> None:
    """Progress that nobody asked for."""


@dataclass
class Keeper:
    """Runs stages by name, taking what still holds from an earlier run."""

    token: CancelToken
    choices_of: Callable[[str], tuple[object, ...]]
    earlier: Mapping[str, Kept] = field(default_factory=dict)
    tell: Callable[[str], None] = field(default=_silent)
    kept: dict[str, Kept] = field(default_factory=dict)

    def holds(self, name: str, needs: tuple[object, ...]) -> bool:
        """Whether the stage's earlier result would be taken."""
        before = self.earlier.get(name)
        return before is not None and before.still_holds(self.choices_of(name), needs)

    def stage(self, name: str, needs: tuple[object, ...], make: Callable[[], T]) -> T:
        """The result of the stage: kept from the earlier run, or made now. Raises Cancelled."""
        self.token.check()
        choices = self.choices_of(name)
        before = self.earlier.get(name)
        if before is None or not before.still_holds(choices, needs):
            self.tell(name)
            begun = perf_counter()
            result = make()
            before = Kept(choices, needs, result, perf_counter() - begun)
        self.kept[name] = before
        return cast("T", before.result)
