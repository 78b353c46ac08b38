"""How the films fit the part's face: how far their edges lie from where the inset puts them.

A film's edge that runs along the face should lie the inset away from it, everywhere. What it is off is far
below a pixel, so it is drawn many times enlarged. Edges between two films, which cross the face, are left
out: a place follows the face where its distance to it does not change along the way.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPolygonF

from core.job.resolve import inset_of
from core.outline.measure import all_loops, distances
from core.router.unrolled import Unrolled

if TYPE_CHECKING:
    from core.outline.loop import Loop
    from core.outline.segments import Floats
    from core.router.unrolled import Places
    from core.shown import Shown

#: How many times larger the misfit is drawn.
GAIN = 20.0
#: mm along the edge between two places that are looked at.
STEP_MM = 0.5
#: mm; less than this is rounding of the offsets, and no finger's breadth at twenty times.
SEEN_MM = 0.002
#: mm beyond the inset within which an edge is one that should follow the face.
NEAR_MM = 0.5
#: mm of distance per mm of way; an edge that nears the face faster crosses it.
SLOPE = 0.05
#: mm to either side of a place over which its slope is taken.
ASIDE_MM = 0.05


@dataclass(frozen=True, eq=False)
class Misfit:
    """blades: in the scene, between the film's edge and where it should be, the way drawn GAIN times.

    largest_mm and where, frame; inset_mm is how far the films should stay inside the face.
    """

    blades: tuple[QPolygonF, ...]
    largest_mm: float
    at: tuple[float, float]
    inset_mm: float


def misfit_of(shown: "Shown") -> Misfit:
    """The misfit of all films that are shown."""
    blades: list[QPolygonF] = []
    inset, face = inset_of(shown.job), all_loops(shown.as_cut)
    largest, where = 0.0, (0.0, 0.0)
    for loop in (loop for film in shown.films.films for loop in all_loops(film.regions)):
        here, off = _off(Unrolled.of(loop), face, inset)
        outward = here.to_left(-1.0) - here.points
        blades += _blades(here.points, here.points + GAIN * off[:, None] * outward, np.abs(off))
        if np.abs(off).max() > largest:
            largest = float(np.abs(off).max())
            x, y = here.points[int(np.abs(off).argmax())].tolist()
            where = (x, y)
    return Misfit(tuple(blades), largest, where, inset)


def _off(path: Unrolled, face: "tuple[Loop, ...]", inset: float) -> "tuple[Places, Floats]":
    """Places all along a film's edge, and how much farther than the inset each is from the face, mm.

    0 where the edge does not follow the face.
    """
    even = np.linspace(0.0, path.length, max(8, int(path.length / STEP_MM)))
    at = np.union1d(even, path.begins + ASIDE_MM) % path.length  # short of corners a slope says nothing
    at.sort()
    here = path.at(at)
    before, after = (distances(face, path.at(at + step).points) for step in (-ASIDE_MM, ASIDE_MM))
    gap = distances(face, here.points)
    follows = (np.abs(after - before) < 2.0 * ASIDE_MM * SLOPE) & (gap < inset + NEAR_MM)
    return here, np.where(follows, gap - inset, 0.0)


def _blades(feet: np.ndarray, tips: np.ndarray, off: np.ndarray) -> list[QPolygonF]:
    """One polygon for each run of places whose misfit can be seen."""
    flags = np.concatenate(([False], off > SEEN_MM, [False])).astype(np.int8)
    firsts, ends = np.flatnonzero(np.diff(flags) == 1), np.flatnonzero(np.diff(flags) == -1)
    found = []
    for first, end in zip(firsts.tolist(), ends.tolist(), strict=True):
        rows = slice(max(first - 1, 0), end + 1)
        ring = np.vstack((feet[rows], tips[rows][::-1]))
        found.append(QPolygonF([QPointF(x, -y) for x, y in ring.tolist()]))
    return found
