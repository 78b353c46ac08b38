"""One outer Loop and its openings: a solid piece of part, film or stock."""

from collections.abc import Iterable
from dataclasses import dataclass

from core.errors import BadShape
from core.outline.loop import Bounds, Loop, Moved


@dataclass(frozen=True, eq=False)
class Region:
    """outer runs counter-clockwise, openings clockwise (else BadShape); none touches another."""

    outer: Loop
    openings: tuple[Loop, ...] = ()

    def __post_init__(self) -> None:
        if self.outer.signed_area() <= 0.0:
            raise BadShape("the outer Loop of a Region runs counter-clockwise")
        if any(opening.signed_area() >= 0.0 for opening in self.openings):
            raise BadShape("an opening of a Region runs clockwise")

    def loops(self) -> tuple[Loop, ...]:
        """The outer Loop, then the openings."""
        return (self.outer, *self.openings)

    def area(self) -> float:
        """mm2, openings taken off."""
        return sum(loop.signed_area() for loop in self.loops())

    def mapped(self, change: Moved) -> "Region":
        """The Region whose Loops are change(loop); change keeps each Loop's turning sense."""
        return Region(change(self.outer), tuple(change(opening) for opening in self.openings))


Regions = tuple[Region, ...]


def mapped(regions: Regions, change: Moved) -> Regions:
    """Every Region with change(loop) in the place of each Loop."""
    return tuple(region.mapped(change) for region in regions)


def bounds_of(loops: Iterable[Loop]) -> Bounds:
    """x_min, y_min, x_max, y_max, mm, round all of them; BadShape when there is none."""
    boxes = [loop.bounds() for loop in loops]
    if not boxes:
        raise BadShape("nothing has no bounds")
    lows_x, lows_y, highs_x, highs_y = zip(*boxes, strict=True)
    return min(lows_x), min(lows_y), max(highs_x), max(highs_y)
