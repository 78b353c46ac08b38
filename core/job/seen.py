"""Kinds of choice for how a picture is squared up: four corners, a crop, and a size of paper."""

from dataclasses import dataclass
from typing import ClassVar

from core.errors import BadValue
from core.findings import Point
from core.job.kinds import Colour, Kind
from core.job.placed import PicturePoint, halves_of
from core.picture.paper_size import PAPERS, PaperSize
from core.units import LENGTH, parsed

_NONE = "none"
#: mm; a sheet smaller than a stamp or larger than a wall is a slip of the hand.
_LEAST_SIDE, _MOST_SIDE = 20.0, 5000.0


@dataclass(frozen=True)
class PicturePoints(Kind[tuple[Point, ...]]):
    """So many points on the upright source picture, px, or none of them."""

    name: ClassVar[str] = "points on the picture"
    count: int
    what: str
    example: str

    @property
    def unit(self) -> str:
        """Picture pixels."""
        return "px"

    def read(self, text: str) -> tuple[Point, ...]:
        """The points in their order, parted by semicolons; none is an empty tuple."""
        if text.strip().casefold() in {"", _NONE}:
            return ()
        parts = [part for part in text.split(";") if part.strip()]
        if len(parts) != self.count:
            raise BadValue(f"{len(parts)} points were given; it takes {self.limits()}")
        return tuple(PicturePoint().read(part) for part in parts)

    def written(self, value: tuple[Point, ...]) -> str:
        """The points, or none."""
        return "; ".join(map(PicturePoint().written, value)) or _NONE

    def limits(self) -> str:
        """How many, and of what."""
        return f"none or {self.what} in picture pixels from the top left, like {self.example}"


@dataclass(frozen=True)
class ColourPair(Kind[tuple[str, str]]):
    """Two found colours that are to be one: the first takes in the second."""

    name: ClassVar[str] = "pair of colours"

    def read(self, text: str) -> tuple[str, str]:
        """Two colours with a space between them."""
        parts = text.replace("+", " ").split()
        if len(parts) != 2:
            raise BadValue(f"'{text.strip()}' is no pair of colours; it takes {self.limits()}")
        return Colour().read(parts[0]), Colour().read(parts[1])

    def written(self, value: tuple[str, str]) -> str:
        """Both colours with a space between them."""
        return " ".join(value)

    def limits(self) -> str:
        """The form."""
        return "two colours, the first to take in the second, like #e9c46a #d9b45a"


@dataclass(frozen=True)
class Paper(Kind[PaperSize]):
    """A size of paper by its name, or by its two sides."""

    name: ClassVar[str] = "paper"

    def read(self, text: str) -> PaperSize:
        """A4, Letter and so on, or two lengths in either order like 100 x 150 mm."""
        wanted = text.strip()
        for paper in PAPERS:
            if paper.name.casefold() == wanted.casefold():
                return paper
        sides = _sides(wanted)
        if sides is None:
            raise BadValue(f"'{wanted}' is no size of paper; it takes {self.limits()}")
        short, long = sorted(sides)
        if not _LEAST_SIDE <= short <= long <= _MOST_SIDE:
            raise BadValue(f"'{wanted}' is no size that a sheet has; it takes {self.limits()}")
        return PaperSize(wanted, short, long)

    def written(self, value: PaperSize) -> str:
        """What was typed."""
        return value.name

    def limits(self) -> str:
        """The names, and the form of any other size."""
        return f"{', '.join(paper.name for paper in PAPERS)} or two lengths like 100 x 150 mm"

    def is_same(self, one: PaperSize, other: PaperSize) -> bool:
        """Whether both are of one size, however they were typed."""
        return (one.short_mm, one.long_mm) == (other.short_mm, other.long_mm)


def _sides(text: str) -> tuple[float, float] | None:
    """Both sides in mm; a unit behind the second holds for a bare first; None where they are no lengths."""
    halves = halves_of(text)
    if halves is None:
        return None
    unit = halves[1].lstrip("0123456789., /")
    try:
        first = parsed(halves[0] + unit if halves[0][-1:].isdigit() else halves[0], LENGTH)
        return first.value, parsed(halves[1], LENGTH).value
    except BadValue:
        return None
