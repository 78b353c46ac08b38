"""What the maker says becomes of patches: of every patch of a colour, or of a single one that differs."""

from dataclasses import dataclass

from core.findings import Point
from core.patches.role import Role


@dataclass(frozen=True)
class RoleOfColour:
    """The role of every patch of the found colour nearest to this one (#rrggbb).

    film names the film, and is empty when its colour is to name it.
    """

    colour: str
    role: Role
    film: str = ""


@dataclass(frozen=True)
class RoleOfPatch:
    """The role of the one patch round a point: px of the upright source picture, x right, y down.

    colour (#rrggbb, or empty) is what the patch had when it was pressed, so that another patch which
    has taken its place is not mistaken for it.
    """

    at: Point
    role: Role
    film: str = ""
    colour: str = ""


@dataclass(frozen=True)
class PointPair:
    """A point of the second picture and the same point on the first: px, x right, y down, each its own."""

    second: Point
    first: Point
