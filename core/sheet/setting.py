"""One way to lay the part on a sheet: how large the sheet, where the part, which side takes the hinge."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from core.outline.loop import Bounds
from core.sheet.rule import GRID_MM, Clearances


class Side(StrEnum):
    """A side of the stock, seen from where the maker stands: left, right, near, far."""

    LEFT = "left"
    RIGHT = "right"
    NEAR = "near"
    FAR = "far"


@dataclass(frozen=True)
class Setting:
    """The stock's box in the shape's coordinates, mm, and the side kept for the hinge (None: none fits)."""

    left: float
    near: float
    width: float
    depth: float
    hinge: Side | None

    @property
    def size(self) -> tuple[float, float]:
        """Width and depth, mm."""
        return self.width, self.depth

    @property
    def box(self) -> Bounds:
        """The stock's box."""
        return self.left, self.near, self.left + self.width, self.near + self.depth

    def room_for(self, clearances: Clearances, *, is_key: bool) -> Bounds:
        """Where the centre of a mark may stand as far as the stock's edges are concerned."""
        edge = {side: clearances.to_edge(is_key=is_key) for side in Side}
        if self.hinge is not None:
            edge[self.hinge] = clearances.to_hinged_edge(is_key=is_key)
        return (
            self.left + edge[Side.LEFT],
            self.near + edge[Side.NEAR],
            self.left + self.width - edge[Side.RIGHT],
            self.near + self.depth - edge[Side.FAR],
        )


def settings(
    size: tuple[float, float],
    part: Bounds,
    clearances: Clearances,
    *,
    with_hinge: bool = True,
    places: int = 2,
) -> Iterator[Setting]:
    """Every setting worth trying on a sheet of this size, the part to the left and near first.

    places: how many of the part along each side; the ends alone, unless clamps stand there.
    """
    for hinge in Side if with_hinge else (None,):
        frame = {side: clearances.frame() for side in Side}
        if hinge is not None:
            frame[hinge] = clearances.hinged_frame()
        lefts = _starts(part[0] - frame[Side.LEFT], part[2] + frame[Side.RIGHT] - size[0], places)
        nears = _starts(part[1] - frame[Side.NEAR], part[3] + frame[Side.FAR] - size[1], places)
        for near in nears:
            for left in lefts:
                yield Setting(left, near, *size, hinge)


def _starts(highest: float, lowest: float, places: int) -> list[float]:
    """Where the stock may begin: from as late to as early as the part's frame allows, on the grid."""
    late = np.floor(highest / GRID_MM + 1e-9) * GRID_MM
    early = np.ceil(lowest / GRID_MM - 1e-9) * GRID_MM
    if early > late:
        return []
    steps = np.rint(np.linspace(late, early, places) / GRID_MM)
    return list(dict.fromkeys((steps * GRID_MM).tolist()))
