"""When what is cut comes free, or hangs by its tabs alone: the moments that a maker watches for.

A contour is cut through where the bit makes its last cut below the stock's bottom. What it frees is the part
within an edge, or the piece of waste within an opening that is not milled away.
"""

from dataclasses import dataclass

import numpy as np

from core.findings import Point
from core.router.played import Chip, Played
from core.router.setup import Setup
from core.router.toolpath import Toolpath

#: mm below the stock's bottom that count as through: more than rounding.
THROUGH_MM = 1e-6
#: How a path names the last lap round a contour, and what stands between the copy's name and the contour's.
LAST_LAP, AFTER_COPY = ", last lap", ", "


@dataclass(frozen=True)
class Within:
    """A contour of one piece by its name in the path, and how many tabs hold what lies within it."""

    contour: str
    tabs: int


@dataclass(frozen=True)
class Freed:
    """The second and the place (mm) of the last cut; contour names the copy too, where there are several."""

    second: float
    at: Point
    contour: str
    tabs: int


def freed(toolpath: Toolpath, within: tuple[Within, ...], run: Played, setup: Setup) -> tuple[Freed, ...]:
    """Every contour that is cut through, in the order of the program; none over a skin, which holds all."""
    if setup.has_skin or not run.moves.size:
        return ()
    is_through = (run.points[1:, 2] < setup.bed_z - THROUGH_MM) & (run.kinds != Chip.AIR)
    operations = toolpath.operations[run.moves]
    last = np.full(len(toolpath.names), -1)
    np.maximum.at(last, operations[is_through], np.flatnonzero(is_through))
    tabs = {one.contour: one.tabs for one in within}
    ends: dict[str, int] = {}
    for operation, piece in zip(toolpath.names, last.tolist(), strict=True):
        contour = operation.name.removesuffix(LAST_LAP)
        if piece >= 0 and _of_piece(contour) in tabs:
            ends[contour] = max(piece, ends.get(contour, -1))
    found = [_freed(run, piece, contour, tabs[_of_piece(contour)]) for contour, piece in ends.items()]
    return tuple(sorted(found, key=lambda one: one.second))


def _of_piece(contour: str) -> str:
    """The name without the copy's."""
    return contour.rpartition(AFTER_COPY)[2]


def _freed(run: Played, piece: int, contour: str, tabs: int) -> Freed:
    x, y = run.points[piece + 1, :2].tolist()
    return Freed(float(run.seconds[piece + 1]), (x, y), contour, tabs)


def over_tabs(toolpath: Toolpath, run: Played, setup: Setup) -> tuple[float, ...]:
    """The seconds at which the bit runs over the middle of a tab's crest, on the last pass that does.

    With a last lap that is the lap; without one every pass that is lifted counts.
    """
    if not run.moves.size:
        return ()
    crest = setup.bed_z + setup.tab_rule.height_mm
    is_high = np.abs(run.points[:, 2] - crest) < THROUGH_MM
    names = [one.name.endswith(LAST_LAP) for one in toolpath.names]
    is_last = np.array(names if any(names) else [True] * len(names))[toolpath.operations[run.moves]]
    on_crest = is_high[:-1] & is_high[1:] & is_last & (run.kinds != Chip.AIR)
    edges = np.diff(np.concatenate(([0], on_crest.astype(np.int8), [0])))
    firsts, ends = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    return tuple(((run.seconds[firsts] + run.seconds[ends]) / 2.0).tolist())
