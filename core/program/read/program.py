"""What a router program says, as arrays: the answer of the reader."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Turns = NDArray[np.int8]
Flags = NDArray[np.bool_]


class EventKind(StrEnum):
    """What happens between two moves."""

    DWELL = "dwell"
    SPINDLE = "spindle"
    STOP = "stop"
    TOOL = "tool"


@dataclass(frozen=True)
class Event:
    """Something on a line of the file that takes effect before move number before_move.

    value: the P word of a dwell as written (its unit belongs to the controller); the signed rpm of a
    spindle from now on (negative for M4, 0 for off); the number of a tool; 0 for a stop (M0, M1, M60).
    """

    kind: EventKind
    line: int
    before_move: int
    value: float


@dataclass(frozen=True)
class Remark:
    """A comment; is_message when it is shown to the operator (MSG, NISTIR 6556 3.3.4)."""

    line: int
    text: str
    is_message: bool


@dataclass(frozen=True)
class Preamble:
    """The line on which each thing was first said, None where the file never says it."""

    units: int | None
    distance: int | None
    feed_mode: int | None
    plane: int | None


@dataclass(frozen=True)
class Ending:
    """line: where the program ends (None when it has no end); is_spinning: no M5 stood before it."""

    line: int | None
    is_spinning: bool


@dataclass(frozen=True, eq=False)
class Program:
    """n moves in the program's own coordinates, mm whatever the unit of the file.

    starts, ends (n, 3) mm, NaN where the file has not said an axis yet; centres (n, 2) mm, NaN for a line;
    turns (n,): 0 a line, 1 counter-clockwise, -1 clockwise seen from above; is_rapid (n,); feeds (n,)
    mm/min, NaN for a rapid and where no feed was given; rpm (n,) signed as in Event; lines (n,) counted
    from 1. unit is "mm", "inch", or "" where the file does not say.
    """

    starts: Floats
    ends: Floats
    centres: Floats
    turns: Turns
    is_rapid: Flags
    feeds: Floats
    rpm: Floats
    lines: Ints
    events: tuple[Event, ...]
    remarks: tuple[Remark, ...]
    unit: str
    preamble: Preamble
    ending: Ending
    line_count: int
    longest_line: int

    def __len__(self) -> int:
        return int(self.lines.size)
