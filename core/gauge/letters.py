"""Where the letters of the gauge stand on its plate, on paper and in the window."""

from collections.abc import Iterable, Iterator

from core.findings import Point
from core.gauge.feature import Side
from core.gauge.plate import Measured, MeasuredStep

#: Where along its line a letter stands, so that letters of lines that cross or lie side by side do not meet:
#: on lines that are level and upright, of the plate, its opening and its holes, and on those that run across.
LEVEL = {Side.OUTER: 0.8, Side.INNER: 0.5, Side.NEAR: 0.36, Side.FAR: 0.36}
UPRIGHT = {Side.OUTER: 0.57, Side.INNER: 0.57, Side.NEAR: 0.42, Side.FAR: 0.42}
ACROSS = 0.25


def letters_at(
    distances: Iterable[Measured], stair: Iterable[MeasuredStep]
) -> Iterator[tuple[tuple[str, ...], Point]]:
    """The letters of each line, two where near and far edges are read on it, and of each step; mm."""
    lines_of: dict[tuple[Point, Point], list[Measured]] = {}
    for one in distances:
        lines_of.setdefault((one.start, one.end), []).append(one)
    for (start, end), on_it in lines_of.items():
        share = _share(on_it[0])
        x, y = (a + share * (b - a) for a, b in zip(start, end, strict=True))
        yield tuple(one.letter for one in on_it), (x, y)
    for step in stair:
        yield (step.letter,), step.at


def _share(one: Measured) -> float:
    """How far along its line."""
    if one.start[1] == one.end[1]:
        return LEVEL[one.feature.side]
    return UPRIGHT[one.feature.side] if one.start[0] == one.end[0] else ACROSS
