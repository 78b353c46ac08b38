"""Pieces of film that are left out when asked: too small to weed, or pointed at one by one."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from core.decal.thin import is_small
from core.findings import Point

Polygon = shapely.Geometry


@dataclass(frozen=True)
class LeftOut:
    """Every piece under smallest_mm2, all that are too small to weed, and those that hold one of the points.

    Points are in the frame, mm.
    """

    smallest_mm2: float = 0.0
    at: tuple[Point, ...] = ()
    all_small: bool = False

    @property
    def is_nothing(self) -> bool:
        """Whether every piece stays."""
        return not self.smallest_mm2 and not self.at and not self.all_small

    def of(self, film: Polygon) -> Polygon:
        """The pieces of a film that are left out."""
        points = [shapely.Point(point) for point in self.at]
        return shapely.union_all(
            [
                part
                for part in shapely.get_parts(film)
                if self._takes(part) or shapely.intersects(part, points).any()
            ]
        )

    def _takes(self, piece: Polygon) -> bool:
        """Whether a piece is left out wherever it lies."""
        return bool(shapely.area(piece) < self.smallest_mm2 or (self.all_small and is_small(piece)))


@dataclass(frozen=True)
class DroppedPiece:
    """A piece that was left out: a point inside it (frame, mm), and its area."""

    at: Point
    area_mm2: float


NOTHING = LeftOut()


def parted(film: Polygon, out: Polygon) -> tuple[Polygon, tuple[DroppedPiece, ...]]:
    """The film without its pieces that lie in what is left out, and those pieces."""
    if shapely.is_empty(out):
        return film, ()
    parts = [part for part in shapely.get_parts(film) if shapely.area(part) > 0.0]
    inside = [shapely.point_on_surface(part) for part in parts]
    is_out: list[bool] = np.atleast_1d(shapely.intersects(out, inside)).tolist()
    kept = [part for part, gone in zip(parts, is_out, strict=True) if not gone]
    dropped = tuple(
        DroppedPiece((float(at.x), float(at.y)), float(shapely.area(part)))
        for part, at, gone in zip(parts, inside, is_out, strict=True)
        if gone
    )
    return shapely.union_all(kept), dropped


def without(films: Sequence[Polygon], outs: Sequence[Polygon]) -> list[Polygon]:
    """Each film without what is left out of it."""
    return [parted(film, out)[0] for film, out in zip(films, outs, strict=True)]
