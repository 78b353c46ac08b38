"""Lettering kept whole: a row of glyphs that the face would clip is moved or made smaller as a whole.

A glyph's stamp is all that its outer edge bounds. With the row its stamps move, and whatever lies in them;
the film round them closes the places that they leave, and gives way where they come to lie. So the row
stays on the same ground, and every edge is still a line or an arc of the one outline, moved.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from core.decal.film import FilmSource
from core.decal.glyph_rows import glyph_rows
from core.decal.thin import LEAST_GAP_MM
from core.findings import Finding, Level, Point
from core.outline.boolean import difference, intersection, union
from core.outline.loop import Loop
from core.outline.polygon import to_polygon, to_solid
from core.outline.region import Region, Regions, bounds_of, mapped
from core.outline.segments import Floats

#: mm that polygons stray from arcs; rows stay so far inside the face, so that it never clips them.
FLATNESS_MM, MARGIN_MM = 0.005, 0.02
#: mm by which the face must take from a glyph to clip it.
CLIPPED_MM = 0.03
#: Share of a glyph's edge that lies along the part's edge where it is no lettering but the part itself.
MOST_AT_EDGE = 0.5
#: Share of what lies round a row that must be of one kind for it to lie on that.
ONE_GROUND = 0.9
#: A row is moved by no more than its height, and made smaller by no more than this.
MOST_MOVED, SMALLEST = 1.0, 0.6
#: Share by which a row is made smaller from one try to the next.
SCALE_STEP = 0.01
#: mm within which two edges run along each other.
ALONG_MM = 0.02
#: mm that a glyph's edge may be simpler by where it is asked how far it may move.
ROUGH_MM = 0.01

Polygon = shapely.Geometry


@dataclass(frozen=True)
class MovedRow:
    """A row of glyphs of a film: points in them as drawn (frame, mm), then scaled about a point and moved.

    ground is the film that it lies on, "" for bare ground.
    """

    film: str
    glyphs: tuple[Point, ...]
    about: Point
    scale: float
    shift: Point
    ground: str

    def of(self, loop: Loop) -> Loop:
        """A loop of the row where it comes to lie."""
        (x, y), (right, up) = self.about, self.shift
        return loop.moved(-x, -y).scaled(self.scale).moved(x + right, y + up)


@dataclass(frozen=True, eq=False)
class Lettering:
    """The films' sources with rows moved, those rows, and what is told of rows that are clipped."""

    sources: tuple[FilmSource, ...]
    moved: tuple[MovedRow, ...] = ()
    findings: tuple[Finding, ...] = ()


def with_lettering(
    sources: tuple[FilmSource, ...], part: Regions, face: Regions, wish: str = "clipped"
) -> Lettering:
    """wish: rows that the face would clip are "clipped", "moved" or "scaled"; part is the part as cut."""
    bound = _solid(face)
    shapely.prepare(bound)
    moved: list[MovedRow] = []
    findings: list[Finding] = []
    for place in range(len(sources)):
        for row in _clipped_rows(sources[place], part, bound):
            offers = {way: _offer(sources, place, row, bound, way) for way in ("moved", "scaled")}
            made = offers.get(wish)
            if made is None:
                findings.append(_clipped(sources[place], row, bound, offers, wish))
            else:
                sources = _with_row(sources, place, row, made)
                moved.append(made)
                findings.append(_told(made))
    return Lettering(sources, tuple(moved), tuple(findings))


def _clipped_rows(source: FilmSource, part: Regions, face: Polygon) -> list[Regions]:
    """The rows of glyphs from which the face takes something, as drawn."""
    rows = glyph_rows([region.outer.bounds() for region in source.patch])
    found = []
    for row in rows:
        glyphs = tuple(source.patch[one] for one in row)
        solid = _solid(glyphs)
        is_whole = shapely.covers(face, solid) or shapely.covers(
            shapely.buffer(face, CLIPPED_MM, quad_segs=2), solid
        )
        if not is_whole and not _is_part(solid, part):
            found.append(glyphs)
    return found


def _is_part(glyphs: Polygon, part: Regions) -> bool:
    """Whether the glyphs are the part itself: their edge lies along its edge, and the inset takes its own."""
    edge = shapely.buffer(shapely.boundary(_solid(part)), ALONG_MM, quad_segs=1)
    outline = shapely.boundary(glyphs)
    along = shapely.length(shapely.intersection(outline, edge))
    return bool(along > MOST_AT_EDGE * shapely.length(outline))


def _offer(
    sources: Sequence[FilmSource], place: int, row: Regions, face: Polygon, way: str
) -> MovedRow | None:
    """The least that keeps the row whole that way; None where it cannot be done."""
    ground = _ground(sources, place, row)
    if ground is None:
        return None
    free = _free(sources, place, row, face, ground)
    x_min, y_min, x_max, y_max = bounds_of(region.outer for region in row)
    about = ((x_min + x_max) / 2.0, (y_min + y_max) / 2.0)
    found = (
        _shift(_solid(row), free, MOST_MOVED * min(x_max - x_min, y_max - y_min))
        if way == "moved"
        else _scale(_solid(row), free, about)
    )
    if found is None:
        return None
    scale, shift = found
    inside = tuple(_inside(region) for region in row)
    return MovedRow(sources[place].name, inside, about, scale, shift, ground)


def _ground(sources: Sequence[FilmSource], place: int, row: Regions) -> str | None:
    """The film that the row lies on, "" for bare ground; None where it lies on more than one."""
    around = shapely.difference(shapely.buffer(_stamps(row), 2.0 * ALONG_MM, quad_segs=2), _stamps(row))
    whole = shapely.area(around)
    shares = {
        source.name: float(shapely.area(shapely.intersection(_solid(source.patch), around)) / whole)
        for row_of, source in enumerate(sources)
        if row_of != place
    }
    shares[""] = 1.0 - sum(shares.values())
    largest = max(shares, key=lambda name: shares[name])
    return largest if shares[largest] > ONE_GROUND else None


def _free(sources: Sequence[FilmSource], place: int, row: Regions, face: Polygon, ground: str) -> Polygon:
    """Where the row may lie: on the face, clear of other pieces, and on its own ground."""
    stamps = _stamps(row)
    free: Polygon = shapely.buffer(face, -MARGIN_MM, join_style="mitre")
    for one, source in enumerate(sources):
        solid = shapely.difference(_solid(source.patch), stamps)
        if one == place:
            free = shapely.difference(free, shapely.buffer(solid, min(LEAST_GAP_MM, _gap(solid, stamps))))
        elif source.name != ground:
            free = shapely.difference(free, solid)
    if not ground:
        return free
    own = next(_solid(source.patch) for source in sources if source.name == ground)
    return shapely.intersection(free, shapely.buffer(shapely.union(own, stamps), FLATNESS_MM))


def _gap(others: Polygon, stamps: Polygon) -> float:
    gap = float(shapely.distance(others, stamps)) if not shapely.is_empty(others) else LEAST_GAP_MM
    return max(gap - MARGIN_MM, 0.0)


def _shift(row: Polygon, free: Polygon, most_mm: float) -> tuple[float, Point] | None:
    """The shortest way by which the row comes to lie in what is free: all its corners may go it at once."""
    corners = np.unique(shapely.get_coordinates(shapely.simplify(row, ROUGH_MM)), axis=0)
    ways: Polygon = shapely.box(-most_mm, -most_mm, most_mm, most_mm)
    near = shapely.box(*shapely.bounds(shapely.buffer(row, most_mm)).tolist())
    area = shapely.intersection(free, near)
    shapely.prepare(area)
    for x, y in _outermost_first(corners, area):
        around = shapely.clip_by_rect(area, x - most_mm, y - most_mm, x + most_mm, y + most_mm)
        ways = shapely.intersection(ways, shapely.affinity.translate(around, -x, -y))
        if shapely.is_empty(ways):
            return None
    x, y = shapely.get_coordinates(shapely.shortest_line(shapely.Point(0.0, 0.0), ways))[1].tolist()
    is_free = shapely.covers(shapely.buffer(free, MARGIN_MM / 2.0), shapely.affinity.translate(row, x, y))
    return (1.0, (float(x), float(y))) if is_free else None


def _outermost_first(corners: Floats, free: Polygon) -> list[list[float]]:
    """Corners that lie farthest outside first: they leave the fewest ways."""
    away = shapely.distance(shapely.points(corners), free)
    return [corners[one].tolist() for one in np.argsort(-away, kind="stable").tolist()]


def _scale(row: Polygon, free: Polygon, middle: Point) -> tuple[float, Point] | None:
    """The largest size at which the row lies in what is free, one side, corner or its middle kept in place.

    The shift takes a row that was scaled about its middle to there.
    """
    x_min, y_min, x_max, y_max = shapely.bounds(row).tolist()
    kept = [(x, y) for x in (middle[0], x_min, x_max) for y in (middle[1], y_min, y_max)]
    shapely.prepare(free)
    for scale in np.arange(1.0 - SCALE_STEP, SMALLEST, -SCALE_STEP).tolist():
        for x, y in kept:
            if shapely.covers(free, shapely.affinity.scale(row, scale, scale, origin=(x, y))):
                return round(scale, 4), ((x - middle[0]) * (1.0 - scale), (y - middle[1]) * (1.0 - scale))
    return None


def _with_row(
    sources: tuple[FilmSource, ...], place: int, row: Regions, made: MovedRow
) -> tuple[FilmSource, ...]:
    """The sources with the row, and all that lies within its glyphs, where it is to be."""
    stamps = tuple(Region(region.outer) for region in row)
    there = mapped(stamps, made.of)
    result = []
    for one, source in enumerate(sources):
        rest = source.patch if one != place else tuple(each for each in source.patch if each not in row)
        within = intersection(rest, stamps)
        left = union(rest, stamps) if source.name == made.ground else difference(rest, within)
        patch = (*difference(left, there), *mapped(within, made.of))
        result.append(replace(source, patch=(*patch, *(mapped(row, made.of) if one == place else ()))))
    return tuple(result)


def _stamps(row: Regions) -> Polygon:
    return _solid(tuple(Region(region.outer) for region in row))


def _solid(regions: Regions) -> Polygon:
    return to_solid(regions, FLATNESS_MM)


def _inside(region: Region) -> Point:
    at = shapely.point_on_surface(to_polygon((region,), FLATNESS_MM))
    return float(at.x), float(at.y)


def _clipped(
    source: FilmSource, row: Regions, face: Polygon, offers: dict[str, MovedRow | None], wish: str
) -> Finding:
    """A caution where the face takes most from the row, with what would keep it whole."""
    corners = shapely.get_coordinates(_solid(row))
    away = np.asarray(shapely.distance(shapely.points(corners), face))
    worst = int(away.argmax())
    text = (
        f"A row of {len(row)} glyphs of the film {source.name} reaches {away[worst]:.1f} mm beyond the face: "
        "as it is, the inset clips it."
    )
    if wish != "clipped":
        text += f" They could not be {wish}."
    x, y = corners[worst].tolist()
    return Finding(Level.CAUTION, "lettering-clipped", text, _remedy(offers), (float(x), float(y)))


def _remedy(offers: dict[str, MovedRow | None]) -> str:
    moved, scaled = offers["moved"], offers["scaled"]
    ways = []
    if moved is not None:
        ways.append(f"move the row as a whole, by {np.hypot(*moved.shift):.1f} mm")
    if scaled is not None:
        ways.append(f"make it {100.0 * scaled.scale:.0f} % of its size")
    if not ways:
        return "Make the inset smaller, or give the lettering more room in the picture."
    words = ", or ".join(ways)
    return f"{words[0].upper()}{words[1:]} (film.lettering)."


def _told(row: MovedRow) -> Finding:
    x, y = row.shift
    done = (
        f"is made {100.0 * row.scale:.0f} % of its size"
        if row.scale != 1.0
        else f"is moved by {x:.2f} mm to the right and {y:.2f} mm up"
    )
    text = f"A row of {len(row.glyphs)} glyphs of the film {row.film} {done}: the inset clips none of it."
    remedy = "Look at it beside the part; film.lettering says what becomes of such rows."
    return Finding(Level.NOTE, "lettering-whole", text, remedy, row.glyphs[0])
