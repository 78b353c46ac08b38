"""What a maker measures before and after the cut, with what it should be and what it may be."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from core.build import Build
from core.job.resolve import doubts_of
from core.kit.programs import window_of
from core.outline.region import bounds_of

#: mm by which a calliper on a routed edge, or on film, may be off (common practice, no source).
READING_MM = 0.1
#: mm; a tab's neck shows how wide the bit really cuts, and a worn one is that much off (the same).
NECK_MM = 0.3
#: Places in which a sheet is measured.
PLACES = 5


@dataclass(frozen=True)
class Measured:
    """what: "sheet", "marks", "film", "part" or "neck"; of: the film's name or the marks' places; mm."""

    what: str
    of: str
    expected_mm: float
    least_mm: float
    most_mm: float
    readings: int = 1


def measures_of(made: Build) -> tuple[Measured, ...]:
    """In the order of the work."""
    return tuple(_measures(made))


def _measures(made: Build) -> Iterator[Measured]:
    window = window_of(made)
    stock = made.layout.stock
    yield Measured("sheet", "", stock.thickness_mm, window.thinnest_mm, window.thickest_mm, PLACES)
    yield from _part(made)
    if made.path.tabs:
        neck = min(tab.neck_mm for tab in made.path.tabs)
        yield Measured("neck", "", neck, max(neck - NECK_MM, 0.0), neck + NECK_MM)
    if made.films.films:
        yield from _marks(made)
        yield _film(made)


def _length(what: str, of: str, length_mm: float, made: Build, readings: int = 1) -> Measured:
    """A length is as doubtful as the reading and the scales of the two machines."""
    off = READING_MM + doubts_of(made.job).scale * length_mm
    return Measured(what, of, length_mm, length_mm - off, length_mm + off, readings)


def _part(made: Build) -> Iterator[Measured]:
    outers = [region.outer for region in made.as_cut or made.part]
    if outers:
        _, low, _, high = bounds_of(outers)
        yield _length("part", "", high - low, made)


def _marks(made: Build) -> Iterator[Measured]:
    """From the key mark to the farthest other one; once in the sheet, once in the film."""
    keys = [mark.at for mark in made.layout.marks if mark.is_key]
    others = [mark.at for mark in made.layout.marks if not mark.is_key]
    if keys and others:
        (x, y) = keys[0]
        apart, far = max((hypot(u - x, v - y), (u, v)) for u, v in others)
        readings = 1 if made.job.fit.way == "sheet" else 2
        yield _length("marks", f"({far[0]:.1f}, {far[1]:.1f})", apart, made, readings)


def _film(made: Build) -> Measured:
    """The tallest film, as its pieces lie on one part."""
    heights = [
        (high - low, film.name)
        for film in made.films.films
        for _, low, _, high in [bounds_of(region.outer for region in film.regions)]
    ]
    tall, name = max(heights)
    return _length("film", name, tall, made)
