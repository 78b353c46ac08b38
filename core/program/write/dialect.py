"""What controllers differ in, as data."""

from dataclasses import dataclass
from enum import StrEnum

from core.errors import BadValue

MM_PER_INCH = 25.4
#: Steps a second dwell is told in, by the controller's unit of G4 P.
DWELL_PER_SECOND = {"s": 1.0, "ms": 1000.0}

#: Characters: a numbered helix with four decimals and no spaces just fits; NISTIR 6556 3.3 ends at 256.
SHORTEST_LIMIT, LONGEST_LIMIT = 60, 256


class SpindleBy(StrEnum):
    """Who sets the spindle: the program alone, a knob for its speed, or a switch for all of it."""

    PROGRAM = "program"
    KNOB = "knob"
    SWITCH = "switch"


@dataclass(frozen=True)
class Dialect:
    """How a controller wants its programs.

    decimals of coordinates (None: 4 in mm, 5 in inches); chord_tolerance_mm for controllers without arcs;
    line_limit in characters, the line's end left out (small controllers cut lines off behind 80 or 70).
    Raises BadValue for what no controller takes.
    """

    takes_arcs: bool = True
    chord_tolerance_mm: float = 0.002
    decimals: int | None = None
    ending: str = "M2"
    has_per_cent_signs: bool = False
    has_line_numbers: bool = False
    has_comments: bool = True
    newline: str = "\n"
    unit: str = "mm"
    extension: str = ".nc"
    line_limit: int = 70
    dwell_unit: str = "s"
    spindle: SpindleBy = SpindleBy.PROGRAM

    def __post_init__(self) -> None:
        _one_of("ending", self.ending, ("M2", "M30"))
        _one_of("newline", self.newline, ("\n", "\r\n"))
        _one_of("unit", self.unit, ("mm", "inch"))
        _one_of("dwell unit", self.dwell_unit, tuple(DWELL_PER_SECOND))
        if not 2 <= self.places() <= 6:
            raise BadValue(f"Coordinates are written with 2 to 6 decimals, not {self.places()}.")
        if not SHORTEST_LIMIT <= self.line_limit <= LONGEST_LIMIT:
            limits = f"{SHORTEST_LIMIT} to {LONGEST_LIMIT}"
            raise BadValue(f"A program's lines are limited to {limits} characters, not {self.line_limit}.")
        if not self.chord_tolerance_mm > 0.0:
            raise BadValue(f"A chord tolerance is above 0 mm, not {self.chord_tolerance_mm}.")

    def places(self) -> int:
        """Decimals of a coordinate."""
        if self.decimals is not None:
            return self.decimals
        return 4 if self.unit == "mm" else 5

    def mm_per_unit(self) -> float:
        """How many mm the file's unit is."""
        return 1.0 if self.unit == "mm" else MM_PER_INCH

    def step_mm(self) -> float:
        """The smallest difference that a written coordinate can tell, mm."""
        return self.mm_per_unit() / 10.0 ** self.places()


def _one_of(name: str, value: str, allowed: tuple[str, ...]) -> None:
    if value not in allowed:
        raise BadValue(f"A program's {name} is one of {', '.join(map(repr, allowed))}, not {value!r}.")
