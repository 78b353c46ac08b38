"""Kinds of choice for what a hand places: points on the picture or the stock, and roles of patches.

Points on the picture are in pixels of the upright source picture as picture editors show them: x to
the right, y down, from the top left corner. Points on the stock are in mm of the frame.
"""

import re
from dataclasses import dataclass
from typing import ClassVar

from core.errors import BadValue
from core.findings import Point
from core.job.kinds import Colour, Kind
from core.job.wish import PointPair, RoleOfColour, RoleOfPatch
from core.patches.role import Role
from core.units import LENGTH, in_digits, parsed, plain_signs

#: Wider than any picture that is read, px.
LARGEST_PICTURE = 100_000.0
#: Work zero and marks lie on this grid, mm: exact in every format, also at 40 steps per mm.
GRID = 0.5
#: Wider than any stock, mm.
LARGEST_STOCK = 5000.0

_PIXELS = re.compile(r"[0-9]{1,6}(?:[.,][0-9]{1,400})?")
_SPACED_DIGITS = re.compile(r"[0-9.,]\s+[0-9.,]")
_FILM_NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
#: Longest name of a film; it becomes part of file names.
LONGEST_FILM_NAME = 40


def halves_of(text: str) -> tuple[str, str] | None:
    """The two coordinates in `412,388`, `412 388`, `412 x 388` or `412,5 388,5`; None if not two."""
    plain = plain_signs(text)
    for separator in ("x", ","):
        if plain.count(separator) == 1:
            first, second = plain.split(separator)
            return first.strip(), second.strip()
    pieces = [piece.rstrip(",") for piece in plain.split()]
    return (pieces[0], pieces[1]) if len(pieces) == 2 else None


@dataclass(frozen=True)
class PicturePoint(Kind[Point]):
    """A point on the upright source picture, px."""

    name: ClassVar[str] = "point on the picture"

    @property
    def unit(self) -> str:
        """Picture pixels."""
        return "px"

    def read(self, text: str) -> Point:
        """Pixels to the right and down from the picture's top left corner."""
        halves = halves_of(text)
        if halves is None or not all(map(_PIXELS.fullmatch, halves)):
            raise BadValue(f"'{text.strip()}' is no point on the picture; it takes {self.limits()}")
        x, y = (float(half.replace(",", ".")) for half in halves)
        if max(x, y) > LARGEST_PICTURE:
            raise BadValue(f"'{text.strip()}' lies outside any picture; it takes {self.limits()}")
        return x, y

    def written(self, value: Point) -> str:
        """Both numbers with a comma between them."""
        return f"{in_digits(value[0])},{in_digits(value[1])}"

    def limits(self) -> str:
        """The form."""
        return "pixels right and down from the picture's top left corner, like 412,388"


@dataclass(frozen=True)
class FramePoint(Kind[Point]):
    """A point of the frame on the 0.5 mm grid."""

    name: ClassVar[str] = "point on the stock"

    @property
    def unit(self) -> str:
        """Millimetres."""
        return "mm"

    def read(self, text: str) -> Point:
        """Millimetres to the right of the stock's left near corner, and away from it."""
        halves = halves_of(text)
        if halves is None or any(map(_SPACED_DIGITS.search, halves)):
            raise BadValue(f"'{text.strip()}' is no point on the stock; it takes {self.limits()}")
        x, y = (parsed(half, LENGTH).value for half in halves)
        if max(abs(x), abs(y)) > LARGEST_STOCK:
            raise BadValue(f"'{text.strip()}' lies outside any stock; it takes {self.limits()}")
        if x % GRID or y % GRID:
            raise BadValue(f"'{text.strip()}' is off the 0.5 mm grid; it takes {self.limits()}")
        return x + 0.0, y + 0.0  # -0.0 becomes 0.0, which prints alike everywhere

    def written(self, value: Point) -> str:
        """Both numbers with a comma between them."""
        return f"{in_digits(value[0])},{in_digits(value[1])}"

    def limits(self) -> str:
        """The form."""
        return "mm right of and beyond the stock's left near corner, in steps of 0.5, like 0,0"


@dataclass(frozen=True)
class SpokenRole:
    """A role and the name of its film, as they stand together in text."""

    role: Role
    film: str = ""

    @staticmethod
    def read(text: str) -> "SpokenRole":
        """The role in `film shell`, `film`, `bare`, `through` or `ground`. Raises BadValue."""
        word, _, film = " ".join(text.split()).casefold().partition(" ")
        if word not in list(Role):
            raise BadValue(f"'{text.strip()}' is no role; a patch becomes film NAME, bare, through or ground")
        if film and word != Role.FILM:
            raise BadValue(f"'{text.strip()}' says too much; only a film has a name")
        if film and not (_FILM_NAME.fullmatch(film) and len(film) <= LONGEST_FILM_NAME):
            raise BadValue(f"'{film}' cannot name a film; use letters a to z, digits and single hyphens")
        return SpokenRole(Role(word), film)

    def written(self) -> str:
        """The role as it is typed."""
        return f"{self.role} {self.film}".strip()


@dataclass(frozen=True)
class ColourAndRole(Kind[RoleOfColour]):
    """A colour and what becomes of its patches."""

    name: ClassVar[str] = "role of a colour"

    def read(self, text: str) -> RoleOfColour:
        """A colour like #2e7d5b and a role behind it."""
        colour, _, said = text.strip().partition(" ")
        spoken = SpokenRole.read(said)
        return RoleOfColour(Colour().read(colour), spoken.role, spoken.film)

    def written(self, value: RoleOfColour) -> str:
        """Colour, then role."""
        return f"{value.colour} {SpokenRole(value.role, value.film).written()}"

    def limits(self) -> str:
        """The form."""
        return "a colour and its role, like #2e7d5b film shell, or bare, through, ground"


_PATCH = re.compile(
    r"(?P<at>[0-9.,x\u00d7\s]+?)\s*(?P<colour>#[0-9a-f]*)?\s*(?P<role>[a-wyz].*)", re.IGNORECASE | re.DOTALL
)


@dataclass(frozen=True)
class PatchAndRole(Kind[RoleOfPatch]):
    """A point inside a patch, its colour if it is to be checked, and what becomes of that patch."""

    name: ClassVar[str] = "role of a patch"

    def read(self, text: str) -> RoleOfPatch:
        """A point like 412,388, perhaps a colour, and a role behind it."""
        found = _PATCH.fullmatch(text.strip())
        if not found:
            raise BadValue(f"'{text.strip()}' is no point with a role; it takes {self.limits()}")
        spoken = SpokenRole.read(found["role"])
        colour = Colour().read(found["colour"]) if found["colour"] else ""
        return RoleOfPatch(PicturePoint().read(found["at"]), spoken.role, spoken.film, colour)

    def written(self, value: RoleOfPatch) -> str:
        """Point, then colour, then role."""
        words = (PicturePoint().written(value.at), value.colour, value.role, value.film)
        return " ".join(word for word in words if word)

    def limits(self) -> str:
        """The form."""
        return "a point in the patch, in pixels from the top left, and its role, like 412,388 through"


@dataclass(frozen=True)
class PairOfPoints(Kind[PointPair]):
    """A point of the second picture and the same point on the first."""

    name: ClassVar[str] = "pair of points"

    @property
    def unit(self) -> str:
        """Pixels, of each its own picture."""
        return "px"

    def read(self, text: str) -> PointPair:
        """Two points with an equals sign between them, that of the second picture first."""
        second, equals, first = text.partition("=")
        if not equals:
            raise BadValue(f"'{text.strip()}' is no pair of points; it takes {self.limits()}")
        return PointPair(PicturePoint().read(second), PicturePoint().read(first))

    def written(self, value: PointPair) -> str:
        """Both points, an equals sign between them."""
        return f"{PicturePoint().written(value.second)} = {PicturePoint().written(value.first)}"

    def limits(self) -> str:
        """The form."""
        return (
            "a point of the second picture = the same point on the first, in pixels, like 412,388 = 300,291"
        )
