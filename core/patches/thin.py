"""Where the part is so narrow that it breaks in the hand: necks, strokes, and whole parts.

The part is opened by a disc (shrunk, then grown again: J. Serra, Image Analysis and Mathematical Morphology,
1982); what that takes away is narrower than the disc. A sharp tip is taken away too, and does not count: a
neck joins two places that stay, and a stroke keeps its width nearly to its end.
"""

import shapely

from core.findings import Finding, Level, Point
from core.outline.polygon import to_polygon
from core.outline.region import Regions

#: mm; a part of sheet that is narrower snaps when masking or tape comes off (common practice, no source).
LEAST_MM = 2.0
#: mm; polygons that are only looked at stray by this, and what is added so that a corner is never a place.
FLATNESS, RESERVE = 0.01, 0.02
#: Widths that a stroke is long at least, and the share of length by width that it fills; a tip fills half.
LONG, FULL = 2.0, 0.7
#: Places told one by one; beyond it their number says as much.
MOST_PLACES = 12
CHORDS_PER_QUARTER = 16

Narrow = tuple[float, Point]


def narrow_findings(part: Regions, least_mm: float = LEAST_MM) -> tuple[Finding, ...]:
    """A caution for each place that is narrower, the narrowest first; part in mm."""
    found = sorted(narrow_places(part, least_mm))
    told = [_told(width, at, least_mm) for width, at in found[:MOST_PLACES]]
    if len(found) > MOST_PLACES:
        told.append(_more(len(found) - MOST_PLACES, least_mm))
    return tuple(told)


def narrow_places(part: Regions, least_mm: float) -> list[Narrow]:
    """Width, mm, and place of every neck, stroke and whole part narrower than least_mm."""
    found: list[Narrow] = []
    for region in part:
        solid = shapely.make_valid(to_polygon((region,), FLATNESS))
        kept = shapely.buffer(solid, -least_mm / 2.0, quad_segs=CHORDS_PER_QUARTER)
        opened = shapely.buffer(kept, least_mm / 2.0 + RESERVE, quad_segs=CHORDS_PER_QUARTER)
        for piece in shapely.get_parts(shapely.difference(solid, opened)):
            place = _place(piece, opened, least_mm)
            if place is not None:
                found.append(place)
    return found


def _place(piece: shapely.Geometry, opened: shapely.Geometry, least_mm: float) -> Narrow | None:
    if not isinstance(piece, shapely.Polygon) or shapely.area(piece) < FLATNESS:
        return None
    if shapely.is_empty(opened):
        return _widest(piece)
    edge = shapely.difference(shapely.boundary(piece), shapely.buffer(opened, FLATNESS))
    sides = list(shapely.get_parts(shapely.line_merge(edge))) if shapely.length(edge) else []
    if len(sides) > 1:
        return _neck(sides)
    return _widest(piece) if _is_stroke(piece, opened, least_mm) else None


def _neck(sides: list[shapely.Geometry]) -> Narrow:
    """The narrowest place between the two longest sides."""
    one, other = sorted(sides, key=shapely.length)[-2:]
    across = shapely.shortest_line(one, other)
    middle = shapely.centroid(across)
    return float(shapely.length(across)), (float(middle.x), float(middle.y))


def _widest(piece: shapely.Polygon) -> Narrow:
    radius = shapely.maximum_inscribed_circle(piece)
    x, y = shapely.get_coordinates(radius)[0].tolist()
    return 2.0 * float(shapely.length(radius)), (x, y)


def _is_stroke(piece: shapely.Polygon, opened: shapely.Geometry, least_mm: float) -> bool:
    corners = shapely.points(shapely.get_coordinates(piece))
    length = float(shapely.distance(opened, corners).max())
    width, _ = _widest(piece)
    return length > LONG * least_mm and float(shapely.area(piece)) > FULL * length * width


def _told(width: float, at: Point, least_mm: float) -> Finding:
    return Finding(
        Level.CAUTION,
        "part-thin",
        f"The part is {width:.2f} mm wide here; under {least_mm:g} mm it snaps easily.",
        "Make the shape larger, draw this place wider, or set it on a base plate.",
        at,
    )


def _more(count: int, least_mm: float) -> Finding:
    return Finding(
        Level.CAUTION,
        "part-thin-more",
        f"The part is narrower than {least_mm:g} mm in {count} more places.",
        "Make the shape larger, or set it on a base plate.",
    )
