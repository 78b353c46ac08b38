"""A hole to hang the part by: where it may be, where it hangs straight, and how it will hang.

1. Its middle keeps a wall to every edge: that leaves an area, the part shrunk.
2. The plumb line goes through the centre of mass: on it, as high as the area reaches, the part hangs as it is
   drawn. Where the line misses the area above the centre, the place with the least lean is taken.
3. A place set by hand settles on the nearest place of the area.
"""

from dataclasses import dataclass, replace
from math import atan2, degrees, hypot

import numpy as np
import shapely

from core.findings import Finding, Level, Point
from core.outline.boolean import difference
from core.outline.loop import Loop
from core.outline.polygon import to_polygon, without_crossings
from core.outline.region import Region, Regions
from core.patches.shape import Shape

#: Wall between hole and edge: twice the thickness, and at least this, mm (bench practice, no source).
LEAST_WALL_MM, WALL_OF_THICKNESS = 4.0, 2.0
#: mm that the part's polygon may stray from its lines and arcs, and what is added to the wall for that.
FLATNESS_MM = 0.005
#: mm apart at which places are tried where the plumb line misses.
LOOK_MM = 0.25
#: mm by which a place set by hand may settle without a word.
SAME_PLACE_MM = 0.05
#: mm that the hole lies above the centre of mass at least where the plumb line gives it its place.
ABOVE_MM = 2.0
#: Degrees that nobody sees.
STRAIGHT_DEG = 0.5
CHORDS_PER_QUARTER = 32


@dataclass(frozen=True)
class HangerWish:
    """The hole's diameter and the sheet's thickness, mm; at in the shape's coordinates, None: proposed."""

    diameter_mm: float
    thickness_mm: float
    at: Point | None = None

    @property
    def wall_mm(self) -> float:
        """From the hole to the nearest edge."""
        return max(LEAST_WALL_MM, WALL_OF_THICKNESS * self.thickness_mm)


def hung(shape: Shape, wish: HangerWish | None) -> Shape:
    """The shape with a hole to hang it by, and how it will hang; the very same where none is wanted."""
    if wish is None:
        return shape
    room = room_for(shape.part, wish)
    if shapely.is_empty(room):
        return _told(shape, shape.part, _no_room(wish))
    middle = centre_of_mass(shape.part)
    at = hanging_place(room, middle) if wish.at is None else _nearest(room, wish.at)
    part = difference(shape.part, (Region(Loop.circle(at, wish.diameter_mm / 2.0)),))
    moved = () if wish.at is None else _moved(wish, at)
    with_hole = replace(shape, hanger=at)
    return _told(with_hole, part, *moved, _hangs(at, lean_deg(at, centre_of_mass(part)), len(part)))


def room_for(part: Regions, wish: HangerWish) -> shapely.Geometry:
    """Where the hole's middle may be."""
    reach = wish.wall_mm + wish.diameter_mm / 2.0 + FLATNESS_MM
    pieces = without_crossings(shapely.get_parts(to_polygon(part, FLATNESS_MM)))
    return shapely.union_all(
        [shapely.buffer(piece, -reach, quad_segs=CHORDS_PER_QUARTER) for piece in pieces]
    )


def centre_of_mass(part: Regions) -> Point:
    """Of the part, which is everywhere alike thick."""
    centre = shapely.centroid(to_polygon(part, FLATNESS_MM))
    return float(centre.x), float(centre.y)


def lean_deg(at: Point, middle: Point) -> float:
    """By how many degrees the part's foot swings to the left when hung at this place; to the right below 0.

    The centre of mass comes to lie plumb below the hole.
    """
    return degrees(atan2(middle[0] - at[0], at[1] - middle[1]))


def hanging_place(room: shapely.Geometry, middle: Point) -> Point:
    """The place that leans least; of several the highest."""
    x, y = middle
    high = float(shapely.bounds(room)[3])
    plumb = shapely.intersection(
        room, shapely.LineString([(x, y + ABOVE_MM), (x, max(high, y) + 2 * ABOVE_MM)])
    )
    if not shapely.is_empty(plumb):
        return x, float(shapely.bounds(plumb)[3])
    places = shapely.get_coordinates(shapely.segmentize(room, LOOK_MM))
    leans = np.abs(np.arctan2(x - places[:, 0], places[:, 1] - y))
    best = np.lexsort((places[:, 0], -places[:, 1], np.round(leans, 4)))[0]
    return float(places[best, 0]), float(places[best, 1])


def _nearest(room: shapely.Geometry, at: Point) -> Point:
    line = shapely.shortest_line(room, shapely.Point(at))
    (x, y), _ = shapely.get_coordinates(line).tolist()
    return float(x), float(y)


def _told(shape: Shape, part: Regions, *findings: Finding) -> Shape:
    patches = replace(shape.patches, findings=(*shape.patches.findings, *findings))
    return replace(shape, part=part, patches=patches)


def _hangs(at: Point, lean: float, pieces: int) -> Finding:
    how = (
        "straight"
        if abs(lean) < STRAIGHT_DEG
        else f"{abs(lean):.0f}° to the {'left' if lean > 0 else 'right'}"
    )
    text = f"By this hole the part hangs {how}: its centre of mass comes to lie plumb below."
    if pieces > 1:
        return Finding(
            Level.CAUTION,
            "hangs-in-pieces",
            f"The hole is in one of {pieces} pieces that do not touch: the others do not hang on it.",
            "Join the pieces, or hang each by its own hole.",
            at,
        )
    return Finding(Level.NOTE, "hangs", text, "Move the hole to have it hang another way.", at)


def _moved(wish: HangerWish, at: Point) -> tuple[Finding, ...]:
    assert wish.at is not None  # noqa: S101 - only called for a hole set by hand
    away = hypot(at[0] - wish.at[0], at[1] - wish.at[1])
    if away <= SAME_PLACE_MM:
        return ()
    text = f"The hole was moved {away:.1f} mm, to keep {wish.wall_mm:g} mm of wall to every edge."
    return (Finding(Level.NOTE, "hanger-moved", text, "Place it farther from the edge.", at),)


def _no_room(wish: HangerWish) -> Finding:
    return Finding(
        Level.CAUTION,
        "no-room-for-hanger",
        f"Nowhere in the part stays a wall of {wish.wall_mm:g} mm round a hole of {wish.diameter_mm:g} mm, "
        "so none is made.",
        "Make the shape larger, the hole smaller, or hang the part another way.",
    )
