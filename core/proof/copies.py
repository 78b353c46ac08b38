"""The copies of one piece in a drawing: where each lies, read off the drawing itself, and whether all agree.

A layer holds the contours of the first copy, then those of the second in the same order, and so on. Copies
are moved, or moved and turned by half a turn. When all are told to be the same, the first one is proven.
"""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.layers import Contour, Layers, NamedLayers
from core.proof.readback import breach

#: mm by which a copy may differ from the first: what files round to, many times less than can be cut.
SAME_COPY = 5e-4
#: Layers that hold contours of every copy; the others belong to the sheet.
COPIED = ("part", "as-cut", "patch-", "film-")

Points = NDArray[np.float64]


@dataclass(frozen=True)
class Motion:
    """A point p of the first copy lies at shift + sign p in this one; sign -1: turned by half a turn."""

    sign: float
    shift: tuple[float, float]

    def of(self, points: Points) -> Points:
        """(n, 2) mm, moved."""
        return np.asarray(np.array(self.shift) + self.sign * points)

    def back(self, points: Points) -> Points:
        """(n, 2) mm, moved back to the first copy."""
        return np.asarray(self.sign * (points - np.array(self.shift)))

    def area(self, area: BaseGeometry) -> BaseGeometry:
        """An area of the first copy, moved."""
        return shapely.transform(area, self.of)


def motions_in(layers: Layers, pieces: int) -> tuple[Motion, ...] | None:
    """Where each copy lies, by the layer `part`; None where its contours are not so many copies."""
    groups = _grouped(layers.of("part"), pieces)
    if groups is None:
        return None
    first = np.vstack([contour.points for contour in groups[0]])
    found = [_motion(first, group) for group in groups]
    known = tuple(motion for motion in found if motion is not None)
    return known if len(known) == pieces else None


def _grouped(contours: tuple[Contour, ...], pieces: int) -> list[tuple[Contour, ...]] | None:
    each, rest = divmod(len(contours), pieces)
    if rest or not each:
        return None
    return [contours[start : start + each] for start in range(0, len(contours), each)]


def _motion(first: Points, group: tuple[Contour, ...]) -> Motion | None:
    points = np.vstack([contour.points for contour in group])
    if points.shape != first.shape:
        return None
    for sign in (1.0, -1.0):
        shift = (points - sign * first).mean(axis=0)
        if np.abs(points - sign * first - shift).max() <= SAME_COPY:
            return Motion(sign, (float(shift[0]), float(shift[1])))
    return None


def of_first_copy(drawing: NamedLayers, motions: tuple[Motion, ...], found: list[Finding]) -> NamedLayers:
    """The drawing with the contours of the first copy alone; others that differ are added to found."""
    if len(motions) == 1:
        return drawing
    contours = dict(drawing.layers.contours)
    for name, every in drawing.layers.contours.items():
        if name.startswith(COPIED):
            groups = _grouped(every, len(motions))
            if groups is None or not _are_copies(groups, motions):
                text = f"The copies in the layer {name} of {drawing.path} are not alike."
                found.append(breach("copies-differ", text))
                continue
            contours[name] = groups[0]
    return NamedLayers(
        drawing.path, Layers(contours, drawing.layers.not_read, wider_mm=drawing.layers.wider_mm)
    )


def _are_copies(groups: list[tuple[Contour, ...]], motions: tuple[Motion, ...]) -> bool:
    """Whether every group is the first one moved, all its contours at once."""
    kinds = [[(one.is_closed, len(one.points)) for one in group] for group in groups]
    if any(kind != kinds[0] for kind in kinds):
        return False
    points, bulges = _drawn(groups[0])
    halves = np.concatenate([_chords(one) for one in groups[0]]) / 2.0
    return all(
        np.abs(motion.of(points) - others).max(initial=0.0) <= SAME_COPY
        and (np.abs(bulges - bends) * halves).max(initial=0.0) <= SAME_COPY  # sagitta = bulge c / 2
        for motion, (others, bends) in zip(motions, map(_drawn, groups), strict=True)
    )


def _drawn(group: tuple[Contour, ...]) -> tuple[Points, Points]:
    """All points and all bulges of a group."""
    return np.vstack([one.points for one in group]), np.concatenate([one.bulges for one in group])


def _chords(contour: Contour) -> Points:
    """Length of the chord that each bulge bends, mm."""
    following = np.concatenate((contour.points[1:], contour.points[:1]))
    return np.asarray(np.hypot(*(following - contour.points).T)[: len(contour.bulges)])


def nearness_findings(
    outline: BaseGeometry, motions: tuple[Motion, ...], bit_mm: float
) -> tuple[Finding, ...]:
    """A stop when two copies lie so near that cutting one takes from the other."""
    areas = np.array([motion.area(outline) for motion in motions], dtype=object)
    one, other = shapely.STRtree(areas).query(areas, predicate="dwithin", distance=bit_mm)
    near = np.flatnonzero(one < other)
    if not near.size:
        return ()
    at = shapely.centroid(areas[one[near[0]]])
    text = f"{near.size} pairs of copies lie nearer to each other than the bit is wide."
    return (breach("copies-too-near", text, (at.x, at.y)),)
