"""Where an area is thinner than a width: strokes of a film, and gaps between its strokes.

What a disc of that width does not reach inside the area (its opening, Serra 1982) is thin. The crumbs that
an opening leaves in corners are no strokes: a corner is narrow at its end, however wide the piece. So a
thin place counts where it is a whole piece, where it joins two wide ones, or where it stands out from a
wide one by more than a corner of LEAST_TAPER would.

All is found on polygons: the places are told, and what is made of them is cut exactly later on.
"""

from dataclasses import dataclass
from math import pi, sin, sqrt

import shapely

from core.findings import Point

#: mm2 and mm: finer film is dragged along by the blade or lost in weeding (practice, no source).
TINY_PIECE_MM2, LEAST_STROKE_MM, LEAST_GAP_MM = 3.0, 0.8, 0.8
#: rad: a tip under this angle is a stroke that runs out; a wider one is a corner (practice, no source).
LEAST_TAPER = pi / 9.0
#: Chords in a quarter circle; at a radius of 0.4 mm they stray by 0.0035 mm.
CHORDS = 6
#: mm by which an opening is grown, so that flattening alone leaves no thin place beside it.
SEAM_MM = 0.01
#: mm2; less is what flattening leaves; and a way over to wider film that is narrower than the seam is none.
NOTHING_MM2, LEAST_MOUTH_MM2 = 0.01, SEAM_MM**2

Polygon = shapely.Geometry


@dataclass(frozen=True, eq=False)
class ThinPlace:
    """An area that is thinner than asked; width_mm is its mean width, at a point inside it (frame, mm)."""

    area: Polygon
    at: Point
    width_mm: float


def thin_places(area: Polygon, width_mm: float) -> list[ThinPlace]:
    """The places where the area is thinner than width_mm (> 0), corners apart; frame, mm."""
    wide = opened(area, width_mm / 2.0)
    rest = shapely.difference(area, shapely.buffer(wide, SEAM_MM, quad_segs=CHORDS))
    parts = [part for part in shapely.get_parts(rest) if shapely.area(part) > NOTHING_MM2]
    if not parts:
        return []
    near = shapely.buffer(parts, 2.0 * SEAM_MM, quad_segs=1)
    mouths = shapely.intersection(near, wide)
    return [
        _told(part, mouth)
        for part, mouth in zip(parts, mouths, strict=True)
        if _is_stroke(part, mouth, width_mm)
    ]


def is_small(piece: Polygon) -> bool:
    """Whether a piece is too small to weed: little area, or nowhere as wide as a stroke must be."""
    is_tiny = shapely.area(piece) < TINY_PIECE_MM2
    return bool(is_tiny or shapely.is_empty(shapely.buffer(piece, -LEAST_STROKE_MM / 2.0)))


def opened(area: Polygon, radius_mm: float) -> Polygon:
    """What a disc of this radius reaches inside the area."""
    shrunk = shapely.buffer(area, -radius_mm, quad_segs=CHORDS)
    return shapely.buffer(shrunk, radius_mm, quad_segs=CHORDS)


def _is_stroke(part: Polygon, mouth: Polygon, width_mm: float) -> bool:
    """Whether it is a piece of its own, a join, or longer than a corner's crumb."""
    if _ways_over(mouth) != 1:
        return True
    corners = shapely.points(shapely.get_coordinates(part))
    return bool(shapely.distance(corners, mouth).max() > crumb_mm(width_mm))


def _ways_over(mouth: Polygon) -> int:
    """In how many places a thin one goes over into wider film."""
    return int((shapely.area(shapely.get_parts(mouth)) > LEAST_MOUTH_MM2).sum())


def crumb_mm(width_mm: float) -> float:
    """How far a corner of LEAST_TAPER stands out from the largest disc of this width in it."""
    return width_mm / 2.0 * (1.0 / sin(LEAST_TAPER / 2.0) - 1.0)


def _told(part: Polygon, mouth: Polygon) -> ThinPlace:
    edge = shapely.boundary(part)
    sides = shapely.length(shapely.difference(edge, shapely.buffer(mouth, 3.0 * SEAM_MM, quad_segs=1)))
    free_ends = max(0, 2 - _ways_over(mouth))
    at = shapely.point_on_surface(part)
    width = _mean_width(float(shapely.area(part)), float(sides), free_ends)
    return ThinPlace(part, (float(at.x), float(at.y)), width)


def _mean_width(area: float, sides: float, free_ends: int) -> float:
    """That of a strip w wide and l long, of which area = l w and sides = 2 l + free_ends w are known."""
    root = sides**2 - 8.0 * free_ends * area
    if free_ends == 0 or root < 0.0:  # a strip that is as wide as long has no such width
        return 2.0 * area / sides if sides > 0.0 else 0.0
    return (sides - sqrt(root)) / (2.0 * free_ends)
