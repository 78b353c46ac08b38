"""One size: the height that each drawing's bytes give, and the sheet box to be read in the cutter."""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from core.findings import Finding
from core.proof.claims import Claims, FilmClaim
from core.proof.layers import Contour, Layers
from core.proof.polygons import crossing_of
from core.proof.readback import HEIGHT_WITHIN, breach

#: mm; a level line is level when its ends agree this well.
LEVEL_WITHIN = 1e-6
#: mm; no more than this is clipped off the one corner of a sheet box.
CLIPPED = 5.0
#: mm; a side of the sheet box that is less off square than this is straight.
ROUNDED = 1e-4
#: Bare numbers to an inch that programs take a file for, and the mm by which the wrong size must show.
DENSITIES = (72.0, 90.0, 96.0)
MISREAD_BY = 0.5
CUT_LAYERS = ("part", "as-cut", "film-", "marks")


def part_height_error(layers: Layers, claims: Claims) -> float:
    """How far the outline's height and width and the height in the level lines are from the claim, mm.

    The worst of them counts. Where there is more to the part than the drawn shape, the outline has a size of
    its own, and the level lines have the shape's.
    """
    width, height = claims.part_mm or (claims.width_mm, claims.height_mm)
    area = layers.area("part")
    if area.is_empty:
        return claims.height_mm
    x_min, y_min, x_max, y_max = shapely.bounds(area).tolist()
    level = level_height_error(layers, claims)
    return float(max(abs(y_max - y_min - height), abs(x_max - x_min - width), level))


def level_height_error(layers: Layers, claims: Claims) -> float:
    """How far the two level lines of a drawing are from standing one height apart, mm."""
    levels = [y for y in map(_level_of, layers.of("notes")) if y is not None]
    if len(levels) < 2:
        return claims.height_mm
    return abs(max(levels) - min(levels) - claims.height_mm)


def _level_of(contour: Contour) -> float | None:
    y = contour.points[:, 1]
    is_level = not contour.is_closed and len(y) == 2 and abs(y[0] - y[1]) < LEVEL_WITHIN
    return float(y[0]) if is_level else None


def height_findings(path: str, error_mm: float) -> tuple[Finding, ...]:
    """A stop when the size in this file is not the one asked for."""
    if error_mm <= HEIGHT_WITHIN:
        return ()
    return (breach("size-differs", f"The shape in {path} is {error_mm:.4f} mm off the size claimed."),)


def box_findings(path: str, layers: Layers, film: FilmClaim) -> tuple[Finding, ...]:
    """A stop when the sheet box is not the number on the papers, or has lost its clipped corner."""
    box = layers.area("weeding")
    if box.is_empty:
        return (breach("sheet-box-missing", f"{path} has no sheet box."),)
    x_min, y_min, x_max, y_max = shapely.bounds(box)
    width, height = film.sheet_box_mm
    if max(abs(x_max - x_min - width), abs(y_max - y_min - height)) > HEIGHT_WITHIN:
        text = f"The sheet box in {path} is {x_max - x_min:.3f} x {y_max - y_min:.3f} mm, not as claimed."
        return (breach("sheet-box-differs", text),)
    if misread_gap((width, height)) <= MISREAD_BY:
        text = (
            f"The sheet box in {path} reads nearly the same in a program that takes it for another density."
        )
        return (breach("sheet-box-ambiguous", text),)
    off = shapely.difference(shapely.box(x_min, y_min, x_max, y_max), box)
    # A correction that was undone leaves a side a rounding off square: no more than that is no clip.
    return _corner_findings(path, shapely.buffer(off, -ROUNDED, join_style="mitre"))


def misread_gap(size_mm: tuple[float, float]) -> float:
    """The least mm by which a side is off when a file of one density is read at another."""
    return min(
        abs(side * is_read / is_meant - side)
        for side in size_mm
        for is_meant in DENSITIES
        for is_read in DENSITIES
        if is_read != is_meant
    )


def _corner_findings(path: str, clipped: BaseGeometry) -> tuple[Finding, ...]:
    """A stop unless just one corner of the sheet box is clipped, and no more than its corner."""
    if clipped.area < 1.0:
        return (breach("sheet-box-unclipped", f"The sheet box in {path} has no clipped corner."),)
    x_min, y_min, x_max, y_max = shapely.bounds(clipped)
    if max(x_max - x_min, y_max - y_min) <= CLIPPED + HEIGHT_WITHIN:
        return ()
    text = f"The sheet box in {path} is no rectangle with one corner clipped."
    return (breach("sheet-box-differs", text),)


def page_findings(path: str, layers: Layers, claims: Claims) -> tuple[Finding, ...]:
    """A stop when the page has another size than the file states, or cuts off some of sheet or shapes."""
    if layers.page is None:
        return ()
    box, (width, height) = layers.page.box, layers.page.stated_mm
    if box is None or width is None or height is None:
        return (breach("page-differs", f"{path} does not state the size of its page in mm."),)
    off = max(abs(box[2] - box[0] - width), abs(box[3] - box[1] - height))
    if off > HEIGHT_WITHIN:
        return (breach("page-differs", f"The page of {path} is {off:.3f} mm off the size it states."),)
    drawn = [contour.points for of in layers.contours.values() for contour in of]
    if claims.mirror_x is None:
        drawn.append(np.array([[0.0, 0.0], [claims.stock.width_mm, claims.stock.depth_mm]]))
        points = np.vstack(drawn)
        covers = layers.page.covers or box
        if (points < np.array(covers[:2]) - HEIGHT_WITHIN).any() or (
            points > np.array(covers[2:]) + HEIGHT_WITHIN
        ).any():
            return (
                breach("page-differs", f"The page of {path} cuts off some of the sheet or of the shapes."),
            )
    return ()


def crossing_findings(path: str, layers: Layers) -> tuple[Finding, ...]:
    """A stop for every cut layer with a contour that is open, or that crosses itself or another."""
    found: list[Finding] = []
    for name in layers.contours:
        if not name.startswith(CUT_LAYERS):
            continue
        if any(not contour.is_closed for contour in layers.of(name)):
            found.append(breach("contour-open", f"A contour of {name} in {path} is not closed."))
        where = crossing_of(layers.rings(name))
        if where is not None:
            found.append(breach("contour-crosses", f"Contours of {name} in {path} cross.", where))
    return tuple(found)
