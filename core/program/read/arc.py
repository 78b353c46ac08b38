"""Where the centre of a written arc lies, and whether its two radii agree (NISTIR 6556 3.5.3)."""

from dataclasses import dataclass
from math import hypot, sqrt

from core.program.read.leniency import Leniency
from core.program.read.lexer import refuse

MM_PER_INCH = 25.4
#: mm; a chord longer than the R arc's diameter by no more than rounding to three decimals is a half turn.
R_SLACK = 0.002


@dataclass(frozen=True, slots=True)
class ArcWords:
    """The words of an arc in the file's unit, None where a word is absent."""

    i: float | None
    j: float | None
    r: float | None


Place = tuple[float, float]


def centre_by_offsets(start: Place, end: Place, offset: Place, line: int, rule: "MismatchRule") -> Place:
    """Centre, mm, from I and J in mm, which count from the start of the arc (3.5.17: always increments)."""
    first = hypot(*offset)
    if first == 0.0:
        refuse(line, "an arc has its centre at its own start")
    x, y = start[0] + offset[0], start[1] + offset[1]
    last = hypot(end[0] - x, end[1] - y)
    if rule.is_broken(first, last):
        refuse(line, f"the arc's radius is {first:.4f} mm at its start but {last:.4f} mm at its end")
    return x, y


def centre_by_radius(start: Place, end: Place, radius: float, turn: int, line: int) -> Place:
    """Centre, mm, from R in mm: above 0 for at most half a turn, below 0 for more (3.5.3.1)."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    chord = hypot(dx, dy)
    if chord == 0.0:
        refuse(line, "an arc by radius ends where it starts, so that it has no centre")
    if abs(radius) < chord / 2.0 - R_SLACK:
        refuse(line, f"a radius of {abs(radius):.4f} mm does not reach over {chord:.4f} mm")
    height = sqrt(max(radius**2 - chord**2 / 4.0, 0.0))
    side = turn * (1.0 if radius > 0.0 else -1.0) * height / chord
    return (start[0] + end[0]) / 2.0 - side * dy, (start[1] + end[1]) / 2.0 + side * dx


@dataclass(frozen=True, slots=True)
class MismatchRule:
    """Two radii are too different: by more than slack mm and share of the radius, or by more than most mm."""

    slack: float
    share: float
    most: float

    @classmethod
    def of(cls, leniency: Leniency, unit: float) -> "MismatchRule":
        """The rule for a file whose unit is this many mm."""
        slack = leniency.mismatch_inch_file_mm if unit == MM_PER_INCH else leniency.mismatch_mm
        return cls(slack, leniency.mismatch_share, max(slack, leniency.mismatch_most_mm))

    def is_broken(self, first: float, last: float) -> bool:
        """Whether radii of first and last mm are those of no arc."""
        apart = abs(first - last)
        return apart > self.most or (apart > self.slack and apart > self.share * first)
