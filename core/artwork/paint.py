"""From ink to what the partition takes: closed runs of lines and arcs, in px of the Outline.

1. Every sub-path is taken to the Outline's px. A stroke under a map that makes ovals of circles is first
   only enlarged, so that its width is still one width, and taken the rest of the way as areas.
2. All curves are fitted together; closed ones that are circles become circles.
3. Strokes become areas, and what of these are ovals by then is fitted once more.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.artwork.affine import Affine
from core.artwork.edges import Bow, SubPath
from core.artwork.fit import fitted
from core.artwork.ink import Ink
from core.artwork.round import rounded
from core.artwork.stroke import Pen, stroked
from core.errors import UnreadableFile
from core.outline.crossing import SNAP
from core.outline.partition import Paint
from core.outline.segments import Segments

#: Lines and arcs of a whole drawing; what has more is a photograph in crumbs.
MOST_SEGMENTS = 200_000


@dataclass(frozen=True, eq=False)
class _Job:
    """An ink whose sub-paths are at the size at which they are fitted; then is what is left of the way."""

    paths: tuple[SubPath, ...]
    pen: Pen | None
    then: Affine


def painted(inks: Sequence[Ink], labels: Sequence[int], to_px: Affine, tolerance: float) -> list[Paint]:
    """The paints of inks, each labelled with the index of its colour."""
    jobs = [_job(ink, to_px.after(ink.place)) for ink in inks]
    jobs = [replace(job, paths=paths) for job, paths in zip(jobs, _fitted(jobs, tolerance), strict=True)]
    jobs = [_as_areas(job) for job in jobs]
    areas = _fitted(jobs, tolerance)
    found = []
    for ink, label, paths in zip(inks, labels, areas, strict=True):
        segments = segments_of(paths)
        if len(segments):
            found.append(Paint(segments, ink.is_even_odd and ink.pen is None, label))
    return found


def _job(ink: Ink, place: Affine) -> _Job:
    if ink.pen is None:
        return _Job(tuple(path.mapped(place) for path in ink.paths), None, Affine())
    size = place.stretch()
    if place.keeps_round():
        return _Job(_all_mapped(ink.paths, place), replace(ink.pen, half=ink.pen.half * size), Affine())
    larger = Affine(a=size)
    pen = replace(ink.pen, half=ink.pen.half * size)
    return _Job(_all_mapped(ink.paths, larger), pen, place.after(Affine(a=1.0 / size)))


def _all_mapped(paths: Sequence[SubPath], to: Affine) -> tuple[SubPath, ...]:
    return tuple(path.mapped(to) for path in paths)


def _fitted(jobs: Sequence[_Job], tolerance: float) -> list[tuple[SubPath, ...]]:
    """Every sub-path of every job with nothing but lines and arcs."""
    paths = [[rounded(path, tolerance) for path in job.paths] for job in jobs]
    curves = [edge for own in paths for path in own for edge in path.edges if not isinstance(edge, Bow)]
    bows = iter(fitted(curves, tolerance))
    return [tuple(SubPath(tuple(_spelled(path, bows)), path.is_closed) for path in own) for own in paths]


def _spelled(path: SubPath, bows: Iterator[tuple[Bow, ...]]) -> Iterator[Bow]:
    for edge in path.edges:
        if isinstance(edge, Bow):
            yield edge
        else:
            yield from next(bows)


def _as_areas(job: _Job) -> _Job:
    """Strokes as areas at their place; areas as they are."""
    if job.pen is None:
        return job
    areas = [
        area
        for path in job.paths
        for area in stroked(
            [edge for edge in path.edges if isinstance(edge, Bow)], job.pen, is_closed=path.is_closed
        )
    ]
    return _Job(_all_mapped(areas, job.then), None, Affine())


def segments_of(paths: Sequence[SubPath]) -> Segments:
    """The lines and arcs of sub-paths, each closed by a line where it is not."""
    bows = [bow for path in paths for bow in _closed(path)]
    if len(bows) > MOST_SEGMENTS:
        raise UnreadableFile("The drawing is too fine to be cut: it has more than 200 000 lines and arcs.")
    starts = np.array([bow.start for bow in bows], dtype=np.complex128)
    ends = np.array([bow.end for bow in bows], dtype=np.complex128)
    bulges = np.array([bow.bulge for bow in bows], dtype=np.float64)
    return Segments(_pairs(starts), _pairs(ends), bulges)


def _pairs(points: np.ndarray) -> np.ndarray:
    return np.column_stack((points.real, points.imag))


def _closed(path: SubPath) -> list[Bow]:
    """The lines and arcs that go anywhere, end to end, and back to the beginning."""
    found: list[Bow] = []
    for edge in path.edges:
        if not isinstance(edge, Bow):
            continue
        start = found[-1].end if found else edge.start
        if abs(edge.end - start) > SNAP:
            found.append(Bow(start, edge.end, edge.bulge))
    if not found:
        return []
    if abs(found[-1].end - found[0].start) > SNAP:
        return [*found, Bow(found[-1].end, found[0].start)]
    return [*found[:-1], Bow(found[-1].start, found[0].start, found[-1].bulge)]
