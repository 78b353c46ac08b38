"""The token by which long work is given up between two steps."""

from collections.abc import Callable
from dataclasses import dataclass

from core.errors import Cancelled


def _never() -> bool:
    return False


@dataclass(frozen=True)
class CancelToken:
    """Asked between steps; ``is_cancelled`` may look at an event, a pipe or nothing at all."""

    is_cancelled: Callable[[], bool] = _never

    def check(self) -> None:
        """Raise Cancelled when the work is no longer wanted."""
        if self.is_cancelled():
            raise Cancelled("The work was given up.")


NEVER = CancelToken()
