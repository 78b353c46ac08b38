"""Where the bit comes on to the wall of each contour: as the maker wants it, as it is, and what is amiss."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.findings import Finding, Level, Point
from core.router.contour import Begun, Cut
from core.router.entries import STRAIGHT_MM
from core.router.strand import Strand
from core.router.tab_grid import GENTLE, Contour, nearest_contour, turned_within

#: mm from a contour within which a strand begins or ends on it.
ON_IT_MM = 1e-3
#: mm by which an entry may settle without a word.
SAME_PLACE_MM = 0.5


@dataclass(frozen=True)
class Entered:
    """name of the contour in words; at: where the exact path is come on to, in the frame."""

    name: str
    at: Point
    is_by_hand: bool


def with_entries(
    cuts: tuple[Cut, ...], contours: Sequence[Contour], points: Sequence[Point]
) -> tuple[Cut, ...]:
    """The cuts, each with the entry that the maker placed nearest to its contour; of several the last."""
    asked = {nearest_contour(contours, point)[0]: point for point in points}
    return tuple(replace(cut, enter=asked.get(index)) for index, cut in enumerate(cuts))


def entered(starts: Sequence[Begun], strands: Sequence[Strand]) -> tuple[Entered, ...]:
    """Of each contour of the first piece, in their order."""
    every = (_entered(start, strands) for start in starts)
    return tuple(one for one in every if one is not None)


def _entered(start: Begun, strands: Sequence[Strand]) -> Entered | None:
    """Of its longest strand the end that lies where one of its entries is."""
    name = start.cut.name
    own = [one for one in strands if one.name.removeprefix("copy 1, ") in {name, f"{name}, last lap"}]
    places = start.lap.at(np.array([entry.at for entry in start.entries])).points
    ends = np.array([strand.points[row, :2] for strand in own for row in (0, -1)]).reshape(-1, 2)
    gaps = np.hypot(*(ends[:, None] - places[None]).transpose(2, 0, 1))
    if not gaps.size or gaps.min() > ON_IT_MM:
        return None
    x, y = places[np.unravel_index(gaps.argmin(), gaps.shape)[1]].tolist()
    return Entered(name, (x, y), start.cut.enter is not None)


def entry_findings(starts: Sequence[Begun], points: Sequence[Point]) -> tuple[Finding, ...]:
    """What is to be said of entries placed by hand."""
    by_hand = [start for start in starts if start.cut.enter is not None]
    told = [found for start in by_hand for found in _judged(start)]
    if len(by_hand) < len(points):
        text = "Several entries were placed by hand at one edge: of these the last is taken."
        told.append(Finding(Level.NOTE, "entries-at-one-edge", text, "Remove the others."))
    return tuple(told)


def _judged(start: Begun) -> Iterator[Finding]:
    (entry,), path, name = start.entries, start.lap, start.cut.name
    assert start.cut.enter is not None  # noqa: S101 - entry_findings asks so
    asked, here = np.array([path.nearest(start.cut.enter)]), np.array([entry.at])
    x, y = path.at(here).points[0].tolist()
    away = math.dist(path.at(asked).points[0], (x, y))
    if away > SAME_PLACE_MM:
        text = f"The entry of the {name} was moved {away:.1f} mm: the bit is lifted over a tab there."
        yield Finding(Level.NOTE, "entry-moved", text, "Place it farther from the tabs.", (x, y))
    if turned_within(path, here, min(STRAIGHT_MM, path.length / 2.0))[0] > GENTLE:
        text = f"The {name} is entered on a bend or a corner, where a mark of it is seen most."
        yield Finding(Level.CAUTION, "entry-on-bend", text, "Place the entry on a straight run.", (x, y))
    if entry.lead is None:
        text = f"There is no room to lead on to the {name} where it is entered: the bit marks the wall."
        yield Finding(Level.CAUTION, "entry-without-lead", text, "Place the entry elsewhere.", (x, y))
