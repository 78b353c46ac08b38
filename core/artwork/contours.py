"""Drawings of edges: lines end to end become closed contours, and contours of one colour nest by even-odd.

1. What is drawn twice is taken once.
2. Ends nearer to one another than the gap that may be bridged belong together; from each end the line that
   goes on straightest follows, until the run is back where it began.
3. A run that is not is left out, and said with its place.
4. The contours of one colour are one ink, the colour with the largest box lowest.
"""

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass

from core.artwork.edges import Bezier, Bow, Edge, Oval, SubPath
from core.artwork.ink import Ink, box_round, spots_of
from core.findings import Finding, Level
from core.patches.colour_names import Rgb

#: mm: ends nearer than this belong together. Drawing programs write ends to a few digits; a bit of less
#: than this does not exist.
JOIN_MM = 0.02

#: Open runs told one by one.
MOST_PLACES = 12

#: Layers of our own drawings that are not the shape, by the start of their names, and those that are.
NOT_SHAPE = ("as-cut", "marks", "weeding", "notes")
SHAPE = ("part", "patch-", "film-")


@dataclass(frozen=True, eq=False)
class DrawnLine:
    """A line as drawn, on the page: its sub-path, colour, and the layer's name."""

    path: SubPath
    colour: Rgb
    layer: str = ""


@dataclass(frozen=True, eq=False)
class Contours:
    """Inks by colour, lowest first; findings have their place on the page."""

    inks: tuple[Ink, ...]
    findings: tuple[Finding, ...]


def contours_of(lines: Sequence[DrawnLine], gap: float) -> Contours:
    """The contours of a drawing of edges; ends up to gap apart (in the page's unit) belong together."""
    wanted = _of_shape(lines)
    once = _once(wanted, gap)
    inks, findings = [], []
    if len(once) < len(wanted):
        findings.append(_twice(len(wanted) - len(once)))
    for colour in dict.fromkeys(line.colour for line in once):
        paths = [line.path for line in once if line.colour == colour]
        closed, left = joined_up([path for path in paths if not _is_round(path, gap)], gap)
        closed += [SubPath(path.edges, is_closed=True) for path in paths if _is_round(path, gap)]
        findings += _open_ones(left)
        if closed:
            inks.append(Ink(tuple(closed), colour, is_even_odd=True))
    inks.sort(key=lambda ink: -_area(ink))
    return Contours(tuple(inks), tuple(findings))


def _of_shape(lines: Sequence[DrawnLine]) -> list[DrawnLine]:
    """The lines, without marks, notes and the like where the drawing is one of our own."""
    names = [line.layer.lower().replace("_", "-") for line in lines]
    if not any(name.startswith(SHAPE) for name in names):
        return list(lines)
    return [line for line, name in zip(lines, names, strict=True) if not name.startswith(NOT_SHAPE)]


def _is_round(path: SubPath, gap: float) -> bool:
    """Whether a line is a contour by itself."""
    ends = abs(path.edges[0].start - path.edges[-1].end)
    return path.is_closed or (ends <= gap and abs(spots_of(path) - path.edges[0].start).max() > 2.0 * gap)


def _area(ink: Ink) -> float:
    x_min, y_min, x_max, y_max = box_round([ink.box()])
    return (x_max - x_min) * (y_max - y_min)


def _once(lines: Sequence[DrawnLine], gap: float) -> list[DrawnLine]:
    """The lines without those that lie on an earlier one of the same colour."""
    kept: dict[object, DrawnLine] = {}
    for line in lines:
        kept.setdefault(_key(line, gap), line)
    return list(kept.values())


def _key(line: DrawnLine, gap: float) -> object:
    places = [(round(spot.real / gap), round(spot.imag / gap)) for spot in spots_of(line.path).tolist()]
    ways = min(places, places[::-1])
    return line.colour, tuple(sorted(ways) if line.path.is_closed else ways)


def joined_up(paths: Sequence[SubPath], gap: float) -> tuple[list[SubPath], list[SubPath]]:
    """Closed contours from open paths, and the runs that stay open."""
    ends = _Ends(paths, gap)
    closed: list[SubPath] = []
    left: list[SubPath] = []
    for first in range(len(paths)):
        if first in ends.taken:
            continue
        run, is_closed = ends.run_from(first)
        (closed if is_closed else left).append(SubPath(tuple(run), is_closed))
    return closed, left


class _Ends:
    """Both ends of every open path, by the cell of a grid as wide as the gap."""

    def __init__(self, paths: Sequence[SubPath], gap: float) -> None:
        self.paths, self.gap = paths, gap
        self.taken: set[int] = set()
        self.cells: dict[tuple[int, int], list[tuple[int, bool]]] = {}
        for index, path in enumerate(paths):
            for is_end, spot in ((False, path.edges[0].start), (True, path.edges[-1].end)):
                self.cells.setdefault(self._cell(spot), []).append((index, is_end))

    def _cell(self, spot: complex) -> tuple[int, int]:
        return math.floor(spot.real / self.gap), math.floor(spot.imag / self.gap)

    def run_from(self, first: int) -> tuple[list[Edge], bool]:
        """The run through a path, carried on from its end, then from its beginning."""
        self.taken.add(first)
        run = list(self.paths[first].edges)
        for _ in range(2):
            while (more := self._next(run)) is not None:
                run += more
            if self._closes(run):
                return run, True
            run = [_reversed(edge) for edge in run[::-1]]
        return run, False

    def _closes(self, run: list[Edge]) -> bool:
        return len(run) > 1 and abs(run[-1].end - run[0].start) <= self.gap

    def _next(self, run: list[Edge]) -> list[Edge] | None:
        """What goes on straightest from the end of a run that is not closed yet."""
        if self._closes(run):
            return None
        heading, best, chosen = _heading(run[-1], at_end=True), math.inf, None
        for index, is_end in self._near(run[-1].end):
            edges = list(self.paths[index].edges)
            edges = [_reversed(edge) for edge in edges[::-1]] if is_end else edges
            turn = abs(cmath.phase(_heading(edges[0], at_end=False) * heading.conjugate()))
            if turn < best:
                best, chosen = turn, (index, edges)
        if chosen is None:
            return None
        self.taken.add(chosen[0])
        return chosen[1]

    def _near(self, spot: complex) -> list[tuple[int, bool]]:
        column, row = self._cell(spot)
        found = []
        for x in (column - 1, column, column + 1):
            for y in (row - 1, row, row + 1):
                for index, is_end in self.cells.get((x, y), ()):
                    path = self.paths[index]
                    end = path.edges[-1].end if is_end else path.edges[0].start
                    if index not in self.taken and abs(end - spot) <= self.gap:
                        found.append((index, is_end))
        return found


def _reversed(edge: Edge) -> Edge:
    if isinstance(edge, Bow):
        return edge.reversed()
    if isinstance(edge, Oval):
        return Oval(edge.centre, edge.u, edge.v, edge.last, edge.first, edge.end, edge.start)
    return Bezier(edge.points[::-1], None if edge.weights is None else edge.weights[::-1])


def _heading(edge: Edge, *, at_end: bool) -> complex:
    """About the direction of travel at an end."""
    spots = spots_of(SubPath((edge,), is_closed=False))
    a, b = (spots[-2], spots[-1]) if at_end else (spots[0], spots[1])
    return complex(b - a)


def _twice(count: int) -> Finding:
    return Finding(
        Level.NOTE,
        "drawn-twice",
        f"{count} lines of the drawing lie on others just like them and are taken once.",
        "Delete the copies, if a program cuts both.",
    )


def _open_ones(left: Sequence[SubPath]) -> list[Finding]:
    """One caution for each run that stays open, and the number of those that are not told."""
    found = [_open_one(path) for path in left[:MOST_PLACES]]
    if len(left) > MOST_PLACES:
        text = f"{len(left) - MOST_PLACES} more lines of the drawing are left out because they are open."
        found.append(Finding(Level.CAUTION, "open-lines", text, "Close them, if they are edges."))
    return found


def _open_one(path: SubPath) -> Finding:
    ends = path.edges[0].start, path.edges[-1].end
    return Finding(
        Level.CAUTION,
        "open-line",
        "A line of the drawing ends here and does not come back to where it began; it is left out.",
        "Close it, if it is an edge; delete it, if it is not.",
        max((end.real, end.imag) for end in ends),
    )
