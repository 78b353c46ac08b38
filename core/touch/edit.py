"""What a touch-up is: values in px of the upright source picture, x right, y down."""

from dataclasses import dataclass
from enum import StrEnum

from core.findings import Point


class Way(StrEnum):
    """What a touch-up of the pixels does."""

    RUB = "rub"
    FILL = "fill"
    BRIDGE = "bridge"
    PART = "part"


@dataclass(frozen=True)
class Touch:
    """One edit of the pixels.

    rub: the disc of radius size px about at takes the colour round it. fill: the speck round at takes the
    colour round it. bridge and part: a bar from at to to, size px wide, of the colour at its ends; a bridge
    ends within what it joins, a parting ends outside of what it parts.
    """

    way: Way
    at: Point
    to: Point | None = None
    size: float = 0.0


@dataclass(frozen=True)
class Corner:
    """The corner nearest to at made sharp (radius 0), or round with a radius in px, or in mm if is_mm."""

    at: Point
    radius: float = 0.0
    is_mm: bool = False
