"""What a kit may be told besides its Job: an earlier kit to compare with, and whether to look for limits."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Also:
    """earlier: the report of an earlier kit; with_limits: the smallest and largest good height are sought."""

    earlier: Mapping[str, Any] | None = None
    with_limits: bool = False


#: Nothing is asked for besides.
NOTHING = Also()
